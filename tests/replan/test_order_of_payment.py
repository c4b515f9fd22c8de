"""What a change costs, pair by pair: the dearer of two always outweighs the other, however often that comes."""

from __future__ import annotations

import itertools
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from types import SimpleNamespace
from typing import Any

import pytest

from planner.asking import Ask
from planner.domain.block import RuleSetting
from planner.domain.plan import Placement, Plan
from planner.domain.problem import Count, Problem
from planner.domain.view import PlanView
from planner.flow import Settings
from planner.options import Case
from planner.replan import answered, asked_for
from planner.rules import book, keep_handed_out
from planner.rules._tiny import MONDAY, World, draw, problem
from planner.season.replan import standing
from planner.solve.rows import write_rows

UNITS = ("flying-sprints", "stick-runs", "build-ups", "extensive-tempo")


def world(given: str, *, key: str = "", untouched: str = "", athletes: int = 1, days: int = 14) -> Problem:
    """Everybody was given the same days; units of that name are key, the others supporting."""
    made = problem(World(UNITS, days=days, athletes=athletes, amounts=("full", "lighter"), handed_out=given))
    handed_out = tuple(replace(p, importance="key" if p.unit.id == key else "supporting") for p in made.handed_out)
    now = datetime.combine(MONDAY - timedelta(1), datetime.min.time())
    alone = frozenset({untouched} if untouched else ())
    return replace(made, handed_out=handed_out, untouched=alone, now=now)


def points(made: Problem, *lines: str) -> int:
    """What these days cost as a change of what was handed out."""
    view = PlanView(Plan.of(draw(made, "\n".join(lines))), made)
    return sum(f.amount for f in keep_handed_out.check(view, made))


def test_a_key_unit_lost_outweighs_changes_of_an_untouched_athlete() -> None:
    given = " | ".join(["-"] * 12 + ["flying-sprints"] + ["extensive-tempo"])
    made = world(given, key="flying-sprints", untouched="Bo", athletes=2)
    lost = points(made, " | ".join(["-"] * 13 + ["extensive-tempo"]), given)  # far off, and nothing else
    given_up = points(made, given, " | ".join(["-"] * 12 + ["flying-sprints lighter", "-"]))
    assert lost > given_up > 0


def test_an_untouched_athlete_outweighs_every_change_of_the_others() -> None:
    given = "stick-runs | extensive-tempo | stick-runs | extensive-tempo"
    made = world(given, untouched="Bo", athletes=2, days=4)
    one_of_bo = points(made, given, "stick-runs | extensive-tempo | stick-runs | extensive-tempo lighter")
    all_of_ada = points(made, "- | - | - | -", given)
    assert one_of_bo > all_of_ada > 0


def test_lighter_before_swap_before_another_day_before_left_out() -> None:
    made = world("- | - | flying-sprints | -", days=4)
    lighter = points(made, "- | - | flying-sprints lighter | -")
    swap = points(made, "- | - | build-ups | -")
    moved = points(made, "- | - | - | flying-sprints")
    left_out = points(made, "- | - | - | -")
    assert 0 < lighter < swap < moved < left_out


def test_another_slot_of_its_day_costs_as_little_as_lighter_and_both_sides_agree() -> None:
    """Rows and check count the same for every plan of two days with two slots each."""
    made = problem(
        World(("flying-sprints",), days=2, slots=("morning", "evening"), amounts=("full", "lighter"),
              handed_out="flying-sprints | -")
    )  # fmt: skip
    made = replace(made, now=datetime.combine(MONDAY, datetime.min.time()))
    lighter, morning = (points(made, day) for day in ("flying-sprints lighter | -", "morning: flying-sprints | -"))
    assert 0 < morning == lighter < points(made, "- | morning: flying-sprints")
    store = write_rows(made, {keep_handed_out.RULE.id: book()[keep_handed_out.RULE.id]})
    ways = made.candidates
    for chosen in itertools.chain.from_iterable(itertools.combinations(ways, n) for n in range(5)):
        found = store.evaluate(frozenset(chosen))
        if not found.broken:
            counted = sum(f.amount for f in keep_handed_out.check(PlanView(Plan.of(chosen), made), made))
            assert found.total("should") == counted, [p.key for p in chosen]


def test_nearer_days_are_dearer() -> None:
    given = " | ".join(["extensive-tempo"] * 14)
    made = world(given)
    costs = [
        points(made, " | ".join("-" if i == day else "extensive-tempo" for i in range(14))) for day in range(14)
    ]
    assert costs == sorted(costs, reverse=True) and costs[0] > costs[3] > costs[13]


def test_key_before_supporting() -> None:
    given = "flying-sprints | - | stick-runs | -"
    made = world(given, key="flying-sprints", days=4)
    assert points(made, "flying-sprints lighter | - | stick-runs") > points(
        made, "flying-sprints | - | stick-runs lighter"
    )


