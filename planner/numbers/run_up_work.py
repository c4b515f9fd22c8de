"""Run-up work: a still-wind start mark that moves for a reason, and what a session's readings say about it.

Centimetres. The start mark is measured from the take-off line to the toe of the front foot; a reading at the
board is + past the line, - short of it; at the coach's mark + means too close to the pit. A shift is + back, away
from the pit. Wind in metres per second, + from behind. Where nothing else is said: common practice, no source.
"""

from __future__ import annotations

import statistics
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from planner.domain.units import Level
from planner.numbers.errors import NoNumber
from planner.numbers.lines import metres, shoes_words
from planner.science.errors import within
from planner.science.run_up import (
    WindSlope,
    explained_by_wind_cm,
    half_step_cm,
    in_shoes,
    own_wind_slope,
    wind_shift_cm,
)

WIDE_CM = {"novice": 50, "developing": 30, "advanced": 30}  # between the longest and the shortest run
AGREE_CM = 10  # two sessions, or coach's mark and board, say the same within this
LEAST_RUNS = 3  # of a session that may say something about the mark
QUARTER_SHOE = Fraction(1, 4)  # a smaller shift is left alone


@dataclass(frozen=True)
class StillMark:
    """The start mark in still wind of one athlete, leg, number of steps and shoe, and since when it stands."""

    mark_cm: int
    steps: int
    shoe_cm: float
    day: date | None = None
    coach_cm: int | None = None  # the coach's mark, from the take-off line
    slope: WindSlope | None = None  # the athlete's own, once enough runs are logged

    def __post_init__(self) -> None:
        within(self.mark_cm, 300, 6000, "the start mark is", "cm", "it was given in metres.")
        within(self.steps, 2, 24, "the steps of the run-up are", "", "one foot was counted.")
        within(self.shoe_cm, 18, 36, "the shoe is", "cm", "its size was given.")

    @property
    def slope_cm(self) -> float | None:
        return None if self.slope is None else self.slope.cm_per_mps

    def today(self, wind_mps: float) -> int:
        """Where to start in a wind: the still-wind mark and the wind's shift, in whole centimetres."""
        return self.mark_cm + round(wind_shift_cm(self.mark_cm / 100, wind_mps, slope_cm=self.slope_cm))


@dataclass(frozen=True)
class Run:
    """One run-up: reading at the board, wind, start mark used (None: the still-wind mark), coach's reading."""

    board_cm: int
    wind_mps: float | None
    start_cm: int | None = None
    coach_cm: int | None = None

    def __post_init__(self) -> None:
        within(self.board_cm, -300, 300, "a reading at the board is", "cm", "it belongs to another run.")
        if self.wind_mps is not None:
            within(self.wind_mps, -10, 10, "the wind is", "m/s", "it is in km/h.")
        if self.coach_cm is not None:
            within(self.coach_cm, -300, 300, "a reading at the coach's mark is", "cm", "it is another run's.")


@dataclass(frozen=True)
class SessionReading:
    """What one session's runs say. `shift_cm` is what they would move the mark by, + back; 0 with `why`.

    `explained_cm` and `unexplained_cm` part the median: what the wind accounts for, and what it does not.
    """

    day: date
    runs: int
    median_cm: float
    spread_cm: float
    explained_cm: float
    unexplained_cm: float
    coach_cm: float | None
    missed: int  # runs more than half a step off, not counted in the figures
    wide: bool
    shift_cm: int
    why: str


def read_session(still: StillMark, day: date, runs: Sequence[Run], level: Level = "developing") -> SessionReading:
    """Median, spread, what the wind explains and what it does not, and what to do about it.

    Runs off by more than half a mean step are no readings of the mark: a step was miscounted, or stance or tape is
    wrong. NoNumber without runs or with a run whose wind was not noted.
    """
    if not runs:
        raise NoNumber("no run is given, needed one or more. Maybe write board and wind of each run.")
    if any(r.wind_mps is None for r in runs):
        raise NoNumber(
            "a run has no wind beside it, needed the wind in m/s for every run, 0 in still air. "
            "Maybe leave that run out."
        )
    half = half_step_cm(still.mark_cm / 100, still.steps)
    parts = [_parts(still, r) for r in runs]
    kept = [(r, *p) for r, p in zip(runs, parts, strict=True) if abs(p[1]) <= half]
    missed = len(runs) - len(kept)
    if not kept:
        middle = statistics.median(rest for _, rest in parts)
        why = f"every run is more than half a step ({round(half)} cm) off: {COUNT_STEPS}"
        return SessionReading(day, len(runs), statistics.median(r.board_cm for r in runs), 0, 0, middle, None,
                              missed, False, 0, why)  # fmt: skip
    rests = [rest for _, _, rest in kept]
    spread = max(rests) - min(rests)
    wide = spread > WIDE_CM[level]
    coach = [_coach(still, r, explained) for r, explained, _ in kept if r.coach_cm is not None]
    coach_middle = statistics.median(coach) if coach else None
    rest = statistics.median(rests)
    shift, why = _shift(rest, coach_middle, wide, len(kept), spread)
    if missed:
        why += f"; {missed} more than half a step ({round(half)} cm) off: {COUNT_STEPS}"
    return SessionReading(
        day, len(kept), statistics.median(r.board_cm for r, _, _ in kept), spread,
        statistics.median(e for _, e, _ in kept), rest, coach_middle, missed, wide, shift, why,
    )  # fmt: skip


