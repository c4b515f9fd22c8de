"""Nothing is added to make up for what was missed: a handed-out week holds no more than it was given.

By week and athlete: every counter (fast metres, take-offs, contacts ...), the load and the number of units stay
within what was handed out. A unit in its lighter form, on the day for which it was handed out in full, is not more
of anything, whatever it then consists of: 240 m of build-ups instead of 150 m of flying sprints. Its load still
counts as it is, and what moves to another day counts in full. What was really done stands, even where it was more.
A competition that came in takes the place of a fast day. What was done elsewhere is counted by other rules, not
here, and so is a trial of the other leg, a few jumps that a person asked for on their day. A week that is planned
anew has no such limit.
"""

from collections.abc import Callable, Iterable, Iterator
from datetime import timedelta

from planner.catalogue import any_in_words
from planner.domain.block import Competition
from planner.domain.elsewhere import was_elsewhere
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import AthleteWeek, Problem
from planner.domain.units import COUNTERS
from planner.domain.view import PlanView
from planner.rules._board import Board
from planner.rules._facts import calendar_days, settled_on
from planner.rules._rule import Example, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

FAST = 3  # neural demand of a fast unit
GIVEN = "flying-sprints | - | extensive-tempo | -"
BOTH = ("full", "lighter")
TWICE = "flying-sprints | - | flying-sprints | -"
MEETING = Competition("Evening meeting", "Ada", MONDAY + timedelta(1), MONDAY + timedelta(1))
RULE = Rule(
    id="no_adding",
    tier="must",
    scope="athlete",
    reach=Reach(whole_weeks=True),
    source=Source("common practice", "Cramming is a main cause of comeback injuries: common practice, no source."),
    examples=(
        Example("flying-sprints | - | extensive-tempo | -", 0, "as handed out", {"handed_out": GIVEN}),
        Example("- | flying-sprints | - | extensive-tempo", 0, "moved, not more", {"handed_out": GIVEN}),
        Example("extensive-tempo | - | extensive-tempo | -\n- | - | - | -", 2400,
                "2400 m twice, once each was given", {
            "handed_out": GIVEN, "units": ("flying-sprints", "extensive-tempo")}),
        Example("flying-sprints + trial-long-jumps | - | extensive-tempo | -", 0, "a trial was asked for", {
            "handed_out": GIVEN, "units": ("flying-sprints", "extensive-tempo", "trial-long-jumps")}),
        Example("mobility | mobility | mobility | -", 1, "three units, two were given", {
            "handed_out": GIVEN, "units": ("flying-sprints", "extensive-tempo", "mobility")}),
        Example("- | - | - | extensive-tempo + flying-sprints", 0,
                "no more of anything", {"handed_out": GIVEN}),
        Example("flying-sprints lighter | - | extensive-tempo | -", 0, "build-ups in their place, 240 m at 90 %", {
            "handed_out": GIVEN, "amounts": BOTH}),
        Example("- | flying-sprints lighter | extensive-tempo | -", 240, "on another day they are 240 m more", {
            "handed_out": GIVEN, "amounts": BOTH}),
        Example("flying-sprints lighter | - | - | build-ups", 480, "and no room for 480 m more", {
            "handed_out": GIVEN, "amounts": BOTH,
            "units": ("flying-sprints", "extensive-tempo", "build-ups")}),
        Example("flying-sprints | - | - | -", 395, "build-ups were given: 150 m at 95 % and 245 more of load", {
            "handed_out": "flying-sprints lighter | - | - | -", "amounts": BOTH}),
        Example("- | - | flying-sprints | flying-sprints", 355,
                "150 m and a load of 205, whatever was done elsewhere", {
            "handed_out": GIVEN, "units": ("flying-sprints", "extensive-tempo"),
            "kept": "elsewhere: flying-sprints + long-accelerations"}),
        Example("flying-sprints | - | flying-sprints | -", 1,
                "a competition on Tuesday takes one of two fast days", {
            "handed_out": TWICE, "come_in": (MEETING,)}),
        Example("- | - | - | -", 0, "both fast days were done before it came in", {
            "units": ("flying-sprints",), "handed_out": TWICE, "come_in": (MEETING,), "kept": TWICE}),
    ),
)  # fmt: skip


def universe() -> Problem:
    units = ("flying-sprints", "extensive-tempo")
    given = "flying-sprints | - | flying-sprints | extensive-tempo"
    return problem(World(units, days=4, amounts=BOTH, handed_out=given, come_in=(MEETING,)))


Counted = Callable[[Placement], int]  # how much of something a placement counts as


