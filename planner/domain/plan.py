"""A plan is data: placements, and how sure we are of them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, datetime

from planner.domain.finding import Finding, Line, Tier
from planner.domain.units import Dose, Unit

PlacementKey = tuple[str, date, str, str, str]


@dataclass(frozen=True, eq=False)
class Placement:
    """One unit of one athlete in one slot at one amount.

    The same record serves as a *candidate* (may be placed) and as a part of a plan (is placed). Two
    placements are the same when athlete, day, slot, unit and amount word are. `begins` is when the
    place opens in that slot, `starts` when the slot's timetable lets the unit begin (None before there is a
    timetable). `key` sorts by athlete, then day, slot, unit, amount word.
    """

    athlete: str
    day: date
    slot: str
    unit: Unit
    dose: Dose
    begins: datetime
    place: str = ""
    venue: str = ""
    importance: str = "supporting"  # key, supporting, if there is time
    coach: str = ""
    partners: tuple[str, ...] = ()
    fixed: bool = False
    starts: datetime | None = None
    # worked out at once: asked for a million times while the rows of a squad's block are written
    key: PlacementKey = field(init=False, repr=False)
    _hash: int = field(init=False, repr=False)

    def __post_init__(self) -> None:
        key = (self.athlete, self.day, self.slot, self.unit.id, self.dose.word)
        object.__setattr__(self, "key", key)
        object.__setattr__(self, "_hash", hash(key))

    @property
    def name(self) -> str:
        """What is done, by the name of its full or lighter row."""
        return self.unit.called(self.dose.word)

    @property
    def short(self) -> str:
        """The same for narrow places."""
        return self.unit.called_short(self.dose.word)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Placement) and self.key == other.key

    def __hash__(self) -> int:
        return self._hash

    def __getstate__(self) -> dict[str, object]:
        """What crosses to another process: not the hash of words, which is another one there."""
        return {name: value for name, value in vars(self).items() if name != "_hash"}

    def __setstate__(self, state: dict[str, object]) -> None:
        vars(self).update(state, _hash=hash(state["key"]))

    def with_coach(self, coach: str, partners: tuple[str, ...]) -> Placement:
        """The same placement with who watches it and who trains along."""
        return replace(self, coach=coach, partners=partners)


@dataclass(frozen=True)
class TierStatus:
    """How sure we are of one tier: its value, and the certified least value any plan could have."""

    value: int
    bound: int | None = None

    @property
    def proved(self) -> bool:
        return self.bound is not None and self.value <= self.bound

    @property
    def gap(self) -> int | None:
        """By how many points at most the tier may still be improved; None when nothing is certified."""
        return None if self.bound is None else max(0, self.value - self.bound)


@dataclass(frozen=True)
class Plan:
    """All placements, in key order, with the status of the solve that made them."""

    placements: tuple[Placement, ...]
    status: Mapping[Tier, TierStatus] = field(default_factory=dict)
    random_seed: int = 0
    budget: str = "normal"
    stopped_early: bool = False

    @staticmethod
    def of(placements: Iterable[Placement]) -> Plan:
        return Plan(tuple(sorted(placements, key=lambda p: p.key)))

    @property
    def proved(self) -> bool:
        return bool(self.status) and all(s.proved for s in self.status.values())


@dataclass(frozen=True)
class Refusal:
    """A placement that is impossible from the start, and the line of the coach's file that made it so."""

    athlete: str
    unit: str
    day: date | None
    slot: str
    reason: str
    line: Line | None = None


@dataclass(frozen=True)
class Outcome:
    """What a reviewed plan amounts to: findings by the checks; score is tier -> rule -> amount x weight."""

    plan: Plan
    findings: tuple[Finding, ...]
    score: Mapping[Tier, Mapping[str, int]]
    not_judged: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()  # what could not be had, and because of what; in whole sentences

    @property
    def musts_broken(self) -> tuple[Finding, ...]:
        return tuple(f for f in self.findings if f.tier == "must")
