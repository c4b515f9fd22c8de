"""The shape of a rule: what every file of this folder must say."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from planner.domain.finding import Tier
from planner.domain.problem import Problem

Scope = Literal["athlete", "slot", "squad"]
Sureness = Literal["study", "consensus", "rule text", "common practice", "derived", "coach's decision"]


@dataclass(frozen=True)
class Parameter:
    """A number a coach may change: default, unit, and the range that makes sense."""

    default: int
    unit: str
    low: int
    high: int
    text: str = ""


@dataclass(frozen=True)
class Source:
    """Where a rule comes from, written out in full, and how sure we are."""

    sure: Sureness
    text: str


@dataclass(frozen=True)
class Reach:
    """Days back and forward that a finding on a day can depend on; 'week' rounds out to whole weeks."""

    back: int = 0
    forward: int = 0
    whole_weeks: bool = False


@dataclass(frozen=True)
class Example:
    """A week drawn by hand (see _tiny.draw) with the number of findings a person counted in it."""

    text: str  # 'flying-sprints | - | heavy-strength + extensive-tempo lighter | ...', one cell a day
    findings: int
    why: str
    world: Mapping[str, object] = field(default_factory=dict)  # arguments of _tiny.problem beyond the units
    tier: Tier | None = None  # of all its findings, where a rule's tier depends on the athlete


@dataclass(frozen=True)
class Rule:
    """Tier, weight (points per step, inside its tier), scope, reach, parameters, source and examples.

    `tier_for` may raise the tier for some athletes ('hard for novices, soft otherwise'). `needs` names
    plan columns without which the rule cannot be judged (a hand-written plan may lack coach or place).
    """

    id: str
    tier: Tier
    scope: Scope
    reach: Reach
    source: Source
    examples: tuple[Example, ...]
    parameters: Mapping[str, Parameter] = field(default_factory=dict)
    weight: int = 1
    tier_for: Callable[[Problem, str], Tier] | None = None
    stricter: str = ""  # why the solver's form is on purpose stricter than the rule (one-sided test)
    needs: tuple[str, ...] = ()

    def number(self, problem: Problem, name: str, athlete: str = "", day: date | None = None) -> int:
        """The parameter in force for an athlete on a day: the coach's own, else the default."""
        found = problem.settings_for(self.id, name, athlete, day)
        return int(found.value) if found is not None else self.parameters[name].default

    def tier_at(self, problem: Problem, athlete: str = "", day: date | None = None) -> Tier:
        """The tier in force for an athlete on a day: the coach's own, else the rule's."""
        found = problem.settings_for(self.id, "tier", athlete, day)
        if found is not None:
            return found.value  # type: ignore[return-value]  # intake admits the three tiers only
        return self.tier_for(problem, athlete) if self.tier_for and athlete else self.tier

    def weight_at(self, problem: Problem, athlete: str = "", day: date | None = None) -> int:
        found = problem.settings_for(self.id, "weight", athlete, day)
        return int(found.value) if found is not None else self.weight