def measures() -> dict[str, Counted]:
    """Everything that is counted: name -> how much of it a placement is."""

    def counter(name: str) -> Counted:
        return lambda p: p.dose.counters.get(name, 0)

    return {
        **{name: counter(name) for name in COUNTERS},
        "load": lambda p: p.dose.load,
        "units": lambda p: 1,
    }


def _not_counted(p: Placement) -> bool:
    """Done elsewhere, or a trial that stands only where a person asked for it: no making up for anything."""
    return was_elsewhere(p) or p.unit.is_trial


def _as_given(name: str, much: Counted, given: Iterable[Placement]) -> Counted:
    """What a placement counts as: in its lighter form on its own day no more than was handed out there in full."""
    if name not in COUNTERS:
        return much
    full = {(p.day, p.unit.id): p for p in given if p.dose.word == "full"}

    def counted(p: Placement) -> int:
        was = full.get((p.day, p.unit.id)) if p.dose.word == "lighter" else None
        return min(much(p), much(was)) if was else much(p)

    return counted


def _limits(problem: Problem, week: AthleteWeek) -> Iterator[tuple[str, Counted, int]]:
    """What is counted in a handed-out week, and the most of it: what was given, or what stands already."""
    if (week.athlete, week.begins) in problem.opened:
        return
    given = _given(problem, week)
    days = calendar_days(week)
    for name, much in measures().items():
        stands = (p for d in days for p in settled_on(problem, week.athlete, d) if not _not_counted(p))
        counted = _as_given(name, much, given)
        yield name, counted, max(sum(much(p) for p in given), sum(counted(p) for p in stands))


def _given(problem: Problem, week: AthleteWeek) -> list[Placement]:
    days = calendar_days(week)
    return [p for p in problem.handed_out if p.athlete == week.athlete and p.day in days and not p.unit.is_trial]


def _fast_days(problem: Problem, week: AthleteWeek) -> int | None:
    """The most fast training days of a week into which a competition came; None when none did."""
    days = calendar_days(week)
    new = {d for c in problem.come_in if c.athlete == week.athlete for d in days if c.first_day <= d <= c.last_day}
    if not new or (week.athlete, week.begins) in problem.opened:
        return None
    given = {p.day for p in _given(problem, week) if p.dose.neural >= FAST}
    settled = {d for d in days if any(p.dose.neural >= FAST for p in settled_on(problem, week.athlete, d))}
    return max(len(given) - len(new), len(settled))


def constrain(board: Board, problem: Problem) -> None:
    if not problem.handed_out:
        return
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            by_day = [problem.known_on(athlete, d) for d in calendar_days(week)]
            known = [p for ps in by_day for p in ps if not _not_counted(p)]
            for _, counted, most in _limits(problem, week):
                terms = [(counted(p), board.placed(p)) for p in known if counted(p)]
                board.at_most(terms, most, Where(athlete, week.first_day))
            fast = _fast_days(problem, week)
            if fast is not None:
                days = [board.any_of(board.placed(p) for p in ps if p.dose.neural >= FAST) for ps in by_day]
                board.at_most([(1, c) for c in days], fast, Where(athlete, week.first_day))


def check(view: PlanView, problem: Problem) -> list[Finding]:
    found = []
    if not problem.handed_out:
        return []
    for athlete in problem.athletes:
        for week in problem.weeks[athlete]:
            for name, counted, most in _limits(problem, week):
                done = 0
                for day in calendar_days(week):
                    for p in view.on(athlete, day):
                        done += 0 if p.unit.is_trial or was_elsewhere(p) else counted(p)
                if done > most:
                    facts = {"what": name.replace("-", " "), "done": done, "most": most}
                    day = week.first_day
                    tier = RULE.tier_at(problem, athlete, day)
                    found.append(Finding(RULE.id, tier, done - most, athlete, day, facts=facts))
            found += _too_many_fast_days(view, problem, week)
    return found


def _too_many_fast_days(view: PlanView, problem: Problem, week: AthleteWeek) -> list[Finding]:
    most = _fast_days(problem, week)
    if most is None:
        return []
    done = 0
    for day in calendar_days(week):
        done += any(p.dose.neural >= FAST for p in view.on(week.athlete, day))
    if done <= most:
        return []
    first = week.first_day
    facts = {"what": "fast days beside the competition that came in", "done": done, "most": most}
    tier = RULE.tier_at(problem, week.athlete, first)
    return [Finding(RULE.id, tier, done - most, week.athlete, first, facts=facts)]


def explain(finding: Finding) -> str:
    f = finding.facts
    done = f"{f['done']} {any_in_words(str(f['what']))}"
    return (
        f"{finding.athlete}, week of {finding.day:%a %d %b}: {done}, at most {f['most']} by what "
        "was handed out. Maybe leave it out: what was missed is not made up for."
    )
