"""What was recorded at the pit since the block file was written: it makes the cards richer, they work without."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from planner.domain.block import Block
from planner.domain.errors import Told
from planner.domain.facts import Fact, Result
from planner.domain.own_shoes import own_shoes
from planner.domain.shoe import Shoe, worn
from planner.domain.units import SIDES, Side
from planner.numbers.attempts import Attempt, Medians, cue_for
from planner.numbers.lines import metres
from planner.numbers.recorded import attempts_of, mark_history, short_says
from planner.numbers.run_up_card import Logged
from planner.science.short_run_up import Jump
from planner.sheets import words

RunUpKey = tuple[str, str, int, Side, Shoe]  # athlete, event, steps, take-off leg, shoe
JumpKey = tuple[str, str, int, Side]  # the same without the shoe: what a short jump says of the full one
TRIPLE = "triple jump"
JUMPS: tuple[Jump, ...] = ("long jump", "triple jump")
NO_CUE = "attempts were bailed out of last time: agree on one cue before the first jump"


@dataclass(frozen=True)
class Recorded:
    """`logged` is the mark in force and the sessions read of a run-up.

    `attempts` are an athlete's measured triple jumps, oldest first; `cues` what is said next time, in words.
    `short` is what the last jump from a short run-up says of the full one.
    """

    logged: Mapping[RunUpKey, Logged] = field(default_factory=dict)
    attempts: Mapping[str, Sequence[Attempt]] = field(default_factory=dict)
    cues: Mapping[str, str] = field(default_factory=dict)
    short: Mapping[JumpKey, str] = field(default_factory=dict)


NOTHING = Recorded()


def recorded_from(block: Block, facts: Sequence[Fact]) -> Recorded:
    """From the block as the facts have left it and the facts in force, oldest first.

    What contradicts itself is left out: it was complained of when it was recorded.
    """
    logged: dict[RunUpKey, Logged] = {}
    for athlete in block.athletes:
        shoes = own_shoes(athlete.name, block.run_ups)
        for row in block.run_ups:
            if row.athlete != athlete.name or not row.start_mark:
                continue
            leg, shoe = row.leg or athlete.take_off_leg, worn(row.worn, shoes)
            key = (athlete.name, row.event, row.steps, leg, shoe)
            if key in logged:
                continue
            try:
                found = mark_history(block, facts, athlete, row.event, row.steps, leg, shoe=shoe).logged
            except Told:
                continue
            if found.sessions:
                logged[key] = found
    attempts: dict[str, list[Attempt]] = {}
    cues: dict[str, str] = {}
    for fact in facts:
        if isinstance(fact, Result) and fact.event == TRIPLE:
            try:
                jumped = attempts_of(fact)
            except Told:
                continue
            attempts.setdefault(fact.athlete, []).extend(jumped)
            cues[fact.athlete] = _cue(fact, jumped)
    said = {name: cue for name, cue in cues.items() if cue}
    return Recorded(logged, attempts, said, _short(block, facts))


def _short(block: Block, facts: Sequence[Fact]) -> dict[JumpKey, str]:
    told = {f.athlete for f in facts if isinstance(f, Result) and f.steps}
    return {
        (a.name, event, steps, leg): words.sentence(said)
        for a in block.athletes if a.name in told
        for event in JUMPS for leg in SIDES
        for steps, said in short_says(block, facts, a, event, leg).items()
    }  # fmt: skip


def _cue(fact: Result, jumped: Sequence[Attempt]) -> str:
    """The cue for the next page after two or more bailed attempts, with medians before and after; else ''."""
    given = None if not fact.cue else min(fact.cue_after or 0, len(jumped))
    cue = cue_for(jumped, given)
    if not cue.on_next_page:
        return ""
    if not fact.cue:
        return f"{sum(a.bailed for a in jumped)} {NO_CUE}"
    said = words.clean(fact.cue).rstrip(".")
    if cue.before and cue.after:
        parts = [
            f"{name} {_medians(m)}" for name, m in (("before", cue.before), ("after", cue.after)) if _medians(m)
        ]
        said += f" ({'; '.join(parts)})" if parts else ""
    return said


def _medians(found: Medians) -> str:
    """'hop 5.40, step 4.20' as far as measured."""
    said = [(n, v) for n, v in (("hop", found.hop), ("step", found.step), ("jump", found.jump)) if v is not None]
    return ", ".join(f"{name} {metres(round(value))}" for name, value in said)
