"""A limit holds: no unit loads the region and side, or asks of the athlete, more than its stage allows.

Stages are set by people only. A stage has a highest load for the region and side, a highest demand for the
whole athlete, a highest percent of full effort for what loads the region, and units it takes out; at stage 4
units that load 3 there come in their lighter version.
Illness holds fast, tiring and hard work, a hold-back of the coach holds fast work.
What is settled is not spoken of.
"""

from datetime import timedelta

from planner.catalogue import return_stage
from planner.domain.block import Limit
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.units import Side
from planner.domain.view import PlanView
from planner.rules._board import Board, Column
from planner.rules._limits import load_at, region_words
from planner.rules._rule import Example, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

EASY_EFFORT = 4  # 0-10, in an illness and in the easy days after it; common practice, no source
_TUE = MONDAY + timedelta(1)


def _limit(region: str, stage: int, side: str = "both", **more: object) -> dict[str, object]:
    return {"block": {"limits": (Limit("Ada", region, side, stage, **more),)}}  # type: ignore[arg-type]


RULE = Rule(
    id="limits_by_region",
    tier="must",
    scope="athlete",
    reach=Reach(),
    source=Source(
        "consensus",
        "Macdonald and others 2019, British Journal of Sports Medicine (hamstring); Smith and others 2021, "
        "British Journal of Sports Medicine (ankle); stages and figures common practice.",
    ),
    examples=(
        Example("upper-body | mobility", 0, "nothing on the hamstring", _limit("hamstring", 1)),
        Example("extensive-tempo | -", 1, "load 1 at stage 1", _limit("hamstring", 1)),
        Example(
            "- | flying-sprints", 1, "out at stage 3, and too much, counted once", _limit("hamstring", 3)
        ),
        Example("full-long-jumps | -", 1, "load 3 at stage 4, full", _limit("knee", 4, "left")),
        Example("full-long-jumps lighter | -", 0, "lighter at stage 4", _limit("knee", 4, "left")),
        Example(
            "full-long-jumps | -", 1, "right knee: load 2, but fast at stage 4", _limit("knee", 4, "right")
        ),
        Example(
            "flying-sprints | flying-sprints", 1, "held back on Tuesday", _limit("whole", 4, begins=_TUE)
        ),
        Example("extensive-tempo | mobility", 1, "illness at stage 2", _limit("illness", 2)),
        Example("mobility | -", 0, "illness at stage 1 leaves recovery", _limit("illness", 1)),
        Example("extensive-tempo lighter | easy-run", 0, "easy enough at effort 4 and 3", _limit("illness", 2)),
        Example("throws-technique | medicine-ball", 1, "shoulder at stage 4: 3 and 2", _limit("shoulder", 4)),
        Example(
            "extensive-bounds | flying-sprints",
            2,
            "a person ruled out a family and a unit",
            _limit("knee", 6, banned=("low-multi-jumps", "flying-sprints")),
        ),
        Example("resisted-accelerations | -", 1, "full effort at stage 3", _limit("hamstring", 3)),
        Example("resisted-accelerations | build-ups", 1, "full effort at stage 4", _limit("hamstring", 4)),
        Example("resisted-accelerations lighter | -", 0, "at 85 % nothing on it", _limit("hamstring", 3)),
        Example("short-accelerations | short-accelerations lighter", 1, "from 95 %, to 90 %", _limit("knee", 4)),
        Example("short-accelerations | -", 0, "full training at stage 5", _limit("knee", 5)),
        Example("build-ups | intensive-tempo", 1, "from 85 %; from 78 %", _limit("knee", 3)),
        Example("intensive-tempo | extensive-tempo", 1, "from 78 %; from 60 %", _limit("knee", 2)),
        Example("flying-sprints | flying-sprints", 0, "cleared", _limit("hamstring", 6)),
        Example("trial-long-jumps | -", 0, "the other leg is tried, the hurt one carries load 1",
                _limit("knee", 3, "left")),
        Example("trial-long-jumps lighter | -", 1, "the leg that would jump is the hurt one",
                _limit("knee", 3, "right")),
    ),
)


def universe() -> Problem:
    units = ("flying-sprints", "full-long-jumps", "extensive-tempo")
    limits = (
        Limit("Ada", "knee", "left", 4, begins=_TUE),
        Limit("Ada", "illness", "both", 1, ends=MONDAY),
        Limit("Bo", "hamstring", "right", 3),
    )
    return problem(World(units, days=2, athletes=2, kept="flying-sprints", block={"limits": limits}))


def _broken(limit: Limit, p: Placement, take_off_leg: Side) -> str:  # noqa: PLR0911  # one return for each way
    """In which way a placement goes beyond a limit, in words; '' when it does not."""
    stage = return_stage(limit.stage)
    if p.unit.id in limit.banned or p.unit.family in limit.banned:
        return "was ruled out"
    if limit.hold_back:
        return ""  # a ceiling without a region: a rule of its own
    if p.dose.neural > stage.most_neural:
        return f"is at level {p.dose.neural} of fast work, at most {stage.most_neural}"
    if limit.region == "illness" and p.dose.metabolic > stage.most_load:
        return f"tires at level {p.dose.metabolic}, at most {stage.most_load}"
    if limit.region == "illness" and p.dose.effort > EASY_EFFORT:
        return f"is of effort {p.dose.effort}, at most {EASY_EFFORT}"
    if p.unit.removed_by(limit.region, limit.stage, limit.side, take_off_leg):
        return "is not done at this stage"
    load = load_at(limit, p)
    if load > stage.most_load:
        return f"loads it by {load}, at most {stage.most_load}"
    percent = (p.unit.lighter if p.dose.word == "lighter" else p.unit.demand).percent
    if load and percent > stage.most_percent:
        return f"is done from {percent} % of full effort on, at most {stage.most_percent} %"
    return ""


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for day in problem.days:
            limits = problem.limits_on(athlete, day)
            leg = problem.block.athlete(athlete).take_off_leg
            too_much: dict[tuple[Limit, str], list[Column]] = {}
            for p in problem.on(athlete, day) if limits else ():
                broken = [x for x in limits if p not in problem.settled and _broken(x, p, leg)]
                if broken:
                    too_much.setdefault((broken[0], p.slot), []).append(board.placed(p))
            for (limit, slot), columns in too_much.items():
                board.at_most([(1, c) for c in columns], 0, Where(athlete, day, slot, limit.line))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for p in view.placements:
        if p in problem.settled:
            continue
        for limit in problem.limits_on(p.athlete, p.day):
            how = _broken(limit, p, problem.block.athlete(p.athlete).take_off_leg)
            if how:
                facts = {"unit": p.unit.name, "where": region_words(limit), "stage": limit.stage, "how": how}
                tier = RULE.tier_at(problem, p.athlete, p.day)
                found.append(Finding(RULE.id, tier, 1, p.athlete, p.day, p.slot, facts, limit.line))
                break
    return found


def explain(finding: Finding) -> str:
    f = finding.facts
    return (
        f"{finding.athlete}, limit {f['where']} (return stage {f['stage']}): {f['unit']} on "
        f"{finding.day:%a %d %b} {f['how']}. Maybe take its lighter version or work that leaves it alone."
    )
