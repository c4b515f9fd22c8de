"""Answers at the pit: start marks and readings, phases and marks, short run-ups."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from fractions import Fraction

from planner.domain.shoe import NO_SHOE, Shoe
from planner.domain.units import Level
from planner.numbers.answer import Answer
from planner.numbers.attempts import PhaseMarks
from planner.numbers.evidence import ShortEvidence
from planner.numbers.lines import metres, shoes_words
from planner.numbers.run_up_card import RunUpCard, cm_of_shoe
from planner.numbers.run_up_work import Run, SessionReading, StillMark, read_session
from planner.science.jumps import boards_for, marks_for, phases_of, style_of, total_from_two_phases
from planner.science.run_up import WindRow, wind_table

RUN_UP_FORMULA = (
    "start mark = still-wind mark + shift; the wind shifts 0.25 % of the run-up for each 1 m/s (back with a tail "
    "wind) until eight own runs say otherwise"
)
RUN_UP_SOURCE = (
    "derived from Linthorne 1994, Journal of Applied Biomechanics 10(2):110-131; thresholds common "
    "practice, no source"
)
RUN_UP_DOUBT = (
    "a believable shift lies between 6 and 18 cm for 1 m/s; the wind is what was read at that run, not a forecast"
)


def _way(cm: int) -> str:
    if cm == 0:
        return "as in still wind"
    return f"{abs(cm)} cm {'back' if cm > 0 else 'forward'}"


def _table(still: StillMark, rows: Sequence[WindRow]) -> list[tuple[str, str]]:
    return [
        (f"wind {r.wind_mps:+d} m/s" if r.wind_mps else "still air",
         f"{metres(still.mark_cm + r.shift_cm)} m, {_way(r.shift_cm)}"
         + (f" ({shoes_words(r.shoes)})" if r.shoes else ""))
        for r in rows
    ]  # fmt: skip


def start_mark(still: StillMark, shoe: Shoe = NO_SHOE, wind_mps: float | None = None) -> Answer:
    """Today's mark and the table from -4 to +4 m/s."""
    rows = [("still-wind mark", f"{metres(still.mark_cm)} m, {still.steps} steps"), ("shoe", _shoe_words(shoe))]
    if wind_mps is not None:
        rows.append((f"today, {wind_mps:+.1f} m/s", f"{metres(still.today(wind_mps))} m"))
    table = wind_table(still.mark_cm / 100, still.shoe_cm, slope_cm=still.slope_cm)
    rows += _table(still, table)
    data: dict[str, object] = {
        "still_cm": still.mark_cm, "shoe": _shoe_data(shoe),
        "table": [[r.wind_mps, r.shift_cm, float(r.shoes)] for r in table],
    }  # fmt: skip
    if wind_mps is not None:
        data["today_cm"] = still.today(wind_mps)
    return Answer("Run-up", tuple(rows), RUN_UP_FORMULA, RUN_UP_SOURCE, RUN_UP_DOUBT, data)


def _shoe_words(shoe: Shoe) -> str:
    """'spikes, 26.2 cm', 'not named, 27.9 cm: usual, not measured'."""
    length = f"{cm_of_shoe(shoe):.1f} cm" + ("" if shoe.length else ": usual, not measured")
    return f"{shoe.name or 'not named'}, {length}"


def _shoe_data(shoe: Shoe) -> dict[str, object]:
    """Name ('' while it has none) and length in centimetres (None: not measured)."""
    return {"name": shoe.name, "length_cm": shoe.length / 10 if shoe.length else None}


def readings(
    still: StillMark, shoe: Shoe, day: date, runs: Sequence[Run], level: Level = "developing"
) -> Answer:
    """One session's readings in a shoe: what the wind explains, what it does not, and what follows."""
    found = read_session(still, day, runs, level)
    return Answer(
        "Run-up, readings of one session", (("shoe", _shoe_words(shoe)), *_reading_rows(found)),
        RUN_UP_FORMULA, RUN_UP_SOURCE,
        f"{RUN_UP_DOUBT}; the still-wind mark moves only when a second session in the same shoe agrees within "
        "10 cm",
        {"shoe": _shoe_data(shoe), "median_cm": found.median_cm, "spread_cm": found.spread_cm,
         "explained_cm": found.explained_cm, "unexplained_cm": found.unexplained_cm,
         "missed": found.missed, "wide": found.wide, "shift_cm": found.shift_cm},
    )  # fmt: skip


def _signed(cm: float) -> str:
    if round(cm) == 0:
        return "0 cm"
    return f"{abs(round(cm))} cm {'past the line' if cm > 0 else 'short of it'}"


