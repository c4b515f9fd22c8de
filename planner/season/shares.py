"""How much of the block's peak week each week asks for, in percent, and what kind of week it is.

Loading weeks, then an easier one, by the level's pattern, never three easier ones in five and none just
before a taper (it comes a week earlier or not at all); between competitions less, in the week of a
supporting one least. The days before a supporting competition are eased, exams take 40-50 %, a camp is one
loading stretch with an easier week after it. The taper follows its event's shape over the weeks before the
main competition. The percents are the catalogue's (common practice, no source; the taper's shape: Bosquet,
Montpetit, Arvisais, Mujika 2007, Medicine and Science in Sports and Exercise 39(8):1358-1365).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta

from planner.catalogue import Taper, default_pattern, easing, loading_pattern
from planner.domain.block import Athlete, Block, Competition
from planner.domain.camp import MOST_OF_A_WEEK, camp_dates
from planner.domain.units import Level
from planner.season.phases import COMPETITION, GENERAL, PRE, SPECIFIC, TAPER, given_share
from planner.season.weeks import Week, touches

EXAM = 55  # percent: 40-50 % less
IN_TRANSITION = 30  # percent; our judgement: unstructured activity
LONGEST_EASIER = 70  # percent: a share given at or under this makes an easier week
COMPETITION_PATTERN = "competition"  # first week between competitions, second that of a supporting one
CAMP_PATTERN = "camp"  # before, the camp, after it, back to training
FULL = 100
LOADING_PHASES = (GENERAL, SPECIFIC, PRE)
LEAST_LOADED = 2  # loading weeks between two easier ones when one is moved; common practice, no source
MOST_OF_FIVE = 2  # easier weeks in any five; common practice, no source


@dataclass(frozen=True)
class Share:
    percent: int
    kind: str
    exam: bool


def shares_for(  # a week's share hangs on all of them
    block: Block,
    athlete: Athlete,
    weeks: Sequence[Week],
    phases: Sequence[str],
    taper: Taper,
    *,
    loaded: int = 0,
) -> tuple[Share, ...]:
    """The share and kind of each week of an athlete. A share the coach gave wins over all else.

    `loaded` is the number of loading weeks just before the block, since the last easier one.
    """
    name = athlete.name
    own = [c for c in block.competitions if c.athlete == name]
    exams = tuple(is_exam_week(block, name, w) for w in weeks)
    season = _Season(athlete.level, own, taper, tuple(phases), exams)
    found: list[Share] = []
    for i, (week, phase, exam) in enumerate(zip(weeks, phases, exams, strict=True)):
        share = _camp(weeks, week) if block.kind == "camp" else _camp_inside(block, weeks, i, phase)
        if share is None:
            share = season.share(i, week, loaded, [s.kind for s in found])
        share = _eased(share, week, phase, own)
        if exam and share.percent > EXAM:
            kind = share.kind if share.kind == "taper" else "easier"
            share = Share(EXAM, kind, True)
        share = Share(share.percent, share.kind, exam)
        given = given_share(block, name, week)
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


def usual_share(phase: str, taper: Taper) -> int:
    """Percent of the peak that the usual week of a phase asks for; 100 where the phase has peak weeks."""
    if phase == COMPETITION:
        return loading_pattern(COMPETITION_PATTERN)[0]
    return taper.week_minus_1[1] if phase == TAPER else FULL


@dataclass(frozen=True)
class _Season:
    """What the share of a week follows from, for one athlete; `phases` and `exams` go week by week."""

    level: Level
    own: list[Competition]
    taper: Taper
    phases: tuple[str, ...]
    exams: tuple[bool, ...]

    def share(self, i: int, week: Week, loaded: int, before: Sequence[str]) -> Share:
        """`loaded` is the number of loading weeks since the last easier one, `before` the kinds so far."""
        phase = self.phases[i]
        if phase == TAPER:
            main = _next(self.own, week, "main")
            to_go = (main.first_day - week.middle).days if main else 0
            shape = self.taper.week_minus_2 if to_go > 7 else self.taper.week_minus_1
            return Share(shape[1], "taper", False)
        if phase in LOADING_PHASES:
            *loading, easier = loading_pattern(default_pattern(self.level, phase))
            if self._easier_now(i, loaded, len(loading), before):
                return Share(easier, "easier", False)
            return Share(loading[min(loaded, len(loading) - 1)], "loading", False)
        if phase == COMPETITION:
            between, supporting, *_ = loading_pattern(COMPETITION_PATTERN)
            percent = supporting if _inside(self.own, week, "supporting") else between
            return Share(percent, "competition", False)
        return Share(IN_TRANSITION, "transition", False)

    def _easier_now(self, i: int, loaded: int, pattern: int, before: Sequence[str]) -> bool:
        """Is this the easier week? `pattern` is how many loading weeks go before one.

        Not just before a taper, which unloads by itself: then a week earlier, if two loading weeks stand
        before it, else not at all. Not just before exams, which make their week easier by themselves. And
        never so that three weeks of five are easier.
        """
        crowded = before[-4:].count("easier") >= MOST_OF_FIVE
        if crowded or self._is(TAPER, i + 1) or self._exam(i + 1):
            return False
        if loaded >= pattern:
            return True
        return loaded == pattern - 1 and loaded >= LEAST_LOADED and self._is(TAPER, i + 2)

    def _is(self, phase: str, i: int) -> bool:
        return i < len(self.phases) and self.phases[i] == phase

    def _exam(self, i: int) -> bool:
        return i < len(self.exams) and self.exams[i] and self.phases[i] in LOADING_PHASES


def _camp(weeks: Sequence[Week], week: Week) -> Share:
    """A camp is one loading stretch; when it is longer than two weeks, its last week is the easier one."""
    if len(weeks) > 2 and week.index == weeks[-1].index:
        return Share(loading_pattern(CAMP_PATTERN)[2], "easier", False)
    return Share(FULL, "camp", False)


def _camp_inside(block: Block, weeks: Sequence[Week], i: int, phase: str) -> Share | None:
    """The share of a camp's weeks inside a longer block, and of the easier week after them; else None."""
    dates = camp_dates(block)
    if dates is None or phase == TAPER:
        return None

    def is_camp(week: Week) -> bool:
        return sum(dates[0] <= d <= dates[1] for d in week.days) >= MOST_OF_A_WEEK

    if is_camp(weeks[i]):
        return Share(FULL, "camp", False)
    if i > 0 and is_camp(weeks[i - 1]):
        return Share(loading_pattern(CAMP_PATTERN)[2], "easier", False)
    return None


