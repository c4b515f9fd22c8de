"""A session fits into the hours in which its places are open.

Minutes of a session: 25 of warm-up, its units after the warm-up, and what preparation takes beyond 15. Where
a gym opens after the track, each place holds its own units; the warm-up is done once, where the session
begins. So for any opening time and any closing time, what can only be done between them fits between them.
"""

from collections.abc import Sequence
from datetime import datetime, time, timedelta

from planner.domain.block import Opening, Place
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.view import PREPARATION_INSIDE_WARM_UP, WARM_UP_MINUTES, PlanView
from planner.rules._board import Board, Term
from planner.rules._rule import Example, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

_TRACK, _PIT, _GYM = (Place("track", name, name) for name in ("straight", "pit", "gym"))
_OPEN = tuple(
    Opening(MONDAY + timedelta(i), "evening", place, begins, ends)
    for i in range(2)
    for place, begins, ends in (
        (_TRACK, time(17), time(18, 30)),
        (_PIT, time(17), time(18, 30)),
        (_GYM, time(18, 30), time(19, 45)),
    )
)
_HOURS: dict[str, object] = {"block": {"openings": _OPEN}}
RULE = Rule(
    id="session_fits_opening",
    tier="must",
    scope="athlete",
    reach=Reach(),
    source=Source("derived", "Arithmetic; 25 minutes of warm-up: common practice, no source."),
    examples=(
        Example("flying-sprints + power-lifts | -", 0, "track 90 of 90, gym 35 of 75", _HOURS),
        Example("flying-sprints + build-ups | -", 25, "track 115 of 90 minutes", _HOURS),
        Example("- | heavy-strength + power-lifts + robustness", 65, "no track: gym 140 of 75 minutes", {
            **_HOURS, "units": ("build-ups", "heavy-strength", "power-lifts", "robustness")}),
        Example("short-long-jumps + build-ups | -", 20, "pit and track, 15 for drills: 110 of 90 minutes", {
            **_HOURS, "preparation": True}),
        Example("build-ups + heavy-strength + power-lifts | -", 10, "gym 85 of 75 minutes", _HOURS),
    ),
)  # fmt: skip


def universe() -> Problem:
    units = ("build-ups", "flying-sprints", "heavy-strength", "mobility", "power-lifts", "short-long-jumps")
    return problem(World(units, days=2, block={"openings": _OPEN}, preparation=True))


def constrain(board: Board, problem: Problem) -> None:
    for athlete in problem.athletes:
        for day in problem.days:
            slots: dict[str, list[Placement]] = {}
            for p in problem.known_on(athlete, day):
                slots.setdefault(p.slot, []).append(p)
            for slot, known in sorted(slots.items()):
                _fit(board, problem, known, Where(athlete, day, slot))


def _fit(board: Board, problem: Problem, known: Sequence[Placement], where: Where) -> None:
    windows = {p: problem.window_of(p) for p in known}
    for begins in sorted({b for b, _ in windows.values()}):
        for ends in sorted({e for _, e in windows.values()}):
            inside = [p for p in known if begins <= windows[p][0] and windows[p][1] <= ends]
            if not inside:
                continue
            earlier = [p for p in known if windows[p][0] < begins and not p.unit.recovery_only]
            columns = [(p, board.placed(p)) for p in inside]
            drills = [(p.dose.preparation_minutes, c) for p, c in columns]
            terms: list[Term] = [(p.dose.minutes, c) for p, c in columns]
            terms.append((WARM_UP_MINUTES, board.any_of(c for p, c in columns if not p.unit.recovery_only)))
            terms.append((-WARM_UP_MINUTES, board.any_of(board.placed(p) for p in earlier)))
            terms.append((1, board.over(drills, PREPARATION_INSIDE_WARM_UP)))
            settled = [p for p in inside if p in problem.settled]
            sure = sum(p.dose.minutes for p in settled)
            sure += WARM_UP_MINUTES * any(not p.unit.recovery_only for p in settled)
            sure -= WARM_UP_MINUTES * any(p in problem.settled for p in earlier)
            sure += max(0, sum(p.dose.preparation_minutes for p in settled) - PREPARATION_INSIDE_WARM_UP)
            open_for = int((ends - begins) / timedelta(minutes=1))
            board.at_most(terms, max(open_for, sure), where)


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    for athlete in problem.athletes:
        for day in problem.days:
            for session in view.sessions(athlete, day):
                settled = [p for p in session.placements if p in problem.settled]
                could = [p for p in problem.known_on(athlete, day) if p.slot == session.slot]
                windows = {problem.window_of(p) for p in (*session.placements, *could)}
                for begins in sorted({b for b, _ in windows}):
                    for ends in sorted({e for _, e in windows}):
                        needed = _needed(problem, session.placements, begins, ends)
                        before = _needed(problem, settled, begins, ends)
                        there = int((ends - begins) / timedelta(minutes=1))
                        if needed > max(there, before):
                            facts = {"needed": needed, "there": there}
                            tier = RULE.tier_at(problem, athlete, day)
                            over = needed - max(there, before)
                            found.append(Finding(RULE.id, tier, over, athlete, day, session.slot, facts))
    return found


def _needed(problem: Problem, placements: Sequence[Placement], begins: datetime, ends: datetime) -> int:
    """Minutes that can only be spent between two times, with the warm-up if the session begins there."""
    minutes = drills = 0
    warm = warmed = False
    for p in placements:
        opens, closes = problem.window_of(p)
        if opens < begins:
            warmed = warmed or not p.unit.recovery_only
        elif closes <= ends:
            minutes += p.dose.minutes
            drills += p.dose.preparation_minutes
            warm = warm or not p.unit.recovery_only
    minutes += max(0, drills - PREPARATION_INSIDE_WARM_UP)
    return minutes + WARM_UP_MINUTES * (int(warm) - int(warmed))


def explain(finding: Finding) -> str:
    return (
        f"{finding.athlete}, {finding.day:%a %d %b}, {finding.slot}: the session needs "
        f"{finding.facts['needed']} minutes and its place is open for {finding.facts['there']}. Maybe take a "
        "unit in its lighter version, or move one to another slot."
    )