def test_what_was_missed_buys_no_key_unit() -> None:
    """Monday's key unit was missed: putting it where Wednesday's stands costs more than letting it go."""
    given = "flying-sprints | - | flying-sprints | -"
    made = replace(world(given, key="flying-sprints", days=4), now=datetime.combine(MONDAY, datetime.max.time()))
    let_go = points(made, "- | - | flying-sprints | -")
    instead = points(made, "- | flying-sprints | - | -")
    assert let_go < instead


# --- the whole re-plan: what a change costs against what it could gain ------------------------------------

LITTLE = 1  # points a step of change, beside which a gain wins: what the tests below would miss


def handed(made: Problem, drawn: str, key: str = "") -> Case:
    """Everybody holds these days, nothing was recorded since, and it is the morning of the first of them."""
    offered = (replace(p, importance="key") if p.unit.id == key else p for p in made.candidates)
    made = replace(made, candidates=tuple(offered))
    held: tuple[Placement, ...] = tuple(sorted(draw(made, drawn), key=lambda p: p.key))
    now = datetime.combine(MONDAY, datetime.min.time())
    stored: Any = SimpleNamespace(placements=held)
    return Case(stored, stored, made, made, standing(made, held, (), now), (), frozenset(), frozenset(), now)


def planned_anew(case: Case) -> tuple[Placement, ...]:
    """The plan when everybody may change, though nothing happened to anybody."""
    everybody = asked_for(case, frozenset(case.problem.athletes), Ask(), frozenset())
    return answered(everybody, Settings(lambda _: case.clock.replace(tzinfo=UTC)), None).plan.placements


def dear_targets(made: Problem, **wanted: int) -> Problem:
    """So many of each family are wanted in a week, and the coach lets every one missing cost 200 points."""
    counts = {family.replace("_", "-"): Count(n, n, 7) for family, n in wanted.items()}
    weeks = {n: tuple(replace(w, counts={**w.counts, **counts}) for w in own) for n, own in made.weeks.items()}
    dear = tuple(RuleSetting(rule, "weight", 200) for rule in ("weekly_minimum", "weekly_target"))
    return replace(made, weeks=weeks, block=replace(made.block, settings=dear))


def test_no_gain_on_targets_changes_what_was_handed_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two days of general work are wanted; two of heavy lifting were given, for which upper body may stand in."""
    made = dear_targets(problem(World(("heavy-strength", "upper-body"), days=5)), general=2, strength=0)
    case = handed(made, "- | heavy-strength | - | heavy-strength | -")
    assert planned_anew(case) == case.stand.to_come
    monkeypatch.setattr("planner.replan.ABOVE_ALL", LITTLE)
    assert [p.unit.id for p in planned_anew(case)] == ["upper-body", "upper-body"], "the gain would win"


def test_no_target_is_worth_a_key_unit(monkeypatch: pytest.MonkeyPatch) -> None:
    """The week is far above its target, and a key unit less would gain most of all."""
    made = dear_targets(problem(World(UNITS, days=5)), top_speed=0)
    case = handed(made, "- | flying-sprints | - | flying-sprints | -", key="flying-sprints")
    assert planned_anew(case) == case.stand.to_come
    monkeypatch.setattr("planner.replan.ABOVE_ALL", LITTLE)
    assert len(planned_anew(case)) < 2, "the gain would win"


def test_no_preference_changes_what_was_handed_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two athletes of one event sprint on two days; both might move, and to train together is much preferred."""
    together = RuleSetting("train_together", "weight", 200)
    drawn = "- | flying-sprints | - | - | -\n- | - | flying-sprints | - | -"
    once = {"counts": {"top-speed": Count(1, 1, 7)}, "fast_days": Count(0, 1, 7), "training_days": Count(0, 1, 7)}
    made = problem(World(UNITS, days=5, athletes=2, block={"settings": (together,)}, week=once))
    case = handed(made, drawn, key="flying-sprints")
    assert planned_anew(case) == case.stand.to_come
    monkeypatch.setattr("planner.replan.ABOVE_ALL", LITTLE)
    among_them = (together, RuleSetting("keep_handed_out", "tier", "prefer"))
    made = replace(made, block=replace(made.block, settings=among_them))
    ada, bo = planned_anew(handed(made, drawn, key="flying-sprints"))
    assert ada.day == bo.day, "the gain would win, were keeping one preference among others"


def test_a_must_outweighs_a_key_unit() -> None:
    """Two fast days running cannot stand and there is no third day: one of them is lost, the other stays."""
    case = handed(problem(World(UNITS, days=2)), "flying-sprints | flying-sprints", key="flying-sprints")
    fast = [p.key for p in planned_anew(case) if p.dose.neural == 3]
    assert len(fast) == 1 and fast[0] in {p.key for p in case.stand.to_come}
