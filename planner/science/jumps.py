"""Long and triple jump: what a jump was worth, how its phases divide, and marks for a target.

Whole centimetres from the take-off line unless a name says otherwise. A *reading* at the board is where the
toe was: + past the line (a foul), - short of it.
"""

from __future__ import annotations

import statistics
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from planner.science.errors import OutOfReach, within

LONGEST_CM = 2200  # centimetres; nobody has jumped farther in three phases
Style = Literal["hop-dominated", "jump-dominated", "balanced"]

# Shares of hop, step and jump in percent. Common practice, no source; every athlete has own ones.
EVEN_PATTERN = (35, 30, 35)
HOP_LED = (37, 30, 33)
JUMP_LED = (33, 29, 38)
NOVICE_PATTERN = (34, 31, 35)
SHARE_BAND = 2  # percent points either way; common practice, no source
LEAST_NOVICE_STEP = 28  # percent of the jump; common practice, no source
STEP_TO_HOP = (82, 90)  # percent, step against hop; common practice, no source

BOARDS_CM = (600, 700, 800, 900, 1100, 1300)  # centimetres from the pit, as commonly found; no source

# Bridgett LA, Galloway M, Linthorne NP 2002, The effect of run-up speed on long jump performance, Proceedings
# of the 20th International Symposium on Biomechanics in Sports, Caceres.
WITHIN_ATHLETE_CM = 8  # centimetres for 0.1 m/s, one athlete running faster
ACROSS_ATHLETES_CM = 13  # centimetres for 0.1 m/s, one athlete against another; no forecast for anybody


def recorded_cm(millimetres: int) -> int:
    """What is written for a measured jump: the whole centimetre below. Rule 184 of the former rule book."""
    within(millimetres, 0, LONGEST_CM * 10, "the distance is", "mm", "centimetres were given.")
    return millimetres // 10


def effective_cm(measured: int, gap: int) -> int:
    """Distance from toe to landing: measured + what was lost before the line. Source: definition.

    `gap` is centimetres between toe and line, 0 or more: a foul has no measured distance.
    """
    within(measured, 50, LONGEST_CM, "the measured distance is", "cm", "it was given in metres.")
    within(gap, 0, 200, "the gap before the line is", "cm", "it was a foul; a foul has no measured distance.")
    return measured + gap


def gain_from_speed_cm(tenths_mps: float) -> float:
    """Centimetres that one athlete gains in the long jump from a faster run-up: 8 cm for each 0.1 m/s.

    Bridgett and others 2002. The 13 cm between athletes is no forecast for one. Within 1 m/s either way.
    """
    within(tenths_mps, -10, 10, "the change of run-up speed is", "tenths of a metre per second")
    return WITHIN_ATHLETE_CM * tenths_mps


@dataclass(frozen=True)
class Phases:
    """Hop, step and jump of one triple jump, in centimetres, toe to toe. OutOfReach for an impossible one."""

    hop: int
    step: int
    jump: int

    def __post_init__(self) -> None:
        for name in ("hop", "step", "jump"):
            within(getattr(self, name), 30, 1000, f"the {name} is", "cm", "it was given in metres.")

    @property
    def total(self) -> int:
        """The sum of the three, in centimetres."""
        return self.hop + self.step + self.jump

    @property
    def shares(self) -> tuple[Fraction, Fraction, Fraction]:
        """Hop, step and jump in percent of their sum, unrounded: rounded ones may come to 99 or 101."""
        return (
            Fraction(100 * self.hop, self.total),
            Fraction(100 * self.step, self.total),
            Fraction(100 * self.jump, self.total),
        )

    @property
    def step_to_hop(self) -> Fraction:
        """The step in percent of the hop."""
        return Fraction(100 * self.step, self.hop)


def style_of(hop: float | Fraction, step: float | Fraction, jump: float | Fraction) -> Style:
    """Which phase leads, from unrounded shares in percent: at least two points more than the next largest.

    Source: Hay JG 1992, The biomechanics of the triple jump: a review, Journal of Sports Sciences
    10(4):343-378 (definition from memory). Shares may miss 100 by one point each way (published ones are
    rounded); OutOfReach beyond.
    """
    for name, share in (("hop", hop), ("step", step), ("jump", jump)):
        within(float(share), 10, 60, f"the share of the {name} is", "%", "it was given in centimetres.")
    within(float(hop + step + jump), 99, 101, "the three shares come to", "%", "one was misread.")
    if hop - max(step, jump) >= 2:
        return "hop-dominated"
    if jump - max(hop, step) >= 2:
        return "jump-dominated"
    return "balanced"


def style(phases: Phases) -> Style:
    """Which phase leads in a measured jump."""
    return style_of(*phases.shares)