def _eased(share: Share, week: Week, phase: str, own: list[Competition]) -> Share:
    """Before a supporting competition the last days are eased, when most of them lie in this week."""
    if phase in (TAPER, COMPETITION) or share.kind not in ("loading", "camp"):
        return share
    for c in own:
        if c.importance != "supporting":
            continue
        days, less = middle(easing().days), middle(easing().less)
        eased = [c.first_day - timedelta(days=i) for i in range(1, days + 1)]
        if 2 * sum(week.begins <= d <= week.last for d in eased) > days:
            return Share(share.percent * (100 - less) // 100, "easing", False)
    return share


def middle(ends: tuple[int, int]) -> int:
    """The middle of a range, half up."""
    return (ends[0] + ends[1] + 1) // 2


def _kind_of(given: int, phase: str, kind: str) -> str:
    if phase == TAPER:
        return "taper"
    if kind in ("competition", "transition", "easing"):
        return kind
    if given <= LONGEST_EASIER:
        return "easier"
    return "camp" if kind == "camp" else "loading"


def _next(own: list[Competition], week: Week, importance: str) -> Competition | None:
    ahead = [c for c in own if c.importance == importance and c.first_day >= week.begins]
    return min(ahead, key=lambda c: (c.first_day, c.name)) if ahead else None


def _inside(own: list[Competition], week: Week, importance: str) -> bool:
    return any(c.importance == importance and _meets(c, week) for c in own)


def _meets(c: Competition, week: Week) -> bool:
    return c.first_day <= week.last and week.begins <= c.last_day
