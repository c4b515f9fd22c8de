"""What a re-plan is asked for beyond the least change, and when it is refused: too early, too late, no such."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING, TypeVar

from planner.domain.dates import said_day
from planner.domain.errors import Told
from planner.domain.facts import Fact
from planner.domain.plan import Placement, Plan
from planner.domain.problem import Problem
from planner.domain.revision import Revision

if TYPE_CHECKING:
    from planner.ledger import Ledger
    from planner.season.replan import Stand

Chosen = TypeVar("Chosen")


class NoSuchOption(Told):
    """There are fewer ways than that."""


class TooEarly(Told):
    """Something before the day from which the plan may change cannot stay as it is."""


class TooLate(Told):
    """Another way was asked for after the first one was handed out."""


@dataclass(frozen=True)
class Ask:
    """What a re-plan is asked for: the first day it may change, gains beyond the least change, an option.

    `option` counts from 1, the least change; 0 leaves the question open and takes the first.
    """

    since: date | None = None
    improve: bool = False
    option: int = 0


LEAST = Ask()


def cannot_stay(problem: Problem, stand: Stand, since: date) -> list[str]:
    """What was handed out before a day and cannot stay: no longer on offer, or against a must by itself."""
    from planner.review import review, sentence
    from planner.rules import book

    rules = book()
    said = [
        f"{p.athlete}, {said_day(p.day)}, {p.slot}: {p.name} can no longer be had as it was "
        f"handed out, and nothing before {since} may change."
        for p in lost(problem, stand)
        if p.day < since
    ]
    as_held = replace(problem, kept=stand.settled, handed_out=())
    for f in review(Plan.of(stand.to_come), as_held).musts_broken:
        if f.day is not None and f.day < since and not rules[f.rule].rule.reach.whole_weeks:
            said.append(sentence(f))
    return said


def lost(problem: Problem, stand: Stand) -> list[Placement]:
    """What is still to come and no longer on offer: closed, away, against a limit."""
    offered = {_where(p, problem) for p in problem.candidates}
    return [p for p in stand.to_come if _where(p, problem) not in offered]


def base_of(ledger: Ledger, current: Revision, facts: Sequence[Fact]) -> int:
    """The revision that stood before the last fact: what an option is an option to.

    TooLate when what a re-plan made since then was handed out.
    """
    told = [f.recorded_at for f in facts]
    if not told or max(told) > current.made_at:
        return current.number
    earlier = [r.revision for r in ledger.history() if r.revision.made_at < max(told)]
    if not earlier:
        return current.number
    given = [h.revision for h in ledger.handed_out() if h.handed_out_at > max(told)]
    if given:
        raise TooLate(
            f"revision {given[-1]} was handed out since the last fact; athletes rely on it.\n"
            "Maybe record what happened now, and re-plan from there."
        )
    return earlier[-1].number


def numbered(number: int, ways: Sequence[Chosen]) -> Chosen:
    """The way of that number; NoSuchOption says how many there are."""
    if number > len(ways):
        have = f"{len(ways)} way{'s' if len(ways) > 1 else ''}"
        raise NoSuchOption(
            f"--option: found {number}, but what was recorded leaves {have}.\n"
            "Maybe look at them first: planner replan FILE --options"
        )
    return ways[number - 1]


def reason_of(news: int, ask: Ask) -> str:
    """The reason of a revision: how much was told, and what else was asked for."""
    facts = f"re-planned, {news} new {'fact' if news == 1 else 'facts'}"
    extra = (
        f", option {ask.option}" if ask.option > 1 else "",
        f", nothing before {ask.since}" if ask.since else "",
        ", improved" if ask.improve else "",
    )
    return facts + "".join(extra)


def _where(p: Placement, problem: Problem) -> tuple[object, ...]:
    """What an athlete holds of a unit: day, slot, when and where; the amount may be either.

    Places of a kind are alike: the timetable may have sent somebody to the second pit.
    """
    return (p.athlete, p.day, p.slot, p.unit.id, p.begins, p.venue, problem.kind_of_place(p))