def _reading_rows(found: SessionReading) -> list[tuple[str, str]]:
    rows = [
        ("runs", str(found.runs)), ("median at the board", _signed(found.median_cm)),
        ("wind explains", _signed(found.explained_cm)), ("wind does not", _signed(found.unexplained_cm)),
        ("spread without wind", f"{round(found.spread_cm)} cm{', wide' if found.wide else ''}"),
    ]  # fmt: skip
    if found.coach_cm is not None:
        rows.append(("at the coach's mark", _signed(found.coach_cm).replace("past the line", "too close")))
    rows.append(("what follows", found.why))
    return rows


def card(found: RunUpCard) -> Answer:
    """A run-up card, read aloud."""
    still = found.still
    known = "measured" if found.check_measured else "estimate"
    coach = "measured" if found.coach_measured else "estimate"
    rows = [
        ("athlete", f"{found.athlete}, {found.event}, takes off {found.leg}"),
        ("steps", f"{still.steps}, {found.front} foot in front, {found.counted} {found.leg}s"),
        ("shoe", _shoe_words(found.shoe)),
        ("still-wind mark", f"{metres(still.mark_cm)} m, {found.estimate or found.age}"),
        ("check mark", f"{metres(found.check_cm)} m from the start at step {found.check_steps}, {known}"),
        ("coach's mark", f"{metres(found.coach_cm)} m from the board, {coach}"),
        ("wind", found.slope),
        *_table(still, found.table),
    ]
    rows += [
        (f"{s.steps} steps", f"{metres(s.mark_cm)} m, {s.age}" + (f", {s.shoe}" if s.shoe else ""))
        for s in found.shorts
    ]
    rows += [(f"{s.day:%d %b}", s.why) for s in found.last]
    return Answer(
        "Run-up card", tuple(rows), RUN_UP_FORMULA, RUN_UP_SOURCE, found.estimate or RUN_UP_DOUBT,
        {"still_cm": still.mark_cm, "shoe": _shoe_data(found.shoe), "estimate": bool(found.estimate),
         "check_cm": found.check_cm, "coach_cm": found.coach_cm,
         "table": [[r.wind_mps, r.shift_cm, float(r.shoes)] for r in found.table],
         "short": {str(s.steps): s.mark_cm for s in found.shorts}},
    )  # fmt: skip


def phases(total: int, shares: Sequence[float | Fraction], said: str) -> Answer:
    """Hop, step and jump for a target, marks beside the runway, boards that suit."""
    found = phases_of(total, shares)
    hop, step_at = marks_for(total, shares)
    marks = PhaseMarks.of(total, shares)
    boards = boards_for(total) if total >= 572 else ()
    rows = [
        ("target", f"{metres(total)} m, {said}"), ("hop", f"{metres(found.hop)} m"),
        ("step", f"{metres(found.step)} m"), ("jump", f"{metres(found.jump)} m"),
        ("cone at the hop", f"{metres(hop)} m from the board, give or take {marks.band} cm"),
        ("cone at the step", f"{metres(step_at)} m from the board, give or take {marks.band} cm"),
        ("kind", style_of(*shares)),
        ("boards", " or ".join(f"{b // 100} m" for b in boards) or "none suits: a tape is the board"),
    ]  # fmt: skip
    return Answer(
        "Triple jump, marks for a target", tuple(rows),
        "shares of hop, step and jump in percent x target; board from 0.65 x distance + 0.5 m to distance - 1.5 m",
        "common practice, no source; kind after Hay 1992, Journal of Sports Sciences 10(4):343-378; board "
        "range derived",
        "no one division suits everybody; use own shares once three whole jumps are measured; for the "
        "board take a "
        "poor day's distance",
        {"hop_cm": found.hop, "step_cm": found.step, "jump_cm": found.jump, "marks_cm": [hop, step_at],
         "boards_cm": list(boards)},
    )  # fmt: skip


def two_phases(hop_and_step: int, shares: Sequence[float]) -> Answer:
    """What two phases come to with the third, only as a range."""
    found = total_from_two_phases(hop_and_step, shares)
    return Answer(
        "Triple jump, from two phases",
        (("hop and step", f"{metres(hop_and_step)} m"),
         ("with the jump", f"{metres(found.low)}-{metres(found.high)} m")),
        "hop and step / (1 - share of the jump), over the athlete's own shares of the jump", "derived",
        "a range, never one figure and never a mark; it stands and falls with the shares",
        {"low_cm": found.low, "high_cm": found.high},
    )  # fmt: skip


def short_jump(event: str, steps: int, short_cm: int, found: ShortEvidence) -> Answer:
    """What a jump from a short run-up says."""
    rows = [("jumped", f"{metres(short_cm)} m from {steps} steps"), ("says", found.words)]
    if found.place:
        rows.append(("stands", found.place))
    return Answer(
        f"Short run-up, {event}", tuple(rows),
        "own short jump x own ratios of full to short jumps within 21 days of each other; three pairs at least",
        "derived; usual bands common practice, no source: no conversion is published",
        "a range from own pairs only; never stored as a mark",
        {"low_cm": found.low, "high_cm": found.high, "pairs": found.pairs, "place": found.place},
    )  # fmt: skip
