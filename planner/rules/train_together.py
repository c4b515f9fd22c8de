"""Athletes of one event train together: a group opens no more sessions of a kind than it needs.

A group is the coach's own, else all athletes with the same first event. Each unit it does in a slot is one
opening, however many take part. In a week the group needs as many openings of a family as the largest target
among its athletes; each one more counts.
"""

from collections.abc import Iterator
from datetime import date

from planner.catalogue import family_in_words
from planner.domain.block import Athlete
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import AthleteWeek, Count, Problem
from planner.domain.view import PlanView
from planner.rules._board import Board, Column
from planner.rules._rule import Example, Reach, Rule, Source
from planner.rules._tiny import World, problem

_ONE: dict[str, object] = {"week": {"counts": {"top-speed": Count(0, 1, 3)}}}
RULE = Rule(
    id="train_together",
    tier="prefer",
    scope="squad",
    reach=Reach(whole_weeks=True),
    weight=1,
    source=Source("common practice", "the coach's time, and morale; common practice, no source"),
    examples=(
        Example("flying-sprints | - | - | -\nflying-sprints | - | - | -", 0, "together", _ONE),
        Example("flying-sprints | - | - | -\n- | - | - | flying-sprints", 1, "each alone", _ONE),
        Example("- | - | - | flying-sprints\n- | - | - | build-ups", 1, "one slot, two units", _ONE),
        Example("flying-sprints | - | - | build-ups", 0, "there is nobody to train with", _ONE),
        Example("flying-sprints | - | - | -\n- | - | - | flying-sprints", 0, "of two events", {
            **_ONE, "persons": (Athlete("Ada", events=("long jump",)), Athlete("Bo", events=("100 m",)))}),
        Example("extensive-tempo | - | - | -\nextensive-tempo | - | - | -", 1, "not wanted, once for both", _ONE),
    ),
)  # fmt: skip


def universe() -> Problem:
    return problem(World(("flying-sprints", "build-ups"), days=3, athletes=2, **_ONE))  # type: ignore[arg-type]


def _groups(problem: Problem) -> Iterator[tuple[str, dict[date, list[AthleteWeek]]]]:
    """Each group of two or more, with its athletes' weeks by the date they begin."""
    members: dict[str, list[str]] = {}
    for a in problem.block.athletes:
        members.setdefault(a.group or (a.events[0] if a.events else "all"), []).append(a.name)
    for group, names in sorted(members.items()):
        weeks: dict[date, list[AthleteWeek]] = {}
        for name in names if len(names) > 1 else ():
            for week in problem.weeks[name]:
                weeks.setdefault(week.begins, []).append(week)
        yield group, weeks


def _needed(weeks: list[AthleteWeek], family: str) -> int:
    return max(w.counts[family].target if family in w.counts else 0 for w in weeks)


def constrain(board: Board, problem: Problem) -> None:
    for _, by_date in _groups(problem):
        for _, weeks in sorted(by_date.items()):
            openings: dict[str, dict[tuple[date, str, str], list[Column]]] = {}
            for week in weeks:
                for day in week.days:
                    for p in problem.known_on(week.athlete, day):
                        if p.unit.family not in ("recovery", "preparation"):
                            same = openings.setdefault(p.unit.family, {})
                            same.setdefault((p.day, p.slot, p.unit.id), []).append(board.placed(p))
            where = Where(day=min(d for w in weeks for d in w.days))
            for family, same in sorted(openings.items()):
                opened = [(1, board.any_of(columns)) for _, columns in sorted(same.items())]
                board.at_most(opened, _needed(weeks, family), where)


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for group, by_date in _groups(problem):
        for begins in sorted(by_date):
            weeks = by_date[begins]
            done: list[Placement] = [p for w in weeks for p in view.in_week(w)]
            for family in sorted({p.unit.family for p in done} - {"recovery", "preparation"}):
                opened = {(p.day, p.slot, p.unit.id) for p in done if p.unit.family == family}
                needed = _needed(weeks, family)
                if len(opened) > needed:
                    day = min(d for w in weeks for d in w.days)
                    facts = {"group": group, "family": family, "n": len(opened), "needed": needed}
                    tier = RULE.tier_at(problem, "", day)
                    found.append(Finding(RULE.id, tier, len(opened) - needed, "", day, facts=facts))
    return found


def explain(finding: Finding) -> str:
    facts = finding.facts
    return (
        f"{facts['group']}, week of {finding.day:%a %d %b}: {family_in_words(str(facts['family']))} in "
        f"{facts['n']} groups, {facts['needed']} would do if all trained together. Maybe bring two of them "
        "to the same slot."
    )