def check_total(phases: Phases, total: int, *, within_cm: int = 10) -> None:
    """OutOfReach unless the phases add up to the effective distance, within two readings of 5 cm."""
    within(total, 90, LONGEST_CM, "the distance is", "cm", "it was given in metres.")
    if abs(phases.total - total) > within_cm:
        raise OutOfReach(
            f"hop {phases.hop}, step {phases.step} and jump {phases.jump} cm come to {phases.total} cm, "
            f"needed the effective distance of {total} cm within {within_cm} cm. "
            "Maybe the gap before the line was left out."
        )


def phases_of(total: int, shares: Sequence[float | Fraction] = EVEN_PATTERN) -> Phases:
    """Hop, step and jump for a target distance in cm, from shares in percent; the jump takes the rounding."""
    within(total, 300, LONGEST_CM, "the target is", "cm", "it was given in metres.")
    if len(shares) != 3:
        raise OutOfReach(f"there are {len(shares)} shares, needed three: hop, step, jump.")
    style_of(*shares)  # refuses what cannot be shares
    whole = sum(Fraction(share) for share in shares)
    hop = round(Fraction(shares[0]) * total / whole)
    step = round((Fraction(shares[0]) + Fraction(shares[1])) * total / whole) - hop
    return Phases(hop, step, total - hop - step)


def marks_for(total: int, shares: Sequence[float | Fraction] = EVEN_PATTERN) -> tuple[int, int]:
    """Where hop and step land for a target, in centimetres from the take-off line."""
    phases = phases_of(total, shares)
    return phases.hop, phases.hop + phases.step


@dataclass(frozen=True)
class DistanceRange:
    """Lowest and highest distance, in centimetres. Never one figure, never stored as a mark."""

    low: int
    high: int


def total_from_two_phases(hop_and_step: int, jump_shares: Sequence[float | Fraction]) -> DistanceRange:
    """What hop + step would come to with the third phase, as a range over jump shares in percent.

    Use the athlete's own shares. hop + step / (1 - share): 9.80 m come to 14.00 m at 30 % and 15.08 m at 35
    %. Derived. OutOfReach without at least two shares, or outside 20 to 50 %.
    """
    within(hop_and_step, 100, 1500, "the two phases are", "cm", "they were given in metres.")
    if len(jump_shares) < 2:
        raise OutOfReach(
            f"there are {len(jump_shares)} jump shares, needed two or more for a range. "
            "Maybe measure whole jumps first."
        )
    for share in jump_shares:
        within(float(share), 20, 50, "the share of the jump is", "%", "a share was meant: times 100.")
    found = [round(Fraction(hop_and_step) * 100 / (100 - Fraction(share))) for share in jump_shares]
    return DistanceRange(min(found), max(found))


def board_range_cm(poor_day: int) -> DistanceRange:
    """How far from the pit the triple-jump board may lie: 0.65 x D + 50 cm to D - 150 cm; derived.

    D is the *poor-day* distance from this run-up: the step must land on the runway and the jump well inside
    the sand. OutOfReach below 5.72 m, where no board fits.
    """
    within(poor_day, 572, LONGEST_CM, "the poor-day distance is", "cm", "use a tape as the board.")
    return DistanceRange(-(-(65 * poor_day + 5000) // 100), poor_day - 150)


def boards_for(poor_day: int, boards: Sequence[int] = BOARDS_CM) -> tuple[int, ...]:
    """The boards (cm from the pit) that a jumper may use; none is an answer too: then a tape is the board."""
    allowed = board_range_cm(poor_day)
    return tuple(board for board in sorted(set(boards)) if allowed.low <= board <= allowed.high)


# Level -> (percent of take-offs, centimetres behind the line they lie within, most fouls in percent).
ACCURACY_AIMS = {"novice": (50, 20, 35), "developing": (60, 15, 30), "advanced": (70, 10, 25)}  # no source


@dataclass(frozen=True)
class Accuracy:
    """Take-offs of a session: how many, fouls, median reading (+ past the line) and the middle half, cm."""

    count: int
    fouls: int
    median: float
    middle_half: float
    close: int  # how many lay within `close_cm` behind the line

    @property
    def foul_percent(self) -> Fraction:
        """Fouls in percent of the take-offs."""
        return Fraction(100 * self.fouls, self.count)


def accuracy(readings: Sequence[int], *, close_cm: int = 10) -> Accuracy:
    """Where the toe was, over some take-offs: readings in cm, + past the line, - short of it.

    The middle half is the distance between the quartiles.
    OutOfReach with fewer than two readings or one beyond 3 m.
    """
    if len(readings) < 2:
        raise OutOfReach(f"there are {len(readings)} readings at the board, needed two or more.")
    for reading in readings:
        within(reading, -300, 300, "a reading at the board is", "cm", "it belongs to another run.")
    low, _, high = statistics.quantiles(readings, n=4, method="inclusive")
    return Accuracy(
        count=len(readings),
        fouls=sum(reading > 0 for reading in readings),
        median=statistics.median(readings),
        middle_half=high - low,
        close=sum(-close_cm <= reading <= 0 for reading in readings),
    )
