"""Hop and step marks as targets, from the athlete's own shares where three whole jumps are measured."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from planner.domain.block import Athlete, Mark
from planner.domain.problem import Problem
from planner.numbers.attempts import PhaseMarks, own_shares
from planner.numbers.case import Shares
from planner.numbers.jumps import shares_for
from planner.numbers.lines import metres
from planner.numbers.marks import best_mark, of_athlete
from planner.numbers.run_up_card import RunUpCard
from planner.science.short_run_up import USUAL_PERCENT
from planner.sheets import words
from planner.sheets.recorded import Recorded
from planner.sheets.view_run_up import PhaseView

EVENT: Literal["triple jump"] = "triple jump"
FULL_PERCENT = 97  # percent of the own best that a full jump of a good day reaches; common practice, no source
ROWS = 4  # targets on the card, the full run-up first
ROUND_TO = 5  # centimetres; marks beside a runway are set to this


@dataclass(frozen=True)
class PhaseLines:
    head: str
    rows: tuple[PhaseView, ...]
    said: tuple[str, ...]


def phase_lines(card: RunUpCard, athlete: Athlete, problem: Problem, recorded: Recorded) -> PhaseLines:
    """Targets of the full run-up and of shorter ones; without a measured jump none, and what would give one."""
    whole = own_shares(tuple(recorded.attempts.get(athlete.name, ())))
    own = None if whole is None else (float(whole[0]), float(whole[1]), float(whole[2]))
    shares, where = shares_for(athlete.level_for("full-jumps"), own)
    rows = tuple(_row(steps, total, said, shares) for steps, total, said in targets(card, athlete, problem)[:ROWS])
    hop, step, jump = (f"{float(s):.0f}" for s in shares)
    said = [f"Hop, step, jump {hop}, {step}, {jump} %: {where}." if own else f"{words.sentence(where)}"]
    if rows:
        said.append("Cones beside the runway, never in the landing line; read toe to toe.")
    else:
        said.append("No triple jump is measured yet: one measured jump gives the marks.")
    cue = recorded.cues.get(athlete.name, "")
    if cue:
        said.insert(0, f"Cue: {words.sentence(cue)}")
    return PhaseLines("Hop and step land at, metres from the board", rows, tuple(said))


def targets(card: RunUpCard, athlete: Athlete, problem: Problem) -> list[tuple[int, int, str]]:
    """(steps, distance in cm, where it comes from): own marks if any, else the usual share of the best."""
    marks = of_athlete(problem.block, athlete.name)
    best = best_mark(marks, EVENT, "cm")
    found: list[tuple[int, int, str]] = []
    full = card.still.steps
    if best is not None:
        said = f"{FULL_PERCENT} % of {metres(best.value)}{_day(best)}"
        found.append((full, _even(best.value * FULL_PERCENT // 100), said))
    for short in sorted(card.shorts, key=lambda s: -s.steps):
        own = best_mark(marks, f"{EVENT} {short.steps} steps", "cm")
        even = short.steps + short.steps % 2
        if own is not None:
            found.append((short.steps, _even(own.value), f"own {metres(own.value)}{_day(own)}"))
        elif best is not None and even in USUAL_PERCENT[EVENT]:
            low, high = USUAL_PERCENT[EVENT][even]
            found.append((short.steps, _even(best.value * (low + high) // 200), f"usual {low}–{high} % of best"))
    return found


def _day(mark: Mark) -> str:
    """', 12 Feb 2027', where the day of a mark is known."""
    return f", {words.short_date(mark.day)} {mark.day.year}" if mark.day else ""


def _even(cm: int) -> int:
    return cm // ROUND_TO * ROUND_TO


def _row(steps: int, total: int, said: str, shares: Shares) -> PhaseView:
    marks = PhaseMarks.of(total, shares)
    return PhaseView(
        str(steps), metres(total), metres(_near(marks.hop)), metres(_near(marks.step_at)),
        f"± {marks.band} cm", said,
    )  # fmt: skip


def _near(cm: int) -> int:
    return round(cm / ROUND_TO) * ROUND_TO
