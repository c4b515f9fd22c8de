"""The rule book: this folder is the registry. A file that does not begin with '_' is a rule."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType, ModuleType

from planner.domain.finding import TIERS, Finding
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._rule import Rule


@dataclass(frozen=True)
class BookRule:
    """One rule file, loaded: its facts and its faces."""

    rule: Rule
    sentence: str  # the first line of the file's docstring, as a coach would say it
    module: ModuleType

    @property
    def id(self) -> str:
        return self.rule.id

    def constrain(self, board: Board, problem: Problem) -> None:
        """Say the rule to the solver."""
        self.module.constrain(board, problem)

    def check(self, view: PlanView, problem: Problem) -> list[Finding]:
        """Every finding of a finished plan that no exception of the coach switches off."""
        found: list[Finding] = self.module.check(view, problem)
        return [f for f in found if not problem.switched_off(self.id, f.athlete, f.day)]

    def explain(self, finding: Finding) -> str:
        """One sentence: place, fact, limit, remedy."""
        return str(self.module.explain(finding))

    def universe(self) -> Problem:
        """A tiny world in which this rule is both kept and broken."""
        made: Problem = self.module.universe()
        return made


@cache
def book() -> Mapping[str, BookRule]:
    """All rules by id, sorted by tier and then by name; refuses a file whose id is not its name."""
    found: list[BookRule] = []
    for info in pkgutil.iter_modules(__path__):
        if info.name.startswith("_"):
            continue
        module = importlib.import_module(f"{__name__}.{info.name}")
        rule: Rule = module.RULE
        if rule.id != info.name:
            raise ValueError(f"planner/rules/{info.name}.py: its id is '{rule.id}', needed '{info.name}'")
        sentence = (module.__doc__ or "").strip().splitlines()
        if not sentence:
            raise ValueError(f"planner/rules/{info.name}.py: needs a docstring, the rule in one sentence")
        found.append(BookRule(rule, sentence[0], module))
    found.sort(key=lambda r: (TIERS.index(r.rule.tier), r.id))
    return MappingProxyType({r.id: r for r in found})
