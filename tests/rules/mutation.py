"""Break one rule file at a time and see whether its own examples and universe notice.

    python tests/rules/mutation.py [RULE ...] [--seconds N]

Each mutant changes one thing in one face of one rule: a comparison, a whole number, an 'and', a 'not'. It is
caught when an example is miscounted, the faces disagree on a plan of the universe, or it raises. What
survives is listed with its line; each survivor is killed by a better example or universe, or argued in the
contributors' guide. Not part of .ci/run: it takes minutes.
"""

from __future__ import annotations

import ast
import copy
import multiprocessing
import sys
import time
import types
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))
sys.path.insert(0, str(Path(__file__).parent))

from test_every_rule import example_world, plans, points

from planner.domain.view import PlanView
from planner.rules import BookRule, book
from planner.rules._tiny import draw
from planner.solve.rows import RowStore

SWAPS: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq, ast.NotEq: ast.Eq,
    ast.In: ast.NotIn, ast.NotIn: ast.In,
}  # fmt: skip
FACES = ("universe", "explain")  # functions that are not broken: the world and the words
MOST_PLANS = 4000  # of a universe, evenly spread, for one mutant


@dataclass(frozen=True)
class Mutant:
    line: int
    what: str
    tree: ast.Module


def mutants(source: str) -> Iterator[Mutant]:
    """Every file that differs from the rule's in one place of `constrain`, `check` or what they call."""
    tree = ast.parse(source)
    functions = [n for n in tree.body if isinstance(n, ast.FunctionDef) and n.name not in FACES]
    for number, function in enumerate(functions):
        for position, node in enumerate(ast.walk(function)):
            for what in _changes(node):
                changed = copy.deepcopy(tree)
                own = [n for n in changed.body if isinstance(n, ast.FunctionDef) and n.name not in FACES]
                target = list(ast.walk(own[number]))[position]
                _apply(target, what)
                ast.fix_missing_locations(changed)
                yield Mutant(getattr(node, "lineno", function.lineno), f"{function.name}: {what}", changed)


def _changes(node: ast.AST) -> list[str]:  # noqa: PLR0911  # one return a kind of change
    if isinstance(node, ast.Compare) and type(node.ops[0]) in SWAPS:
        return [f"{type(node.ops[0]).__name__} to {SWAPS[type(node.ops[0])].__name__}"]
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
            node.ops[0] = SWAPS[type(node.ops[0])]()
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


def caught(rule: BookRule) -> bool:
    """Do the rule's own examples or its universe notice?"""
    try:
        for example in rule.rule.examples:
            made = example_world(example.text, dict(example.world))
            found = rule.check(PlanView(draw(made, example.text), made), made)
            if sum(f.amount for f in found) != example.findings:
                return True
        made = rule.universe()
        store = RowStore(made)
        rule.constrain(store.board(rule.rule), made)
        every = plans(made)
        for plan in every[:: max(1, len(every) // MOST_PLANS)]:
            found = rule.check(PlanView(plan, made), made)
            result = store.evaluate(frozenset(plan))
            musts = any(f.tier == "must" for f in found)
            priced = {t: sum(r.values()) for t, r in result.price.items()}
            if bool(result.broken) != musts or priced != points(rule, made, found):
                return True
    except Exception:
        return True  # a mutant that raises is noticed
    return False


def examine(name: str, seconds: float) -> tuple[str, int, list[str], bool]:
    """Rule, mutants tried, survivors, and whether time ran out."""
    rule = book()[name]
    file = Path(str(rule.module.__file__))
    began, tried, survivors = time.monotonic(), 0, []
    for mutant in mutants(file.read_text(encoding="utf-8")):
        if time.monotonic() - began > seconds:
            return name, tried, survivors, True
        module = types.ModuleType(rule.module.__name__)
        module.__file__ = str(file)
        try:
            exec(compile(mutant.tree, str(file), "exec"), module.__dict__)
        except Exception:
            tried += 1
            continue
        tried += 1
        if not caught(BookRule(rule.rule, rule.sentence, module)):
            survivors.append(f"line {mutant.line}: {mutant.what}")
    return name, tried, survivors, False


def main() -> None:
    """Examine the rules named, or all of them, in two processes; list what survives."""
    words = [w for w in sys.argv[1:] if not w.startswith("--")]
    seconds = float(sys.argv[sys.argv.index("--seconds") + 1]) if "--seconds" in sys.argv else 60.0
    names = [w for w in words if w in book()] or list(book())
    total = alive = 0
    with multiprocessing.Pool(2) as pool:
        for name, tried, survivors, cut in pool.starmap(examine, [(n, seconds) for n in names], chunksize=1):
            total, alive = total + tried, alive + len(survivors)
            note = " (time ran out)" if cut else ""
            print(f"{name}: {tried} mutants, {len(survivors)} survive{note}")
            for text in survivors:
                print(f"    {text}")
    print(f"{total} mutants, {alive} survive")


if __name__ == "__main__":
    main()
