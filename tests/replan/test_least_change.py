"""The price of a re-plan is the least there is: compared with another solver on the same rows.

A hundred random small disruptions with PLANNER_PROOF=100 (the number is the environment's), twenty otherwise. Each
athlete has a coach, so that every slot has a timetable: the price is that of the rows alone.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from functools import cache
from random import Random
from types import SimpleNamespace
from typing import Any

import pytest
from solve.test_three_ways import _highs

from planner.domain.block import Coach, Limit, RuleSetting
from planner.domain.facts import Done, Fact
from planner.domain.plan import Placement
from planner.domain.problem import Count, Problem
from planner.flow import Settings
from planner.options import KEEP, Case
from planner.replan import ABOVE_ALL, least_change, who_may_change
from planner.rules import book
from planner.rules._tiny import MONDAY, World, problem
from planner.season.replan import Asked, Stand, problem_for_replan, standing
from planner.solve import solve
from planner.solve.linear import linear_model
from planner.solve.rows import write_rows

NUMBERS = int(os.environ.get("PLANNER_PROOF", "20"))
SECONDS = 60.0  # for the other solver; a tiny world takes a moment
UNITS = ("flying-sprints", "stick-runs", "short-long-jumps", "full-run-ups", "heavy-strength", "extensive-tempo")
IMPORTANCE = ("key", "key", "supporting", "if there is time")
KINDS = ("missed", "slot closed", "limit", "place closed")


@dataclass(frozen=True)
class Held:
    """A held plan of a tiny squad, and what happened to it."""

    before: Problem
    held: tuple[Placement, ...]
    after: Problem
    stand: Stand
    news: tuple[Fact, ...]
    now: datetime
    kind: str


@cache
def case(number: int) -> Held:
    """Everything follows from the number."""
    r = Random(number)
    units = sorted(r.sample(UNITS, 3))
    made = problem(
        World(units, days=r.choice((4, 5)), athletes=2, capacity=r.choice((1, 2, 9)), preparation=False)
    )
    second = tuple(replace(x, name="Lou", coach=Coach("Lou")) for x in made.block.presences)
    made = replace(made, block=replace(made.block, presences=(*made.block.presences, *second)))
    matters = {u: r.choice(IMPORTANCE) for u in units}
    weeks = {
        name: tuple(replace(w, counts={f: Count(1, 2, 3) for f in w.counts}) for w in own)
        for name, own in made.weeks.items()
    }
    candidates = tuple(replace(p, importance=matters[p.unit.id]) for p in made.candidates)
    before = replace(made, weeks=weeks, candidates=candidates)
    held = solve(before, budget="quick").placements
    now = datetime.combine(MONDAY + timedelta(r.choice((0, 1))), datetime.min.time()).replace(hour=22)
    kind = r.choice(KINDS)
    after, news = _happened(r, kind, before, held, now)
    return Held(before, held, after, standing(after, held, news, now), news, now, kind)


def _happened(
    r: Random, kind: str, before: Problem, held: Sequence[Placement], now: datetime
) -> tuple[Problem, tuple[Fact, ...]]:
    """The problem as it is now, and the facts that say so."""
    past = [p for p in held if p.begins < now]
    to_come = [p for p in held if p.begins >= now]
    if kind == "missed" and past:
        p = r.choice(past)
        told = now.replace(tzinfo=UTC)
        day = [q for q in past if (q.athlete, q.day) == (p.athlete, p.day)]
        return before, tuple(
            Done(
                recorded_at=told, athlete=q.athlete, day=q.day, slot=q.slot, unit=q.unit.id, word=q.dose.word,
                remark="missed", id=i + 1,
            )
            for i, q in enumerate(day)
        )  # fmt: skip
    if not to_come:
        return before, ()
    p = r.choice(to_come)
    if kind == "limit":
        limit = Limit(p.athlete, r.choice(("hamstring", "knee")), "both", r.choice((2, 3, 4)), begins=now.date())
        return replace(before, block=replace(before.block, limits=(limit,))), ()

    def closed(q: Placement) -> bool:
        same = (q.day, q.slot) == (p.day, p.slot)
        return same and (kind == "slot closed" or q.place == p.place)

    gone = tuple(q for q in before.candidates if not closed(q))
    openings = tuple(
        o for o in before.block.openings
        if not ((o.day, o.slot) == (p.day, p.slot) and (kind == "slot closed" or o.place.name == p.place))
    )  # fmt: skip
    return replace(before, candidates=gone, block=replace(before.block, openings=openings)), ()


def planned_anew(made: Held, held: Sequence[Placement], stand: Stand) -> tuple[Placement, ...]:
    """The placements of the re-plan, by the same path as the command's."""
    stored: Any = SimpleNamespace(placements=tuple(held))
    whole = Case(
        stored, stored, made.before, made.after, stand, made.news, frozenset(), frozenset(), made.now, made.news
    )
    settings = Settings(lambda _: made.now.replace(tzinfo=UTC), budget="normal")
    return least_change(whole, settings).outcome.plan.placements


def asked_of(made: Held, opened: frozenset[str], touched: frozenset[str]) -> Problem:
    """The problem that the other solver gets: the same question, put together here."""
    asked = problem_for_replan(made.after, made.stand, made.held, Asked(touched, opened, made.now), made.before)
    dear = RuleSetting(KEEP, "weight", ABOVE_ALL)
    return replace(asked, block=replace(asked.block, settings=(*asked.block.settings, dear)))


@pytest.mark.parametrize("number", range(NUMBERS))
def test_the_price_is_the_least(number: int) -> None:
    made = case(number)
    after = planned_anew(made, made.held, made.stand)
    touched, *wider = list(who_may_change(made.after, made.stand, made.news))
    for opened in (touched, *wider):
        store = write_rows(asked_of(made, opened, touched), book())
        least = _highs(linear_model(store), "should", None, SECONDS)
        if least is None:
            continue
        paid = store.evaluate(frozenset(after))
        assert not paid.broken
        assert paid.total("should") == least, f"{made.kind}: paid {paid.total('should')}, least {least}"
        break
    else:
        pytest.fail("the other solver finds no plan at all")
    left_alone = [(p.key, p.dose.amount) for p in after if p.athlete not in opened]
    assert left_alone == [(p.key, p.dose.amount) for p in made.held if p.athlete not in opened]


@pytest.mark.parametrize("number", range(0, NUMBERS, 4))
def test_a_second_re_plan_changes_nothing(number: int) -> None:
    made = case(number)
    after = planned_anew(made, made.held, made.stand)
    calm = replace(made, before=made.after, news=())
    stand = standing(made.after, after, made.news, made.now)
    assert planned_anew(calm, after, stand) == after


@pytest.mark.parametrize("number", range(0, NUMBERS, 4))
def test_with_nothing_recorded_nothing_moves(number: int) -> None:
    made = case(number)
    calm = replace(made, after=made.before, news=())
    assert planned_anew(calm, made.held, standing(made.before, made.held, (), made.now)) == made.held


def test_the_disruptions_are_of_every_kind() -> None:
    """Among the cases every kind happens, some plan changes, and some key unit moves or is lost."""
    cases = [case(n) for n in range(NUMBERS)]
    assert {c.kind for c in cases} == set(KINDS)
    changed = [c for c in cases if planned_anew(c, c.held, c.stand) != c.held]
    assert len(changed) > NUMBERS // 4
