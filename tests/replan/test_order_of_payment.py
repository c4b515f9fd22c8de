"""What a change costs, pair by pair: the dearer of two always outweighs the other, however often that comes."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from types import SimpleNamespace
from typing import Any

from planner.asking import Ask
from planner.domain.plan import Placement, Plan
from planner.domain.problem import Count, Problem
from planner.domain.view import PlanView
from planner.flow import Settings
from planner.options import Case
from planner.replan import answered, asked_for
from planner.rules import keep_handed_out
from planner.rules._tiny import MONDAY, World, draw, problem
from planner.season.replan import standing

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


def test_no_gain_on_targets_moves_what_was_handed_out() -> None:
    """Everybody may be planned anew, and the week is far below its targets: the plan stays as it was."""
    made = problem(World(UNITS, days=5, athletes=2))
    wanted = {u: Count(2, 3, 4) for u in ("top-speed", "acceleration", "tempo")}
    weeks = {n: tuple(replace(w, counts={**w.counts, **wanted}) for w in own) for n, own in made.weeks.items()}
    made = replace(made, weeks=weeks)
    held: tuple[Placement, ...] = draw(made, "- | flying-sprints | - | - | -\n- | - | - | flying-sprints | -")
    now = datetime.combine(MONDAY, datetime.min.time())
    stored: Any = SimpleNamespace(placements=held)
    case = Case(stored, stored, made, made, standing(made, held, (), now), (), frozenset(), frozenset(), now)
    everybody = asked_for(case, frozenset(made.athletes), Ask(), frozenset())
    assert len(everybody.candidates) > len(held), "there is something to choose"
    after = answered(everybody, Settings(lambda _: now.replace(tzinfo=UTC)), None).plan.placements
    assert after == tuple(sorted(held, key=lambda p: p.key))
