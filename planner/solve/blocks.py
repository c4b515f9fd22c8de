"""A model cut into blocks that share no column: a person's week each, or whatever candidates are named.

Rows that reach over several blocks (shared places, a coach's eyes, one week after another) belong to none:
they couple the blocks. Leave them out and every block can be solved alone; the sum of the blocks' bounds is
then true for the whole, and better when prices on the coupling rows tell the blocks of each other.
"""

from __future__ import annotations

from array import array
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from planner.solve.linear import LinearModel
from planner.solve.parts import Part

NOBODY, SEVERAL = -1, -2  # owner of a column that no block reaches, and of one that several do


@dataclass(frozen=True)
class Block:
    """Columns only this block moves, and the rows in which only such columns stand; both ascending."""

    columns: array[int]
    rows: array[int]


@dataclass(frozen=True)
class Blocks:
    """All blocks, the rows that couple them, and the columns that belong to no block."""

    blocks: tuple[Block, ...]
    coupling: array[int]
    loose: array[int] = field(default_factory=lambda: array("l"))


def cut(model: LinearModel, parts: Sequence[Part]) -> Blocks:
    """The blocks of these sets of candidates, which have no candidate in common and together hold all."""
    owner = _owners(model, parts)
    columns = [array("l") for _ in parts]
    rows = [array("l") for _ in parts]
    coupling, loose = array("l"), array("l")
    for c, block in enumerate(owner):
        (columns[block] if block >= 0 else loose).append(c)
    for r, row in enumerate(model.rows):
        block = _joint(owner, row.columns)
        (rows[block] if block >= 0 else coupling).append(r)
    return Blocks(tuple(Block(c, r) for c, r in zip(columns, rows, strict=True)), coupling, loose)


def _owners(model: LinearModel, parts: Sequence[Part]) -> list[int]:
    """Each column's block: that of all it is worked out from."""
    owner = [NOBODY] * len(model.low)
    for block, part in enumerate(parts):
        for c in part:
            owner[c] = block
    store = model.store
    for i, column in enumerate(store.columns):
        if column.terms:
            owner[i] = _joint(owner, (c for _, c in column.terms))
    for slack in model.slacks:
        owner[slack.column] = _joint(owner, (c for _, c in store.rows[slack.source].terms))
    for helper in model.helpers:
        owner[helper.column] = _joint(owner, (c for _, c in helper.terms))
    return owner


def _joint(owner: Sequence[int], columns: Iterable[int]) -> int:
    found = NOBODY
    for c in columns:
        block = owner[c]
        if block in (NOBODY, found):
            continue
        if found != NOBODY or block == SEVERAL:
            return SEVERAL
        found = block
    return found
