"""The phase of every week: as the coach gave it, else counted back from the next main competition.

Counting back: the taper (days of the event and level), the competition weeks from the first supporting
competition on, the pre-competition weeks, the specific weeks, and what is left is general. Weeks are
judged by their middle day. Between two main competitions of a season both ends are known: after a bridge
the weeks are shared out so that general stays, pre-competition keeps two weeks and a main competition what
it needs in front; a supporting competition that comes earlier is met on the way. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from planner.catalogue import phases, season_shape
from planner.domain.block import Assumption, Block, Competition, PhaseSpan
from planner.domain.units import Level
from planner.season.weeks import Week

GENERAL = "general-preparation"
SPECIFIC = "specific-preparation"
PRE = "pre-competition"
COMPETITION = "competition"
TAPER = "taper"
BRIDGE = "bridge"
TRANSITION = "transition"

CLOSE_WEEKS = 8  # two main competitions at most this far apart belong to one competition phase
LAST_WEEKS_BEFORE_SUPPORTING = 2  # weeks of pre-competition, the competition's own included
SECOND_PEAK_WEEKS = 32  # a later main competition within these weeks makes a season with two peaks
FIRST_TAPER_DAYS = 7  # the first of two peaks gets a week at most: the season goes on


@dataclass(frozen=True)
class Lengths:
    """Usual weeks of each phase before a main competition (of competition: at most).

    `shape` names the row of the catalogue's phases that holds the least and the most of each.
    """

    general: int
    specific: int
    pre: int
    competition: int
    shape: str


@dataclass(frozen=True)
class Frame:
    """How a season is cut: lengths by number of peaks, the taper in days, the transition in weeks.

    `least_before_main`: weeks of specific preparation and pre-competition a main competition needs.
    """

    single: Lengths
    first: Lengths  # before the first of two peaks
    second: Lengths
    taper_days: int
    transition: int
    least_before_main: int


# Usual lengths, inside the ranges of the catalogue's phases. 52 weeks with one peak: 14 general, 11
# specific, 6 pre-competition, 14 competition, 2 taper, 5 transition. With two: 8, 6, 3, 4, 1, a bridge,
# then 4, 5, 3, 10, 2, 5. Novices: eight weeks 2, 3, 2, 1 or a school season of twelve 3, 4, 2, 2, 1.
# Common practice, no source.
SINGLE = Lengths(14, specific=11, pre=6, competition=14, shape="single")
FIRST_OF_TWO = Lengths(8, specific=6, pre=3, competition=4, shape="double-first")
SECOND_OF_TWO = Lengths(4, specific=5, pre=3, competition=10, shape="double-second")
EIGHT_WEEKS = Lengths(2, specific=3, pre=2, competition=1, shape="eight-week")
TWELVE_WEEKS = Lengths(3, specific=4, pre=2, competition=2, shape="twelve-week")


def frame_for(level: Level, block_weeks: int, taper_days: int) -> Frame:
    """The frame of a level; novices' depends on how long the block is (in weeks)."""
    least = season_shape().least_weeks_before_main[level]
    if level == "novice":
        own = EIGHT_WEEKS if block_weeks <= 8 else TWELVE_WEEKS
        return Frame(own, own, own, taper_days, 1 if own is EIGHT_WEEKS else 2, least)
    return Frame(SINGLE, FIRST_OF_TWO, SECOND_OF_TWO, taper_days, 5, least)


def shared_out(weeks: int, usual: Lengths, least_before_main: int) -> tuple[int, int, int]:
    """General, specific and pre-competition weeks when there are so many between two known dates.

    Usual lengths first. More weeks go to general, specific and pre-competition up to the most of each, the
    rest to general again. Fewer are taken from specific and pre-competition in turn down to their least
    (pre-competition keeps two weeks, both together what a main competition needs), then from general, then
    from specific, and last of all from pre-competition.
    """
    ids = (GENERAL, SPECIFIC, PRE)
    ranges = [phases()[i].weeks[usual.shape] for i in ids]
    found = [usual.general, usual.specific, usual.pre]
    for i, (_, most) in enumerate(ranges):
        found[i] += max(0, min(weeks - sum(found), most - found[i]))
    found[0] += max(0, weeks - sum(found))
    least = [min(low, n) for (low, _), n in zip(ranges, found, strict=True)]
    least[2] = max(least[2], season_shape().least_pre_competition_weeks)
    turn = 1
    while sum(found) > weeks and (found[1] > least[1] or found[2] > least[2]):
        enough = found[1] + found[2] > least_before_main
        if not enough:
            break
        if found[turn] > least[turn]:
            found[turn] -= 1
        turn = 3 - turn
    for i, down_to in ((0, least[0]), (0, 0), (1, 0), (2, 0)):
        found[i] -= max(0, min(sum(found) - weeks, found[i] - down_to))
    return found[0], found[1], found[2]


def phases_for(
    block: Block, athlete: str, weeks: Sequence[Week], frame: Frame
) -> tuple[tuple[str, ...], tuple[Assumption, ...]]:
    """The phase of each week of an athlete, and what had to be assumed for it."""
    own = tuple(sorted((c for c in block.competitions if c.athlete == athlete), key=lambda c: c.first_day))
    mains = tuple(c for c in own if c.importance == "main")
    given = [_given(block, athlete, w) for w in weeks]
    derived = [_derived(w, own, mains, frame) for w in weeks]
    found = tuple(g or d for g, d in zip(given, derived, strict=True))
    return found, _assumptions(athlete, own, mains, all(given))


def given_share(block: Block, athlete: str, week: Week) -> int | None:
    """The percent of the peak week the coach wrote beside the phase, if any."""
    spans = [s for s in _spans(block, athlete, week) if s.share is not None]
    return spans[0].share if spans else None


