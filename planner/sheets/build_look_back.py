"""From a look back to its pages: an athlete's own, and the squad's with sums in which nobody can be found."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from planner.domain.block import Block, Mark
from planner.domain.following import mark_words
from planner.numbers.look_back import Amounts, Load, LookBack, OwnBack
from planner.sheets import words
from planner.sheets.build_athlete import FOOT_SIGNS, squad_foot
from planner.sheets.looks import look_of
from planner.sheets.view_look_back import BarView, LookBackView, MarkView

BAR_MM = 50  # the longest bar of a page
LEAST_FOR_SUMS = 3  # athletes below which a sum tells what one of them did
LOAD_HEAD = "Load a week, effort (0–10) × minutes: the outline was planned, the filled bar was done"
UNITS_HEAD = "Planned and done"
KEEP = ("Keep:", "Change:", "Start the next block with:")
CAUTION = "Load describes, it decides nothing. Missed work stays missed; the next step starts from what was done."


def own_view(own: OwnBack, found: LookBack, block: Block, day: date) -> LookBackView:
    """One athlete's page: nothing of anybody else, and no note."""
    return LookBackView(
        title=f"Look back: {words.clean(own.athlete)}",
        sub=f"{words.clean(block.name)}, {words.span(found.first, found.last)}",
        squad=words.clean(block.squad),
        looked=words.long_date(day),
        aims=tuple(words.sentence(a) for a in own.aims),
        load_head=LOAD_HEAD,
        weeks=_weeks(own.weeks),
        units_head=UNITS_HEAD,
        units=_units(own.units),
        marks=tuple(MarkView(words.title(m.event), _mark(m.before) or "none", _mark(m.after)) for m in own.marks),
        said=tuple(_said(own)),
        keep=KEEP,
        caution=CAUTION,
        foot=f"Look back, {words.shorter(own.athlete, FOOT_SIGNS)}",
        foot_squad=squad_foot(block.squad, block.contact),
    )


def squad_view(found: LookBack, block: Block, day: date) -> LookBackView:
    """The squad's page: sums of three athletes or more, and starts with their places. No amount of anybody's."""
    squad = found.squad
    sums = squad.athletes >= LEAST_FOR_SUMS
    said = [_start(s.athlete, s.event, s.competition, s.day, s.rank) for s in squad.starts]
    if not sums:
        said.append(f"Sums are left out: below {LEAST_FOR_SUMS} athletes they would tell what one of them did.")
    return LookBackView(
        title="Look back: the squad",
        sub=f"{words.clean(block.name)}, {words.span(found.first, found.last)}",
        squad=words.clean(block.squad),
        looked=words.long_date(day),
        aims=(),
        load_head=LOAD_HEAD,
        weeks=_weeks(squad.weeks) if sums else (),
        units_head="Units by family, all athletes together",
        units=_families(squad.families) if sums else (),
        marks=(),
        said=tuple(said),
        keep=KEEP,
        caution=CAUTION,
        foot=f"Look back, {words.shorter(block.name, 28)}",
        foot_squad=squad_foot(block.squad, block.contact),
    )


def _weeks(weeks: Sequence[Load]) -> tuple[BarView, ...]:
    most = max((n for w in weeks for n in (w.planned, w.done)), default=0)
    return tuple(
        BarView(f"week of {words.short_date(w.begins)}", f"{w.planned}", f"{w.done}",
                _mm(w.planned, most), _mm(w.done, most))
        for w in weeks
    )  # fmt: skip


def _units(units: Sequence[Amounts]) -> tuple[BarView, ...]:
    """Each unit on its own scale: metres and jumps have nothing in common."""
    return tuple(
        BarView(
            words.title(a.what), f"{_amount(a.planned, a.measure)} ({a.planned_times} ×)",
            f"{a.done} ({a.done_times} ×)",
            _mm(a.planned, max(a.planned, a.done)), _mm(a.done, max(a.planned, a.done)),
        )
        for a in units
    )  # fmt: skip


def _families(families: Sequence[Amounts]) -> tuple[BarView, ...]:
    most = max((n for a in families for n in (a.planned, a.done)), default=0)
    return tuple(
        BarView(look_of(a.what).name, f"{a.planned} ×", f"{a.done} ×", _mm(a.planned, most), _mm(a.done, most))
        for a in families
    )


def _amount(n: int, measure: str) -> str:
    return f"{n} {measure.removesuffix('s') if n == 1 else measure}"


def _mm(value: int, most: int) -> float:
    return round(BAR_MM * value / most, 1) if most else 0.0


def _mark(mark: Mark | None) -> str:
    """'5.71 m, wind +0.8, 14 Mar'."""
    if mark is None:
        return ""
    wind = f", wind {mark.wind / 10:+.1f}" if mark.wind is not None else ""
    when = f", {words.short_date(mark.day)} {mark.day.year}" if mark.day else ""
    return f"{mark_words(mark)}{wind}{when}"


def _said(own: OwnBack) -> list[str]:
    said = [words.title(s) for s in (*own.aided, *own.short, *own.phases)]
    for f in own.fouls:
        share = round(100 * f.fouls / f.attempts)
        said.append(f"{words.title(f.event)}: {f.fouls} of {f.attempts} attempts were fouls ({share} %).")
    if own.unspoken:
        said.append(
            f"Of {own.unspoken} of {own.sessions} sessions nothing was recorded; they count as planned."
        )
    return said


def _start(athlete: str, event: str, competition: str, day: date, rank: int) -> str:
    place = f", place {rank}" if rank else ""
    return words.sentence(f"{athlete}: {event}, {competition}, {words.short_date(day)}{place}")
