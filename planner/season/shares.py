"""How much of the block's peak week each week asks for, in percent, and what kind of week it is.

Loading weeks, then an easier one: advanced 80, 90, 100, then 60 in general and specific preparation; all
others, and everybody in pre-competition, 90, 100, then 60. Between competitions 75, and 55 in the week
of a supporting one. Common practice, no source. The taper is a shape over the weeks before the main competition
(Bosquet, Montpetit, Arvisais, Mujika 2007, Medicine and Science in Sports and Exercise 39(8):1358-1365:
about two weeks, 41-60 % less volume; mostly endurance sports and swimming).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from planner.domain.block import Block, Competition
from planner.domain.units import Level
from planner.season.phases import COMPETITION, GENERAL, PRE, SPECIFIC, TAPER, given_share
from planner.season.weeks import Week, last_day, touches

EASIER = 60  # percent of the peak week
EXAM = 55  # percent: 40-50 % less
EASING = 65  # percent of what the week would have been: 30-40 % less
EASING_DAYS = 4  # days before a supporting competition that are eased (3-5)
BETWEEN_COMPETITIONS = 75
SUPPORTING_WEEK = 55
IN_TRANSITION = 30
FULL = 100
FAST_PHASES = (GENERAL, SPECIFIC)


@dataclass(frozen=True)
class TaperShape:
    """Percent of the usual volume in the week before last, the last week, and the last three days."""

    week_before: int
    last_week: int
    last_days: int
    days: int


@dataclass(frozen=True)
class Share:
    percent: int
    kind: str
    exam: bool


def shares_for(
    block: Block,
    athlete: str,
    level: Level,
    weeks: Sequence[Week],
    phases: Sequence[str],
    shape: TaperShape,
) -> tuple[Share, ...]:
    """The share and kind of each week of an athlete. A share the coach gave wins over all else."""
    own = [c for c in block.competitions if c.athlete == athlete]
    found: list[Share] = []
    loaded = 0  # loading weeks since the last easier one
    for week, phase in zip(weeks, phases, strict=True):
        share = _camp(weeks, week) if block.kind == "camp" else None
        if share is None:
            share = _share(week, phase, level, own, shape, loaded)
        share = _eased(share, week, phase, own)
        exam = is_exam_week(block, athlete, week)
        if exam and share.percent > EXAM:
            kind = share.kind if share.kind == "taper" else "easier"
            share = Share(EXAM, kind, True)
        share = Share(share.percent, share.kind, exam)
        given = given_share(block, athlete, week)
        if given is not None:
            share = Share(given, _kind_of(given, phase, share.kind), exam)
        loaded = loaded + 1 if share.kind in ("loading", "camp") else 0
        found.append(share)
    return tuple(found)


def is_exam_week(block: Block, athlete: str, week: Week) -> bool:
    return any(
        a.athlete == athlete and a.kind == "exam" and any(touches(a, d) for d in week.days)
        for a in block.away
    )


def loading_pattern(level: Level, phase: str) -> tuple[int, ...]:
    """Percent of the loading weeks; one easier week follows them."""
    return (80, 90, 100) if level == "advanced" and phase in FAST_PHASES else (90, 100)


def taper_share(to_go: int, shape: TaperShape) -> int:
    """Percent of the usual volume `to_go` days before the main competition."""
    if to_go <= 3:
        return shape.last_days
    if to_go <= 7:
        return shape.last_week
    return shape.week_before if to_go <= shape.days else FULL


def _share(
    week: Week, phase: str, level: Level, own: list[Competition], shape: TaperShape, loaded: int
) -> Share:
    if phase == TAPER:
        main = _next(own, week, "main")
        to_go = (main.first_day - week.middle).days if main else 0
        return Share(shape.week_before if to_go > 7 else shape.last_week, "taper", False)
    if phase in (*FAST_PHASES, PRE):
        pattern = loading_pattern(level, phase)
        if loaded >= len(pattern):
            return Share(EASIER, "easier", False)
        return Share(pattern[loaded], "loading", False)
    if phase == COMPETITION:
        percent = SUPPORTING_WEEK if _inside(own, week, "supporting") else BETWEEN_COMPETITIONS
        return Share(percent, "competition", False)
    return Share(IN_TRANSITION, "transition", False)


def _camp(weeks: Sequence[Week], week: Week) -> Share:
    """A camp is one loading stretch; when it is longer than two weeks, its last week is the easier one."""
    if len(weeks) > 2 and week.index == weeks[-1].index:
        return Share(EASIER, "easier", False)
    return Share(FULL, "camp", False)


def _eased(share: Share, week: Week, phase: str, own: list[Competition]) -> Share:
    """Before a supporting competition the last days are eased, when most of them lie in this week."""
    if phase in (TAPER, COMPETITION) or share.kind not in ("loading", "camp"):
        return share
    for c in own:
        if c.importance != "supporting":
            continue
        eased = [c.first_day - timedelta(days=i) for i in range(1, EASING_DAYS + 1)]
        if 2 * sum(week.begins <= d <= week.last for d in eased) > EASING_DAYS:
            return Share(share.percent * EASING // 100, "easing", False)
    return share


def _kind_of(given: int, phase: str, kind: str) -> str:
    if phase == TAPER:
        return "taper"
    if kind in ("competition", "transition", "easing"):
        return kind
    if given <= EXAM + 15:
        return "easier"
    return "camp" if kind == "camp" else "loading"


def _next(own: list[Competition], week: Week, importance: str) -> Competition | None:
    ahead = [c for c in own if c.importance == importance and c.first_day >= week.begins]
    return min(ahead, key=lambda c: (c.first_day, c.name)) if ahead else None


def _inside(own: list[Competition], week: Week, importance: str) -> bool:
    return any(c.importance == importance and _meets(c, week) for c in own)


def _meets(c: Competition, week: Week) -> bool:
    first: date = week.begins
    return c.first_day <= week.last and first <= c.last_day
