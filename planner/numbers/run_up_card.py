"""What the run-up card carries: still-wind and today's mark, wind table, short run-ups, last readings, ages."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from planner.domain.block import Athlete, RunUp
from planner.domain.own_shoes import own_shoes
from planner.domain.shoe import NO_SHOE, UNNAMED, Shoe
from planner.domain.units import Side
from planner.numbers.jumps import SHORT_RUN_UPS, in_whole_shoes, own_run_up, step_class
from planner.numbers.run_up_work import SessionReading, StillMark, age_words
from planner.science.errors import OutOfReach
from planner.science.run_up import (
    WindRow,
    coach_mark,
    counted_by_one_foot,
    first_check_steps,
    front_foot,
    own_steps,
    start_mark_m,
    wind_table,
)

USUAL_SHOE_CM = 27.9  # a European size 40, while none is measured
LAST = 3  # readings on the card


@dataclass(frozen=True)
class ShortMark:
    """A start mark of a shorter run-up: measured, or an estimate from the full one."""

    steps: int
    mark_cm: int
    measured: bool
    age: str
    shoe: str = ""  # what the shoe is called, where it is another one than the card's


@dataclass(frozen=True)
class Logged:
    """What is recorded of a run-up: the mark in force (None: the file's) and the sessions read."""

    still: StillMark | None = None
    sessions: tuple[SessionReading, ...] = ()


@dataclass(frozen=True)
class RunUpCard:
    """One athlete, event, leg, number of steps and shoe. `estimate` says that nothing was measured yet."""

    athlete: str
    event: str
    leg: Side
    shoe: Shoe
    front: Side
    counted: int  # by the take-off foot
    still: StillMark
    estimate: str
    age: str
    check_steps: int
    check_cm: int
    check_measured: bool
    coach_cm: int
    coach_measured: bool
    beside_age: str  # how old the measured check and coach's marks are; '' where neither is
    table: tuple[WindRow, ...]
    shorts: tuple[ShortMark, ...]
    last: tuple[SessionReading, ...]
    slope: str


def run_up_card(  # noqa: PLR0913  # the key of a card, the day, and what is known of it
    athlete: Athlete,
    run_ups: Sequence[RunUp],
    event: str,
    steps: int,
    today: date,
    logged: Logged | None = None,
    *,
    shoe: Shoe | None = None,
) -> RunUpCard:
    """The card of one run-up in one shoe; `logged` is what was recorded since the file's row was written.

    `shoe` None: the one of the first row that stands for this run-up, or the athlete's first.

    Without a measured mark everything is a first estimate, and says so. NoNumber for two contradicting marks.
    """
    shoes = own_shoes(athlete.name, run_ups)
    mine = in_whole_shoes((r for r in run_ups if r.athlete == athlete.name), shoes)
    still, sessions = (logged.still, logged.sessions) if logged else (None, ())
    leg: Side = athlete.take_off_leg
    shoe = shoe or shoe_for(mine, event, steps, leg)
    own = own_run_up(mine, event, steps, leg, shoe)
    name, model = step_class(athlete, athlete.age_on(today))
    estimate = ""
    if still is None and own is not None and own.start_mark:
        still = StillMark(own.start_mark, steps, cm_of_shoe(shoe), own.day, own.coach_mark)
    elif still is None:
        still = StillMark(round(start_mark_m(steps, model) * 100), steps, cm_of_shoe(shoe))
        estimate = f"first estimate for '{name}'; replace it after the first measured runs"
    try:
        lengths = own_steps(steps, still.mark_cm / 100, model)
    except OutOfReach:
        lengths = model  # a mark so unusual that the class's rhythm cannot carry it: the class as it is
    check = own.check_steps if own and own.check_steps else first_check_steps(steps)[-1 if steps > 8 else 0]
    check_cm = own.check_mark if own and own.check_mark else round(lengths.distance_m(check) * 100)
    from_board = 4 if steps > 5 else 2
    coach_cm = still.coach_cm or round(coach_mark(steps, from_board, lengths).from_line_m * 100)
    return RunUpCard(
        athlete=athlete.name,
        event=event,
        leg=leg,
        shoe=shoe,
        front=front_foot(steps, leg),
        counted=counted_by_one_foot(steps),
        still=still,
        estimate=estimate,
        age=age_words(still.day, today),
        check_steps=check,
        check_cm=check_cm,
        check_measured=bool(own and own.check_mark),
        coach_cm=coach_cm,
        coach_measured=still.coach_cm is not None,
        beside_age=age_words(own.day, today) if own and (own.check_mark or own.coach_mark) else "",
        table=wind_table(still.mark_cm / 100, still.shoe_cm, slope_cm=still.slope_cm),
        shorts=_shorts(
            mine, event, steps, leg, shoe=shoe, today=today,
            lengths_of=lambda k: round(lengths.distance_m(k) * 100),
        ),
        last=tuple(sorted(sessions, key=lambda s: s.day)[-LAST:]),
        slope=_slope(still),
    )


def _slope(still: StillMark) -> str:
    if still.slope is None:
        per = Fraction(still.mark_cm, 400)
        return f"{float(per):.0f} cm for 1 m/s, 0.25 % of the run-up: usual, not the athlete's own"
    found = still.slope
    return f"{found.cm_per_mps:.0f} cm for 1 m/s, own, from {found.runs} runs, give or take {found.error_cm:.0f}"


def cm_of_shoe(shoe: Shoe) -> float:
    """Its length in centimetres, a usual one while it was not measured."""
    return shoe.length / 10 if shoe.length else USUAL_SHOE_CM


def shoe_for(mine: Sequence[RunUp], event: str, steps: int, leg: Side) -> Shoe:
    """The shoe of a run-up nobody chose one for: of its first row, else of the athlete's first."""
    rows = [r for r in mine if (r.event, r.steps) == (event, steps) and r.leg in (None, leg) and r.start_mark]
    return next((r.worn for r in (*rows, *mine)), NO_SHOE)


def _shorts(  # noqa: PLR0913  # the key of a card, and what short run-ups are made from
    mine: tuple[RunUp, ...],
    event: str,
    steps: int,
    leg: Side,
    *,
    shoe: Shoe,
    today: date,
    lengths_of: Callable[[int], int],
) -> tuple[ShortMark, ...]:
    """Measured in the card's shoe, else in another one, which is named; else an estimate."""
    found = []
    odd = steps % 2
    for short in SHORT_RUN_UPS:
        count = short - odd
        if count >= steps:
            break
        own = own_run_up(mine, event, count, leg, shoe) or own_run_up(mine, event, count, leg)
        if own is not None and own.start_mark:
            other = "" if own.worn == shoe else own.worn.label or UNNAMED
            found.append(ShortMark(count, own.start_mark, True, age_words(own.day, today), other))
        else:
            found.append(ShortMark(count, lengths_of(count), False, "estimate"))
    return tuple(found)
