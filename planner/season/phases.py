"""The phase of every week: as the coach gave it, else counted back from the next main competition.

Counting back: the taper (days of the event and level), the competition weeks from the first supporting
competition on, the pre-competition weeks, the specific weeks, and what is left is general. Weeks are
judged by their middle day. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

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


@dataclass(frozen=True)
class Lengths:
    """Weeks of specific preparation, pre-competition and (at most) competition before a main one."""

    specific: int
    pre: int
    competition: int


@dataclass(frozen=True)
class Frame:
    """How a season is cut: lengths by number of peaks, the taper in days, the transition in weeks."""

    single: Lengths
    first: Lengths  # before the first of two peaks
    second: Lengths
    taper_days: int
    transition: int


# Usual lengths, inside the ranges of the catalogue's phases. 52 weeks with one peak: 14 general, 11
# specific, 6 pre-competition, 14 competition, 2 taper, 5 transition. With two: 8, 6, 3, 4, 1, a bridge,
# then 4, 5, 3, 10, 2, 5. Novices: eight weeks 2, 3, 2, 1 or a school season of twelve 3, 4, 2, 2, 1.
# Common practice, no source.
SINGLE = Lengths(specific=11, pre=6, competition=14)
FIRST_OF_TWO = Lengths(specific=6, pre=3, competition=4)
SECOND_OF_TWO = Lengths(specific=5, pre=3, competition=10)
EIGHT_WEEKS = Lengths(specific=3, pre=2, competition=1)
TWELVE_WEEKS = Lengths(specific=4, pre=2, competition=2)


def frame_for(level: Level, block_weeks: int, taper_days: int) -> Frame:
    """The frame of a level; novices' depends on how long the block is (in weeks)."""
    if level == "novice":
        own = EIGHT_WEEKS if block_weeks <= 8 else TWELVE_WEEKS
        return Frame(own, own, own, taper_days, transition=1 if own is EIGHT_WEEKS else 2)
    return Frame(SINGLE, FIRST_OF_TWO, SECOND_OF_TWO, taper_days, transition=5)


def phases_for(
    block: Block, athlete: str, weeks: Sequence[Week], frame: Frame
) -> tuple[tuple[str, ...], tuple[Assumption, ...]]:
    """The phase of each week of an athlete, and what had to be assumed for it."""
    own = tuple(sorted((c for c in block.competitions if c.athlete == athlete), key=lambda c: c.first_day))
    mains = tuple(c for c in own if c.importance == "main")
    given = [_given(block, athlete, w) for w in weeks]
    derived = [_derived(w, own, mains, frame) for w in weeks]
    phases = tuple(g or d for g, d in zip(given, derived, strict=True))
    return phases, _assumptions(athlete, own, mains, all(given))


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
    mains = [c for c in own if c.importance == "main"]
    to_go = (main.first_day - week.middle).days
    if to_go <= frame.taper_days:
        return TAPER
    if earlier is not None and (main.first_day - earlier.first_day).days <= CLOSE_WEEKS * 7:
        return COMPETITION
    if earlier is not None and _since(week, earlier.first_day) == 1:
        return BRIDGE
    lengths = frame.single
    if earlier is not None:
        lengths = frame.second
    elif any(0 < (c.first_day - main.first_day).days <= SECOND_PEAK_WEEKS * 7 for c in mains):
        lengths = frame.first
    season_begins = earlier.last_day if earlier else date.min
    taper_in = -(-(to_go - frame.taper_days) // 7)  # weeks from this one to the first of the taper
    begins_in = taper_in
    first = min((c.first_day for c in own if _opens(c, season_begins, main)), default=None)
    if first is not None:
        first_in = -(-(first - week.last).days // 7)
        begins_in = min(taper_in, max(first_in, taper_in - lengths.competition))
    if begins_in <= 0:
        return COMPETITION
    if begins_in <= lengths.pre:
        return PRE
    return SPECIFIC if begins_in <= lengths.pre + lengths.specific else GENERAL


def _opens(c: Competition, season_begins: date, main: Competition) -> bool:
    """Does the competition phase begin with this one?"""
    return c.importance == "supporting" and season_begins < c.first_day < main.first_day


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