def _spans(block: Block, athlete: str, week: Week) -> list[PhaseSpan]:
    """Spans that touch the week: an athlete's own before those for all, then by days covered."""
    found = []
    for i, span in enumerate(block.phases):
        covered = sum(span.begins <= d <= span.ends for d in week.days)
        if span.athlete in ("", athlete) and covered:
            found.append((not span.athlete, -covered, -i, span))
    return [entry[3] for entry in sorted(found, key=lambda e: e[:3])]


def _given(block: Block, athlete: str, week: Week) -> str:
    spans = _spans(block, athlete, week)
    return spans[0].phase if spans else ""


def _derived(
    week: Week, own: tuple[Competition, ...], mains: tuple[Competition, ...], frame: Frame
) -> str:
    ahead = [c for c in mains if c.first_day >= week.begins]
    behind = [c for c in mains if c.first_day < week.begins]
    if ahead:
        return _before(week, ahead[0], behind[-1] if behind else None, own, frame)
    if behind:
        return _after(week, behind[-1], own, frame)
    return _without_main(week, own)


def _before(
    week: Week, main: Competition, earlier: Competition | None, own: tuple[Competition, ...], frame: Frame
) -> str:
    to_go = (main.first_day - week.middle).days
    peak = _peak(main, earlier, own, frame)
    if to_go <= peak.taper_days:
        return TAPER
    if earlier is not None and (main.first_day - earlier.first_day).days <= CLOSE_WEEKS * 7:
        return COMPETITION
    since = _since(week, earlier.last_day) if earlier is not None else 0
    if 0 < since <= peak.rest_weeks:
        return peak.rest
    taper_in = -(-(to_go - peak.taper_days) // 7)  # weeks from this one to the first of the taper
    if earlier is None:
        competing = _competing(week, _opening(own, date.min, main), taper_in, peak.lengths.competition)
        specific, pre = peak.lengths.specific, peak.lengths.pre
    else:
        weeks = taper_in + since - peak.rest_weeks - 1  # all there are from the rest to the taper
        opening = _opening(own, earlier.last_day, main)
        competing = _competing(week, opening, taper_in, peak.lengths.competition)
        competing = max(0, min(competing, weeks - frame.least_before_main))
        _, specific, pre = shared_out(weeks - competing, peak.lengths, frame.least_before_main)
    begins_in = taper_in - competing
    if begins_in <= 0:
        return COMPETITION
    if begins_in <= pre:
        return PRE
    return SPECIFIC if begins_in <= pre + specific else GENERAL


@dataclass(frozen=True)
class _Peak:
    """A main competition's usual lengths, its taper in days, and the rest after the one before it."""

    lengths: Lengths
    taper_days: int
    rest: str
    rest_weeks: int


def _peak(
    main: Competition, earlier: Competition | None, own: tuple[Competition, ...], frame: Frame
) -> _Peak:
    if earlier is not None:
        far = (main.first_day - earlier.first_day).days > SECOND_PEAK_WEEKS * 7
        if far:  # another season
            return _Peak(frame.single, frame.taper_days, TRANSITION, frame.transition)
        return _Peak(frame.second, frame.taper_days, BRIDGE, 1)
    later = [c.first_day - main.first_day for c in own if c.importance == "main"]
    if any(CLOSE_WEEKS * 7 < gap.days <= SECOND_PEAK_WEEKS * 7 for gap in later):
        return _Peak(frame.first, min(frame.taper_days, FIRST_TAPER_DAYS), "", 0)
    return _Peak(frame.single, frame.taper_days, "", 0)


def _opening(own: tuple[Competition, ...], after: date, main: Competition) -> date | None:
    """The first supporting competition of a season, with which its competition phase begins."""
    days = (c.first_day for c in own if c.importance == "supporting" and after < c.first_day < main.first_day)
    return min(days, default=None)


def _competing(week: Week, opening: date | None, taper_in: int, most: int) -> int:
    """Weeks from the opening competition to the taper, at most so many."""
    if opening is None:
        return 0
    return max(0, min(taper_in - -(-(opening - week.last).days // 7), most))


def _after(week: Week, last: Competition, own: tuple[Competition, ...], frame: Frame) -> str:
    if any(c.last_day >= week.begins and c.importance != "main" for c in own):
        return COMPETITION
    final = max(c.last_day for c in own)
    return TRANSITION if _since(week, final) <= frame.transition else GENERAL


def _since(week: Week, day: date) -> int:
    """Whole weeks from the calendar week of `day` to this one."""
    return -(-(week.begins - day).days // 7)


def _without_main(week: Week, own: tuple[Competition, ...]) -> str:
    supporting = [c for c in own if c.importance == "supporting"]
    ahead = [c for c in supporting if c.first_day >= week.begins]
    if ahead:
        close = (ahead[0].first_day - week.begins).days < 7 * LAST_WEEKS_BEFORE_SUPPORTING
        return PRE if close else SPECIFIC
    if supporting and any(c.last_day >= week.begins for c in own):
        return COMPETITION
    return SPECIFIC


def _assumptions(
    athlete: str, own: tuple[Competition, ...], mains: tuple[Competition, ...], all_given: bool
) -> tuple[Assumption, ...]:
    if all_given or mains:
        return ()
    if any(c.importance == "supporting" for c in own):
        text = (
            "no main competition is known: pre-competition is taken for the last two weeks before the "
            "supporting one, specific preparation before that. The table 'phases' may say otherwise."
        )
    else:
        text = (
            "no main or supporting competition is known: specific preparation is taken for every week. "
            "The table 'phases' may say otherwise."
        )
    return (Assumption(f"{athlete}: phases", text),)
