"""An exception says what it costs, or that it no longer bites."""

from __future__ import annotations

from datetime import timedelta

from planner.domain.block import RuleSetting
from planner.domain.plan import Plan
from planner.review import review
from planner.review.exceptions import prices
from planner.rules._tiny import MONDAY, World, draw, problem

REASON = "two-day rehearsal before the combined events"


def setting(rule: str) -> RuleSetting:
    return RuleSetting(rule, "off", 1, "Ada", MONDAY, MONDAY + timedelta(2), REASON)


def world(*rules: str) -> World:
    settings = tuple(setting(r) for r in rules)
    return World(("flying-sprints", "mobility"), days=4, block={"settings": settings})


def test_two_fast_days_running_show_sum_easy_day_and_what_to_watch() -> None:
    made = problem(world("no_two_fast_days_running", "two_day_sum"))
    plan = Plan.of(draw(made, "flying-sprints | flying-sprints | mobility | -"))
    broken = {f.rule for f in review(plan, made).musts_broken}
    assert not broken & {"no_two_fast_days_running", "two_day_sum"}
    running, total = prices(plan, made)
    assert running.bites and total.bites
    text = str(running)
    assert "come to 6 on the two-day scale" in text and "Wed 03 Mar is easy" in text
    assert "first two runs" in text and REASON in text


def test_a_third_day_that_is_not_easy_is_said() -> None:
    made = problem(world("no_two_fast_days_running"))
    plan = Plan.of(draw(made, "flying-sprints | flying-sprints | flying-sprints | -"))
    assert "Wed 03 Mar should be easy and is not" in str(prices(plan, made)[0])


def test_an_exception_that_no_longer_bites_is_reported() -> None:
    made = problem(world("no_two_fast_days_running"))
    plan = Plan.of(draw(made, "flying-sprints | - | flying-sprints | -"))
    (price,) = prices(plan, made)
    assert not price.bites and price.amount == 0 and "no longer bites" in str(price)


def test_the_amount_is_what_the_rule_would_count() -> None:
    made = problem(world("two_day_sum"))
    plan = Plan.of(draw(made, "flying-sprints | flying-sprints | - | -"))
    (price,) = prices(plan, made)
    assert price.amount == 1  # 3 + 3 is one above 5, the most two days may come to


def test_fast_run_ups_on_following_days_name_their_stop_line() -> None:
    setting_ = setting("hours_to_recover_floor")
    units = ("full-long-jumps", "run-up-pop-off", "mobility")
    made = problem(World(units, days=4, block={"settings": (setting_,)}))
    plan = Plan.of(draw(made, "full-long-jumps | run-up-pop-off | mobility | -"))
    text = " ".join(str(p) for p in prices(plan, made))
    assert "come to 6 on the two-day scale" in text and "Wed 03 Mar is easy" in text
    assert "first two run-ups" in text
    stop = next(p.unit.stop_rule for p in plan.placements if p.unit.id == "run-up-pop-off")
    assert stop and f"Stop line: Full run-ups with pop-off: {stop}." in text


def test_hours_that_are_short_without_two_fast_days_show_no_sum() -> None:
    block = {"settings": (setting("hours_to_recover"),)}
    made = problem(World(("flying-sprints", "mobility"), days=4, block=block))
    plan = Plan.of(draw(made, "flying-sprints | - | flying-sprints | -"))
    assert "two-day scale" not in " ".join(str(p) for p in prices(plan, made))
