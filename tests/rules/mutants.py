"""A file of the rule book, broken in one place at a time: a comparison, number, 'and', sign or statement."""

from __future__ import annotations

import ast
import copy
from collections.abc import Iterator
from dataclasses import dataclass

SWAPS: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.In: ast.NotIn, ast.NotIn: ast.In,
}  # fmt: skip
FACES = frozenset({"constrain", "check"})


@dataclass(frozen=True)
class Mutant:
    """`where` names it without line number: 'function: change: the line, stripped', '#2' when it comes again."""

    where: str
    line: int
    faces: frozenset[str]  # those of the two that can be different
    tree: ast.Module


def mutants(source: str, shared: bool = False) -> Iterator[Mutant]:
    """Every file that differs from a rule's in one place of `constrain`, `check` or what they call.

    Of a file that several rules share, which has no faces of its own: in one place of any function or class.
    """
    tree, lines = ast.parse(source), source.splitlines()
    parts = [n for n in tree.body if isinstance(n, ast.FunctionDef | ast.ClassDef)]
    touched = {n.name: FACES for n in parts} if shared else _touched(tree)
    seen: dict[str, int] = {}
    for at, function in enumerate(tree.body):
        if not isinstance(function, ast.FunctionDef | ast.ClassDef) or function.name not in touched:
            continue
        for position, node in enumerate(ast.walk(function)):
            for what in _changes(node):
                line = getattr(node, "lineno", function.lineno)
                where = f"{function.name}: {what}: {lines[line - 1].strip()}"
                seen[where] = seen.get(where, 0) + 1
                counted = where if seen[where] == 1 else f"{where} #{seen[where]}"
                changed = copy.deepcopy(tree)
                _apply(list(ast.walk(changed.body[at]))[position], what)
                yield Mutant(counted, line, touched[function.name], ast.fix_missing_locations(changed))


def _touched(tree: ast.Module) -> dict[str, frozenset[str]]:
    """By function: the faces that run it. A tier worked out by the rule (`tier_for`) is read by both."""
    functions = {n.name: n for n in tree.body if isinstance(n, ast.FunctionDef)}
    calls = {name: _names(f) & set(functions) for name, f in functions.items()}
    keywords = [n for n in ast.walk(tree) if isinstance(n, ast.keyword)]
    tiers = {name for k in keywords if k.arg == "tier_for" for name in _names(k.value)}
    found: dict[str, set[str]] = {}
    for face in FACES:
        ahead = [face, *(tiers & set(functions))]
        while ahead:
            name = ahead.pop()
            if name in functions and face not in found.setdefault(name, set()):
                found[name].add(face)
                ahead += calls[name]
    return {name: frozenset(faces) for name, faces in found.items()}


def _names(node: ast.AST) -> set[str]:
    return {n.id for n in ast.walk(node) if isinstance(n, ast.Name)}


def _changes(node: ast.AST) -> list[str]:  # noqa: PLR0911  # one return a kind of change
    if isinstance(node, ast.Compare):  # of a chain, 'a < b < c', each comparison
        kinds = [(i, type(op)) for i, op in enumerate(node.ops) if type(op) in SWAPS]
        return [f"{'second ' * i}{kind.__name__} to {SWAPS[kind].__name__}" for i, kind in kinds]
    if isinstance(node, ast.Constant) and type(node.value) is int:
        return [f"{node.value} to {node.value + 1}"]
    match node:
        case ast.BoolOp():
            return ["and/or swapped"]
        case ast.UnaryOp(op=ast.Not()):
            return ["not dropped"]
        case ast.BinOp(op=ast.Add() | ast.Sub()):
            return ["plus/minus swapped"]
        case ast.Expr(value=ast.Call()):
            return ["statement dropped"]
        case _:
            return []


def _apply(node: ast.AST, what: str) -> None:
    match node:
        case ast.Compare():
            at = what.count("second ")
            node.ops[at] = SWAPS[type(node.ops[at])]()
        case ast.Constant():
            assert isinstance(node.value, int)
            node.value += 1
        case ast.BoolOp():
            node.op = ast.Or() if isinstance(node.op, ast.And) else ast.And()
        case ast.UnaryOp():
            node.op, node.operand = ast.Not(), ast.UnaryOp(ast.Not(), node.operand)
        case ast.BinOp():
            node.op = ast.Sub() if isinstance(node.op, ast.Add) else ast.Add()
        case ast.Expr():
            node.value = ast.Constant(value=None)
        case _:
            raise ValueError(f"no change '{what}' for {ast.dump(node)}")
