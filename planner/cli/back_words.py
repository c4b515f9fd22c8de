"""The look back in lines for the terminal, 80 columns wide; it is the coach's screen, so amounts have names."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from planner.cli.words import WIDTH, wrapped
from planner.domain.following import mark_words
from planner.domain.units import counted
from planner.numbers.look_back import Amounts, Load, LookBack, OwnBack
from planner.sheets.looks import look_of

NAME = 37  # columns of a unit's name
BAR = 20  # signs of the longest bar


def back_lines(found: LookBack, own: Sequence[OwnBack], *, squad: bool) -> list[str]:
    """The squad's sums, then every athlete."""
    days = f"{found.first:%d %b} - {found.last:%d %b %Y}"
    lines = [f"Look back on {days}. Planned as first handed out, beside done."]
    if squad:
        lines += ["", "The squad", *_weeks(found.squad.weeks), *map(_family, found.squad.families)]
        for s in found.squad.starts:
            place = f", place {s.rank}" if s.rank else ""
            lines += wrapped(f"{s.athlete}: {s.event}, {s.competition}, {s.day:%d %b}{place}")
    for one in own:
        lines += ["", one.athlete, *_own(one)]
    return lines


def _own(own: OwnBack) -> list[str]:
    lines = [line for aim in own.aims for line in wrapped(f"aim: {aim}")]
    lines += _weeks(own.weeks)
    lines += [_amount(a) for a in own.units]
    for m in own.marks:
        before = mark_words(m.before) or "none"
        lines += wrapped(f"{m.event}: before {before}, now {mark_words(m.after)}")
    for said in (*own.aided, *own.short, *own.phases):
        lines += wrapped(said)
    for f in own.fouls:
        lines += wrapped(f"{f.event}: {f.fouls} of {f.attempts} attempts were fouls")
    if own.unspoken:
        lines += wrapped(f"{own.unspoken} of {own.sessions} sessions: nothing was recorded, counted as planned")
    return lines


def _amount(a: Amounts) -> str:
    if not a.planned_times:
        return f"  {a.what[:NAME - 1]:<{NAME}}not planned: {counted(a.done, a.measure)}"[:WIDTH]
    words = f"{a.done} of {counted(a.planned, a.measure)}"
    times = f" ({a.done_times} of {a.planned_times} x)" if a.measure != "times" else ""
    return f"  {a.what[:NAME - 1]:<{NAME}}{words}{times}"[:WIDTH]


def _family(a: Amounts) -> str:
    return _amount(replace(a, what=look_of(a.what).name))


def _weeks(weeks: Sequence[Load]) -> list[str]:
    """Load of each week as a filled bar in an outlined one: '#' done, '.' planned and not done."""
    most = max((n for w in weeks for n in (w.planned, w.done)), default=0)
    lines = []
    for w in weeks:
        planned, done = (n * BAR // most if most else 0 for n in (w.planned, w.done))
        bar = "#" * done + "." * max(0, planned - done)
        load = f"{w.done:>5} of {w.planned:>5} effort x min"
        lines.append(f"  load, week of {w.begins:%d %b}: {load}  [{bar:<{BAR}}]")
    return lines
