"""The season at a glance: for every athlete and week the phase in plain words, the share, what is wanted.

Data for paper and screen; no plan is needed. The remarks say where a season's shape is tighter than it
should be (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from planner.catalogue import season_shape
from planner.domain.block import Competition
from planner.domain.dates import said_day
from planner.domain.problem import AthleteWeek, Count, Problem
from planner.season.phases import GENERAL, PRE, SPECIFIC

KIND_WORDS = {
    "loading": "loading week",
    "easier": "easier week",
    "taper": "taper",
    "easing": "eased before a competition",
    "competition": "between competitions",
    "camp": "camp",
    "transition": "easy and free",
}


@dataclass(frozen=True)
class OutlineWeek:
    """One athlete's calendar week. `first` and `last` are its days inside the block.

    `share` is percent of the peak week; `counts` say how often each family is wanted, families that are not
    are absent; `competitions` are those that touch the week.
    """

    athlete: str
    first: date
    last: date
    phase: str
    kind: str
    share: int
    exams: bool
    competitions: tuple[Competition, ...]
    counts: Mapping[str, Count] = field(hash=False)
    fast_days: Count
    training_days: Count

    @property
    def phase_words(self) -> str:
        """'general preparation', 'bridge' ..."""
        return self.phase.replace("-preparation", " preparation")

    @property
    def words(self) -> str:
        """The week in one line: phase, kind, percent of the peak week, competitions."""
        kind = "exams, easier week" if self.exams else KIND_WORDS.get(self.kind, self.kind)
        share = f"{self.share} % of the peak week"
        text = f"{self.phase_words}: " + (share if kind == self.phase else f"{kind}, {share}")
        meets = "; ".join(f"{c.name} ({c.importance}) {said_day(c.first_day)}" for c in self.competitions)
        return f"{text}; {meets}" if meets else text


@dataclass(frozen=True)
class Outline:
    """All weeks by athlete, in the file's order, and what the shape lacks, in whole sentences."""

    name: str
    begins: date
    ends: date
    weeks: Mapping[str, tuple[OutlineWeek, ...]] = field(hash=False)
    remarks: tuple[str, ...] = ()

    def stretches(self, athlete: str) -> tuple[tuple[str, int, date, date], ...]:
        """Runs of weeks in one phase: phase in words, number of weeks, first and last day."""
        found: list[tuple[str, int, date, date]] = []
        for week in self.weeks[athlete]:
            if found and found[-1][0] == week.phase_words:
                phase, n, first, _ = found.pop()
                found.append((phase, n + 1, first, week.last))
            else:
                found.append((week.phase_words, 1, week.first, week.last))
        return tuple(found)


def outline_of(problem: Problem) -> Outline:
    """The outline of a block or season from its problem."""
    block = problem.block
    return Outline(
        block.name,
        block.begins,
        block.ends,
        {name: tuple(_week(problem, w) for w in problem.weeks[name]) for name in problem.athletes},
        tuple(text for name in problem.athletes for text in _remarks(problem, name)),
    )


def _week(problem: Problem, week: AthleteWeek) -> OutlineWeek:
    meets = [
        c
        for c in problem.competitions_of(week.athlete)
        if c.first_day <= week.days[-1] and week.days[0] <= c.last_day
    ]
    return OutlineWeek(
        athlete=week.athlete,
        first=week.days[0],
        last=week.days[-1],
        phase=week.phase,
        kind=week.kind,
        share=week.share,
        exams=week.exam_week,
        competitions=tuple(meets),
        counts={f: c for f, c in week.counts.items() if c.target > 0},
        fast_days=week.fast_days,
        training_days=week.training_days,
    )


def _remarks(problem: Problem, athlete: str) -> list[str]:
    """Too few weeks in front of a main competition, where the block shows the whole way to it."""
    weeks = problem.weeks[athlete]
    mains = [c for c in problem.competitions_of(athlete) if c.importance == "main"]
    level = problem.block.athlete(athlete).level
    shape = season_shape()
    least = shape.least_weeks_before_main[level]
    found = []
    for i, main in enumerate(mains):
        begins = mains[i - 1].last_day if i else problem.block.begins
        way = [w for w in weeks if begins <= w.begins and w.days[0] <= main.first_day]
        if main.first_day > problem.block.ends or not _whole_way(way, known_start=i > 0):
            continue
        before = sum(w.phase in (SPECIFIC, PRE) for w in way)
        pre = sum(w.phase == PRE for w in way)
        when = f"{main.name} on {said_day(main.first_day)}"
        if before < least:
            found.append(
                f"{athlete}: {_weeks(before)} of specific preparation and pre-competition before {when}; "
                f"{least} are wanted at this level. Maybe give fewer weeks to other phases, or take it as a "
                "supporting competition."
            )
        elif pre < shape.least_pre_competition_weeks:
            found.append(
                f"{athlete}: {_weeks(pre)} of pre-competition before {when}; "
                f"{shape.least_pre_competition_weeks} are wanted. Maybe take them from specific preparation."
            )
    return found


def _whole_way(way: Sequence[AthleteWeek], *, known_start: bool) -> bool:
    """Does the block show all weeks since the season began, and is there a way at all?"""
    prepared = [w for w in way if w.phase in (GENERAL, SPECIFIC, PRE)]
    return bool(prepared) and (known_start or way[0].phase == GENERAL)


def _weeks(n: int) -> str:
    return "1 week" if n == 1 else f"{n} weeks"