COUNT_STEPS = "count the steps, check stance and tape, or change by two steps; no shoe lengths"


def _parts(still: StillMark, run: Run) -> tuple[float, float]:
    """A run as it would have been from the still-wind mark: explained by wind, and the rest."""
    moved = (run.start_cm or still.mark_cm) - still.mark_cm
    within(abs(moved), 0, 299, "the start mark used differs from the still-wind mark by", "cm",
           "it belongs to another run-up.")  # fmt: skip
    explained, _ = explained_by_wind_cm(
        still.mark_cm / 100, run.wind_mps or 0.0, run.board_cm, slope_cm=still.slope_cm
    )
    return explained, run.board_cm + moved - explained


def _coach(still: StillMark, run: Run, explained: float) -> float:
    """The coach's reading brought to the still-wind mark and still air: wind in proportion to the way run."""
    moved = (run.start_cm or still.mark_cm) - still.mark_cm
    share = 1 - (still.coach_cm or 0) / still.mark_cm
    return (run.coach_cm or 0) + moved - explained * share


def _shift(rest: float, coach: float | None, wide: bool, runs: int, spread: float) -> tuple[int, str]:
    if wide:
        return 0, f"spread of {round(spread)} cm: coach the rhythm, stance and first four steps; the mark stays"
    if runs < LEAST_RUNS:
        return 0, f"{runs} runs say too little, {LEAST_RUNS} are needed"
    if coach is None or abs(coach - rest) <= AGREE_CM:
        side = "long" if rest > 0 else "short"
        far = f"{side} by {abs(round(rest))} cm that" if round(rest) else "right at the board but for what"
        return round(rest), f"runs are {far} the wind {'does not explain' if round(rest) else 'explains'}"
    if abs(coach) <= AGREE_CM:
        cue = "past the board: reaching; cue 'quick last two'" if rest > 0 else (
            "short at the board: chopping; more speed, eyes up")  # fmt: skip
        return 0, f"right at the coach's mark, {cue}, the mark stays"
    if abs(rest) <= AGREE_CM:
        return round(coach / 2), "saved by steering, which costs speed: half of the error at the coach's mark"
    return 0, "coach's mark and board disagree: measure again, the mark stays"


@dataclass(frozen=True)
class Moved:
    """The still-wind mark after the sessions: `shift_cm` 0 when it stays; `why` in a sentence."""

    mark_cm: int
    shift_cm: int
    shoes: Fraction
    why: str


def move(still: StillMark, sessions: Sequence[SessionReading]) -> Moved:
    """Whether the still-wind mark moves: only by what two sessions running say alike, within 10 cm.

    Sessions in any order; those up to the day the mark was set do not count. A wide spread never moves it.
    """
    later = sorted((s for s in sessions if still.day is None or s.day > still.day), key=lambda s: s.day)
    if not later:
        return Moved(still.mark_cm, 0, Fraction(0), "no session since the mark was set")
    last = later[-1]
    if last.shift_cm == 0:
        return Moved(still.mark_cm, 0, Fraction(0), last.why)
    if abs(last.shift_cm) < QUARTER_SHOE * Fraction(still.shoe_cm):
        return Moved(still.mark_cm, 0, Fraction(0), "less than a quarter of a shoe: left alone")
    before = next((s for s in reversed(later[:-1]) if s.day < last.day), None)
    if before is None or before.shift_cm == 0 or before.wide:
        return Moved(still.mark_cm, 0, Fraction(0), f"{last.why}; a second session has to agree first")
    if abs(before.shift_cm - last.shift_cm) > AGREE_CM:
        return Moved(still.mark_cm, 0, Fraction(0),
                     f"the last two sessions say {_cm(before.shift_cm)} and {_cm(last.shift_cm)}: "
                     f"not within {AGREE_CM} cm, the mark stays")  # fmt: skip
    shift = round((before.shift_cm + last.shift_cm) / 2)
    shoes = in_shoes(shift, still.shoe_cm)
    way = "back" if shift > 0 else "forward"
    why = f"two sessions agree: {way} {abs(shift)} cm ({shoes_words(shoes)})"
    return Moved(still.mark_cm + shift, shift, shoes, why)


def _cm(shift: int) -> str:
    return f"{abs(shift)} cm {'back' if shift > 0 else 'forward'}"


def slope_of(still: StillMark, runs: Sequence[Run]) -> WindSlope | None:
    """The athlete's own wind slope from logged runs: eight or more, 2 m/s between the winds; else None."""
    pairs = []
    for run in runs:
        if run.wind_mps is None:
            continue
        moved = (run.start_cm or still.mark_cm) - still.mark_cm
        pairs.append((run.wind_mps, float(run.board_cm + moved)))
    return own_wind_slope(pairs) if pairs else None


def age_words(day: date | None, today: date) -> str:
    """'12 days old', 'set today', 'age not known'."""
    if day is None:
        return "age not known"
    days = (today - day).days
    if days < 0:
        raise NoNumber(f"a mark is dated {day}, after {today}; needed a day that has been. Maybe mind the year.")
    return "set today" if days == 0 else f"{days} {'day' if days == 1 else 'days'} old"


def mark_words(cm: int) -> str:
    """'33.20 m'."""
    return f"{metres(cm)} m"
