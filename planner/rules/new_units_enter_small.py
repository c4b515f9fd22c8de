"""What is new comes in small: in its first week a unit is done in its lighter version.

New is what the four calendar weeks before do not hold. Meant are fast and jumping units, lifts, and robustness
work; a competition stands for the fast units of which it consists. Judged where these four weeks are known day by
day, and where the lighter version is offered.
"""

from datetime import date, timedelta

from planner.domain.block import Competition, Limit
from planner.domain.finding import Finding, Tier, Where
from planner.domain.plan import Placement
from planner.domain.problem import AthleteWeek, Problem
from planner.domain.units import Unit
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._new import days_before, known_before, known_in
from planner.rules._rule import Example, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

ECCENTRIC = "robustness"
IN_COMPETITION = (
    "acceleration", "top-speed", "speed-endurance", "special-endurance", "run-ups", "full-jumps", "hurdles",
)  # fmt: skip


def _tier(problem: Problem, athlete: str) -> Tier:
    returning = any(x.athlete == athlete and 3 <= x.stage <= 5 for x in problem.block.limits)
    return "must" if returning or problem.block.athlete(athlete).level == "novice" else "should"


_BOTH: dict[str, object] = {"block": {"previous": "winter.yaml"}, "amounts": ("full", "lighter")}
_RACE = Competition("open meeting", "Ada", MONDAY - timedelta(8), MONDAY - timedelta(8))


def _known_from(**block: object) -> dict[str, object]:
    return {**_BOTH, "history": "mobility | -", "block": {"previous": "winter.yaml", **block}}


def _at_stage(stage: int) -> dict[str, object]:
    return _known_from(limits=(Limit("Ada", "low-back", "both", stage),))


RULE = Rule(
    id="new_units_enter_small",
    tier="should",
    tier_for=_tier,
    scope="athlete",
    reach=Reach(back=28, whole_weeks=True),
    weight=8,
    source=Source("common practice", "Common practice, no source: a body bears best what it has met before."),
    examples=(
        Example("depth-jumps lighter | - | - | depth-jumps lighter", 0, "small all week",
                {**_BOTH, "history": "mobility | -"}),
        Example("depth-jumps | - | - | depth-jumps", 1, "full in its first week, at the first edge",
                {**_BOTH, "history": "mobility | -"}),
        Example("- | - | - | depth-jumps", 1, "at the last edge", {**_BOTH, "history": "mobility | -"}),
        Example("depth-jumps | - | - | -", 0, "done last week", {**_BOTH, "history": "depth-jumps | -"}),
        Example("depth-jumps | - | - | -", 0, "nothing is known of the time before"),
        Example("depth-jumps | - | - | -", 0, "an earlier block is named and tells nothing", _BOTH),
        Example("depth-jumps | - | - | -", 0, "it tells last dates only",
                {**_BOTH, "history": "before: mobility"}),
        Example("extensive-tempo | - | - | -", 0, "easy work is not meant", {**_BOTH, "history": "mobility | -"}),
        Example("heavy-strength | - | - | robustness", 2, "lifts and robustness are",
                {**_BOTH, "history": "mobility | -"}),
        Example("flying-sprints | long-accelerations | depth-jumps | -", 1, "a competition stood for the sprints",
                _known_from(competitions=(_RACE,))),
        Example("depth-jumps | - | - | -", 1, "a must at return stage 3", _at_stage(3), tier="must"),
        Example("depth-jumps | - | - | -", 1, "still one at stage 5", _at_stage(5), tier="must"),
        Example("depth-jumps | - | - | -", 1, "cleared, at stage 6", _at_stage(6), tier="should"),
    ),
)  # fmt: skip


def universe() -> Problem:
    """Saturday to Tuesday, over two weeks; what Sunday brings is not new on Monday."""
    return problem(
        World(
            ("depth-jumps", "flying-sprints"),
            days=4,
            first=MONDAY + timedelta(5),
            amounts=("full", "lighter"),
            history="flying-sprints | -",
            block={"previous": "winter.yaml"},
            level="novice",
        )
    )


def _meant(unit: Unit) -> bool:
    return unit.demand.neural >= 2 or unit.id == ECCENTRIC


def _by_competition(problem: Problem, athlete: str, unit: Unit, days: tuple[date, ...]) -> bool:
    return unit.family in IN_COMPETITION and any(problem.competition_on(athlete, d) for d in days)


def _offers(problem: Problem, week: AthleteWeek) -> dict[str, list[Placement]]:
    """By unit: the full placements that may be chosen this week, where the lighter version may be as well."""
    full: dict[str, list[Placement]] = {}
    lighter: set[str] = set()
    stands: set[str] = set()
    for p in known_in(problem, week.athlete, week.days):
        if p in problem.settled:
            stands |= {p.unit.id} if p.dose.word == "full" else set()
        elif p.dose.word == "full":
            full.setdefault(p.unit.id, []).append(p)
        else:
            lighter.add(p.unit.id)
    return {u: full[u] for u in sorted(full) if u in lighter and u not in stands and _meant(full[u][0].unit)}


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            if not known_before(problem, athlete, week.begins):
                continue
            before = days_before(week.begins)
            past: dict[str, list[Placement]] = {}
            for p in known_in(problem, athlete, before):
                past.setdefault(p.unit.id, []).append(p)
            for unit, placements in _offers(problem, week).items():
                if not _by_competition(problem, athlete, placements[0].unit, before):
                    done = board.any_of(map(board.placed, past.get(unit, ())))
                    here = board.any_of(map(board.placed, placements))
                    board.implies(here, [done], Where(athlete, week.first_day))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            if not known_before(problem, athlete, week.begins):
                continue
            before = days_before(week.begins)
            done = {p.unit.id for d in before for p in view.on(athlete, d)}
            asked = _offers(problem, week)
            full = {p.unit.id: p.unit for p in view.in_week(week) if p.dose.word == "full"}
            for name in sorted(full):
                if name in done or name not in asked or _by_competition(problem, athlete, full[name], before):
                    continue
                tier = RULE.tier_at(problem, athlete, week.first_day)
                facts = {"unit": full[name].name}
                found.append(Finding(RULE.id, tier, 1, athlete, week.first_day, facts=facts))
    return found


def explain(finding: Finding) -> str:
    return (
        f"{finding.athlete}, week of {finding.day:%a %d %b}: {finding.facts['unit']}, not done in the four weeks "
        "before, come in their full amount. Maybe take the lighter version in the first week."
    )
