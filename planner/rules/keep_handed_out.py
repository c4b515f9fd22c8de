"""What athletes were handed stays as it is, unless something that happened moves it; then as little as can be.

Counted for every handed-out unit: lighter 1, another unit of its family in its place 2, moved to another day 3,
left out 4; times how much it matters and how near it is. Whatever is new counts one. In a first plan nothing was
handed out, and the rule says nothing; nor does it of a week that a moved competition opens: that one is planned
anew.
"""

from datetime import timedelta

from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement, PlacementKey
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.rules._board import Board, Term
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

MATTERS = {"key": 8, "supporting": 4, "if there is time": 2}  # coach's decision
DAYS = {"fast": "flying-sprints | - | extensive-tempo"}
RULE = Rule(
    id="keep_handed_out",
    tier="should",
    scope="squad",
    reach=Reach(back=2, forward=2),
    weight=1,
    source=Source("coach's decision", "Athletes plan their lives; common practice, no source."),
    parameters={
        "most": Parameter(0, "points of change", 0, 1_000_000, "what may change at the most"),
        "near_days": Parameter(2, "days", 0, 14, "sessions nearer than this count threefold"),
        "week_days": Parameter(7, "days", 0, 28, "sessions nearer than this count twice"),
        "move_days": Parameter(2, "days", 0, 7, "a unit on another day within these is a move"),
    },
    examples=(
        Example("flying-sprints | - | extensive-tempo", 0, "as handed out", {"handed_out": DAYS["fast"]}),
        Example("- | - | extensive-tempo", 48, "left out: 4 x 4 x 3 for the nearest days", {
            "handed_out": DAYS["fast"], "units": ("flying-sprints", "extensive-tempo")}),
        Example("flying-sprints | - | -", 32, "the last day left out: 4 x 4 x 2", {
            "handed_out": DAYS["fast"], "units": ("flying-sprints", "extensive-tempo")}),
        Example("flying-sprints | extensive-tempo | -", 25, "moved by a day: 3 x 4 x 2, and 1 for what is new", {
            "handed_out": DAYS["fast"], "units": ("flying-sprints", "extensive-tempo")}),
        Example("- | flying-sprints | -", 0, "the week is planned anew", {
            "handed_out": DAYS["fast"], "units": ("flying-sprints", "extensive-tempo"), "opened": True}),
    ),
)  # fmt: skip


def universe() -> Problem:
    units = ("flying-sprints", "stick-runs")
    return problem(
        World(units, days=3, amounts=("full", "lighter"), handed_out="flying-sprints | - | stick-runs lighter")
    )


def worth(problem: Problem, p: Placement) -> int:
    """Points of one step of change of a handed-out unit."""
    begins = problem.now.date() if problem.now else MONDAY
    days = (p.day - begins).days
    near = 3 if days < RULE.number(problem, "near_days") else 2 if days < RULE.number(problem, "week_days") else 1
    return MATTERS[p.importance] * near


def held(problem: Problem) -> tuple[Placement, ...]:
    """What was handed out and is to be kept: all of it, but for weeks that are planned anew."""
    return tuple(p for p in problem.handed_out if not problem.opened_on(p.athlete, p.day))


def constrain(board: Board, problem: Problem) -> None:
    if not problem.handed_out:
        return
    terms: list[Term] = []
    whole = 0
    given = {p.key for p in problem.handed_out}
    moves = RULE.number(problem, "move_days")
    for h in held(problem):
        free = [p for p in problem.known_on(h.athlete, h.day) if p.slot == h.slot]
        same = [p for p in free if p.unit.id == h.unit.id]
        swapped = [p for p in free if p.unit.family == h.unit.family and p.key not in given]
        moved = [
            p
            for i in range(-moves, moves + 1)
            for p in problem.known_on(h.athlete, h.day + timedelta(i))
            if p.unit.id == h.unit.id and p.key not in given
        ]
        exact = [p for p in same if p.key == h.key]
        k = worth(problem, h)
        for ladder in (exact, same, [*same, *swapped], [*same, *swapped, *moved]):
            terms.append((-k, board.any_of(board.placed(p) for p in ladder)))
        whole += 4 * k
    terms += [
        (1, board.placed(p))
        for p in problem.candidates
        if p.key not in given and not problem.opened_on(p.athlete, p.day)
    ]
    board.at_most(terms, RULE.number(problem, "most") - whole, Where())


def check(view: PlanView, problem: Problem) -> list[Finding]:
    given = {p.key for p in problem.handed_out}
    settled = {p.key for p in (*problem.kept, *problem.history)}
    points = 0
    for h in held(problem):
        points += steps(view, problem, h, given) * worth(problem, h)
    if problem.handed_out:
        fresh = [p for p in view.placements if p.key not in given and p.key not in settled]
        points += sum(1 for p in fresh if not problem.opened_on(p.athlete, p.day))
    over = points - RULE.number(problem, "most")
    return [Finding(RULE.id, RULE.tier_at(problem), over, facts={"points": points})] if over > 0 else []


def steps(view: PlanView, problem: Problem, h: Placement, given: set[PlacementKey]) -> int:
    """0 as handed out, 1 lighter (or full), 2 another unit of the family, 3 another day, 4 left out."""
    here = [p for p in view.on(h.athlete, h.day) if p.slot == h.slot]
    if any(p.key == h.key for p in here):
        return 0
    if any(p.unit.id == h.unit.id for p in here):
        return 1
    if any(p.unit.family == h.unit.family and p.key not in given for p in here):
        return 2
    for i in range(1, RULE.number(problem, "move_days") + 1):
        for day in (h.day - timedelta(i), h.day + timedelta(i)):
            if any(p.unit.id == h.unit.id and p.key not in given for p in view.on(h.athlete, day)):
                return 3
    return 4


def explain(finding: Finding) -> str:
    return (
        f"What was handed out changes by {finding.facts['points']} points (lighter 1, swapped 2, moved 3, left "
        "out 4, by how much it matters and how near it is). Maybe this is the least that what happened asks for."
    )
