"""What can be trained: units, families, body regions, and the figures one unit stands for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

Region = Literal["hamstring", "calf-achilles", "knee", "low-back", "foot", "groin"]
Side = Literal["left", "right"]
Level = Literal["novice", "developing", "advanced"]
AmountWord = Literal["full", "lighter"]

REGIONS: tuple[Region, ...] = ("hamstring", "calf-achilles", "knee", "low-back", "foot", "groin")
SIDES: tuple[Side, ...] = ("left", "right")
LEVELS: tuple[Level, ...] = ("novice", "developing", "advanced")

FAMILIES: tuple[str, ...] = (
    "acceleration", "top-speed", "speed-endurance", "special-endurance", "tempo", "run-ups",
    "technical-jumps", "full-jumps", "low-multi-jumps", "high-multi-jumps", "hurdles", "throws",
    "strength", "general", "recovery", "test", "preparation",
)  # fmt: skip

COUNTERS: tuple[str, ...] = (
    "fast-metres",       # metres run at 95 % of own best or faster
    "quick-metres",      # metres run at 90-95 %, run-ups included
    "tempo-metres",      # metres at 60-88 %
    "short-jumps",       # jumps from a short or medium run-up
    "full-jumps",        # jumps from the full run-up
    "run-ups",           # full run-ups without a jump
    "low-contacts",      # ground contacts of low multi-jumps and drills
    "high-contacts",     # contacts of bounds, hops, depth jumps at effort, and phase drills
    "take-offs",         # take-offs at 90 % effort or more (split by leg in Dose.take_offs)
    "landings",          # hard landings (sand, or a jump's own phases)
    "heavy-sets",        # heavy lower-body working sets
    "throws", "barriers", "exchanges", "starts", "attempts-measured",
)  # fmt: skip


def counted(amount: object, measure: str) -> str:
    """An amount (a whole number, or one as a fact holds it) beside its measure: '3 sets', '1 set'."""
    return f"{amount} {measure.removesuffix('s') if amount == 1 else measure}"


def times(n: object) -> str:
    """'once', 'twice', '3 times'."""
    return "once" if n == 1 else "twice" if n == 2 else f"{n} times"


def how_often(what: str, n: object) -> str:
    """'no run-ups', 'run-ups once', 'run-ups 3 times'; days are counted: '3 training days'."""
    if not n:
        return f"no {what}"
    return counted(n, what) if what.endswith("days") else f"{what} {times(n)}"


@dataclass(frozen=True)
class AmountRange:
    """How much of a unit a level does in one session: whole numbers of `measure`, low to high."""

    low: int
    high: int
    note: str = ""  # for example '3 x 6-8 at 60-70 %'


@dataclass(frozen=True)
class Demand:
    """What a unit asks of a body: neural and metabolic 0-3, load per region 0-3, effort 0-10, minutes.

    `minutes` are minutes AFTER the warm-up (low, high); `effort` is session effort (low, high). `percent` is of
    own best speed or full effort, at which the work begins; 0 where nothing is fast.
    """

    neural: int
    metabolic: int
    loads: Mapping[Region, int]
    effort: tuple[int, int]
    minutes: tuple[int, int]
    percent: int = 0


@dataclass(frozen=True)
class Unit:
    """A catalogue entry: the thing that is placed in a slot.

    Hours to recover are start to start, `preferred`; the floor follows from it (72 h and more: 24 h
    less, else equal). `order` is the hard day-order class, small first. `takes_side` says which leg
    carries more ('take-off', 'other', 'trail', 'front', 'throwing', or '' when both carry the same); 'other' is
    a trial of the leg that is not the take-off leg.
    """

    id: str
    name: str
    family: str
    purpose: str
    demand: Demand
    lighter: Demand
    measure: str  # the unit of the amount: metres, jumps, contacts, sets, minutes ...
    increment: int  # amounts are whole multiples of this
    amounts: Mapping[Level, AmountRange]
    lighter_share: int  # percent of the full amount, used when lighter_amounts is empty
    lighter_text: str
    counters: Mapping[str, int]  # counter -> hundredths counted per one `measure` (100 = one each)
    place_kinds: tuple[str, ...]  # any one of these will do, best first
    eyes: int  # coach's eyes: 0 none, 1 nearby, 2 full attention
    hours_neural: int  # preferred hours before the next fast unit, or the same family at neural >= 2
    hours_region: int  # preferred hours before the next unit loading 3 on the same region and side
    order: int
    heavy_legs: bool = False
    takes_side: str = ""
    take_off_share: int = 0  # percent of take-offs on the take-off (hop) leg
    preparation: bool = False  # attached to sessions, never placed on its own
    prepares: tuple[tuple[str, int], ...] = ()  # (preparation unit, amount) that comes with this unit
    recovery_only: bool = False  # needs no warm-up
    stop_rule: str = ""
    recovery: str = ""
    target: str = ""
    shoes: str = ""
    limits_note: str = ""
    cautions: tuple[str, ...] = ()  # body regions in which a limit at stage 3 or below removes the unit
    least_age: int = 0
    least_training_years: int = 0
    pairs_after: tuple[str, ...] = ()  # good partners that come after this unit on the same day
    avoid_with: tuple[str, ...] = ()
    never_with: tuple[str, ...] = ()
    # (units or families, any one of those parted by '|' will do; exposures needed; days back)
    companions: tuple[tuple[str, int, int], ...] = ()
    harder_from: tuple[int, int] | None = None  # (amount above which, neural demand it then has)
    short: str = ""  # at most 16 characters, for the board; '' takes the name
    source: str = "common practice, no source"
    lighter_amounts: Mapping[Level, int] = field(default_factory=dict)  # a lighter row of fixed amount
    lighter_measure: str = ""  # '' the same measure as the full row
    lighter_counters: Mapping[str, int] | None = None  # hundredths per lighter measure; None: as counters
    lighter_name: str = ""  # where the lighter row is another exercise; '' the same name
    lighter_short: str = ""  # the same for the board
    least_stage: tuple[tuple[str, int], ...] = ()  # (region, stage): a limit below it removes the unit

    @property
    def is_trial(self) -> bool:
        """Jumps from the leg that is not the take-off leg: placed only where a person asks for it."""
        return self.takes_side == "other"

    def called(self, word: AmountWord) -> str:
        """What is done: 'High hurdle hops and depth jumps' or, as its lighter row, 'Low hurdle hops'."""
        return self.lighter_name or self.name if word == "lighter" else self.name

    def called_short(self, word: AmountWord) -> str:
        """The same in at most 16 characters where the catalogue has such a name."""
        return self.lighter_short or self.short or self.name if word == "lighter" else self.short or self.name

    def jumping_leg(self, take_off_leg: Side) -> Side:
        """The leg that takes off, of an athlete with this take-off leg."""
        if not self.is_trial:
            return take_off_leg
        return "right" if take_off_leg == "left" else "left"

    def lighter_amount(self, level: Level, full: int) -> int:
        """The lighter row's amount beside a full amount: whole increments, at least one, never above full.

        In a measure of its own (four build-ups in place of flying sprints) the fixed amount stands as it is.
        """
        fixed = self.lighter_amounts.get(level, 0)
        if fixed and self.lighter_measure:
            return fixed
        if fixed:
            return min(fixed, full)
        share = full * self.lighter_share // 100
        return min(full, max(self.increment, share - share % self.increment))

    def counted(self, word: AmountWord) -> Mapping[str, int]:
        """Hundredths counted per one measure, of the full or of the lighter row."""
        if word == "lighter" and self.lighter_counters is not None:
            return self.lighter_counters
        return self.counters

    def removed_by(self, region: str, stage: int, side: str = "both", take_off_leg: Side = "left") -> bool:
        """Whether a limit in a region and on a side at a return stage takes the unit out altogether.

        Of a trial of the other leg `least_stage` holds where the far leg is hurt, `cautions` elsewhere.
        """
        if self.is_trial and (side not in SIDES or side == self.jumping_leg(take_off_leg)):
            return region in self.cautions and stage <= 3
        for named, least in self.least_stage:
            if named == region:
                return stage < least
        return region in self.cautions and stage <= 3


@dataclass(frozen=True)
class Dose:
    """One unit at one amount for one athlete: every figure a rule may count, all whole numbers.

    `minutes` are after the warm-up; `preparation_minutes` belong to the attached drills. `load` is
    effort x minutes (the 25-minute warm-up is added once per session, by the session).
    `take_offs` (at 90 % effort or more), `drill_take_offs` and `loads` are per side.
    """

    word: AmountWord
    amount: int
    measure: str
    neural: int
    metabolic: int
    minutes: int
    effort: int
    loads: Mapping[tuple[Region, Side], int] = field(hash=False)
    counters: Mapping[str, int] = field(hash=False)
    take_offs: Mapping[Side, int] = field(hash=False)
    preparation: tuple[tuple[str, int, str], ...] = ()  # (preparation unit, amount, measure)
    preparation_minutes: int = 0
    note: str = ""  # such as '4 x 4-6 at 75-82 %'
    drill_take_offs: Mapping[Side, int] = field(default_factory=dict, hash=False)  # of the attached drills

    @property
    def load(self) -> int:
        """Session-effort load of this unit alone: effort (0-10) x minutes after warm-up."""
        return self.effort * self.minutes

    @cached_property
    def heavy(self) -> tuple[tuple[Region, Side], ...]:
        """Where the load is 3, the highest, in the order of words."""
        return tuple(sorted(key for key, load in self.loads.items() if load >= 3))
