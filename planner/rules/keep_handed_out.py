"""What athletes were handed stays as it is, unless something that happened moves it; then as little as can be.

What is paid first: a key unit that is lost; then each unit changed of an athlete to whom nothing happened; then
every other change: lighter or in another slot of its day 1, another unit in its place 2, moved to another day 3,
left out 4, times how much it matters and how near it is, and one for whatever is new. No sum of a later kind
outweighs one of an earlier kind. In a first plan nothing was handed out, and the rule says nothing; nor does it of
a week that is planned anew.
"""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta

from planner.catalogue import substitutes
from planner.domain.block import RuleSetting
from planner.domain.finding import Finding, Where
from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.units import counted
from planner.domain.view import PlanView
from planner.rules._board import Board, Term
from planner.rules._facts import week_first_day
from planner.rules._rule import Example, Parameter, Reach, Rule, Source
from planner.rules._tiny import MONDAY, World, problem

MATTERS = {"key": 8, "supporting": 4, "if there is time": 2}  # coach's decision
BECAME = {1: "at another amount or hour", 2: "swapped", 3: "moved to another day", 4: "left out"}
LEFT_OUT = 4  # steps of change: 1 lighter or another slot, 2 another unit, 3 another day
REST = "- | - | - | -"
DAYS = {"fast": "flying-sprints | - | extensive-tempo"}
RULE = Rule(
    id="keep_handed_out",
    tier="should",
    scope="squad",
    reach=Reach(back=6, forward=6),
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
        Example("morning: flying-sprints | - | extensive-tempo", 13, "in its day's morning: 1 x 4 x 3, and 1", {
            "handed_out": DAYS["fast"], "units": ("flying-sprints", "extensive-tempo"),
            "slots": ("morning", "evening")}),
        Example("short-accelerations | - | extensive-tempo", 25, "stand-in of another family: 2 x 4 x 3, and 1", {
            "handed_out": DAYS["fast"], "units": ("flying-sprints", "short-accelerations", "extensive-tempo")}),
        Example("stick-runs | - | extensive-tempo", 25, "another unit of the family: 2 x 4 x 3, and 1", {
            "handed_out": DAYS["fast"], "units": ("flying-sprints", "stick-runs", "extensive-tempo")}),
        Example("mobility | - | extensive-tempo", 39,
                "that is no stand-in: 4 x 4 x 3 less 10 that may change, and 1", {
            "handed_out": DAYS["fast"], "units": ("flying-sprints", "mobility", "extensive-tempo"),
            "block": {"settings": (RuleSetting("keep_handed_out", "most", 10),)}}),
        Example("- | - | extensive-tempo", 229,
                "a key unit, due this minute, lost: 4 x 8 x 3, and 1 + 4 + 96 + 32", {
            "handed_out": DAYS["fast"], "units": ("flying-sprints", "extensive-tempo"), "key": ("flying-sprints",),
            "now": datetime.combine(MONDAY, time(17))}),
        Example("- | - | extensive-tempo + flying-sprints", 37, "moved by two days: 3 x 4 x 3, and 1", {
            "handed_out": DAYS["fast"]}),
        Example("flying-sprints | - | - | - | - | extensive-tempo", 33,
                "three days are no move: 4 x 4 x 2, and 1", {
            "handed_out": DAYS["fast"]}),
        Example(f"- | - | {REST} | testing", 25, "a test of Wednesday moves in its week: 3 x 4 x 2, and 1", {
            "handed_out": "- | - | testing"}),
        Example("- | - | - | - | - | testing", 37, "of Monday, in weeks from Sunday on: 3 x 4 x 3, and 1", {
            "handed_out": "testing", "block": {"week_start": 6}}),
        Example(f"- | - | - | {REST} | testing", 33, "and not into the next week: 4 x 4 x 2, and 1", {
            "handed_out": "- | - | testing"}),
        Example(f"- | - | - | {REST} | -", 16, "a test of the next Monday left out: 4 x 4", {
            "handed_out": f"- | - | - | {REST} | testing", "units": ("testing",)}),
        Example("- | flying-sprints | -", 0, "the week of Monday's sprints is planned anew", {
            "handed_out": DAYS["fast"], "units": ("flying-sprints", "extensive-tempo"), "opened": True}),
    ),
)  # fmt: skip


def universe() -> Problem:
    units = ("flying-sprints", "stick-runs")
    given = "flying-sprints | stick-runs lighter"
    made = problem(World(units, days=2, athletes=2, amounts=("full", "lighter"), handed_out=given))
    handed_out = tuple(replace(p, importance="key") if p.dose.neural == 3 else p for p in made.handed_out)
    return replace(made, handed_out=handed_out, untouched=frozenset({"Bo"}))


@dataclass(frozen=True)
class Prices:
    """What is paid beside the steps: for every change of an untouched athlete, and for a key unit lost."""

    untouched: int
    key_lost: int

    @staticmethod
    def of(problem: Problem) -> "Prices":
        """Each one more than all that stands below it can come to."""
        open_ones = open_units(problem)
        new = len(new_units(problem))
        untouched = 1 + new + sum(LEFT_OUT * worth(problem, h) for h in open_ones)
        alone = sum(1 for h in open_ones if h.athlete in problem.untouched)
        return Prices(untouched, untouched * (1 + alone))


def open_units(problem: Problem) -> list[Placement]:
    """Handed-out units that may still change, or that are lost already."""
    settled = {p.key for p in problem.kept}
    return [h for h in problem.handed_out if h.key not in settled and not problem.opened_on(h.athlete, h.day)]


def new_units(problem: Problem) -> list[Placement]:
    """What may come into the plan without having been handed out, but for weeks that are planned anew."""
    given = {h.key for h in problem.handed_out}
    return [p for p in problem.candidates if p.key not in given and not problem.opened_on(p.athlete, p.day)]


def worth(problem: Problem, p: Placement) -> int:
    """Points of one step of change of a handed-out unit."""
    begins = problem.now.date() if problem.now else MONDAY
    days = (p.day - begins).days
    near = 3 if days < RULE.number(problem, "near_days") else 2 if days < RULE.number(problem, "week_days") else 1
    return MATTERS[p.importance] * near


def other_days(problem: Problem, h: Placement) -> list[date]:
    """The days to which a unit moves: a few on either side, for a test all of its week."""
    if h.unit.family == "test":
        first = week_first_day(problem, h.day)
        return [d for d in (first + timedelta(i) for i in range(7)) if d != h.day]
    near = (timedelta(i) for i in range(1, RULE.number(problem, "move_days") + 1))
    return [day for days in near for day in (h.day - days, h.day + days)]


Spot = tuple[str, date, str, str]  # athlete, day, slot and unit, whatever the amount


def spot(p: Placement) -> Spot:
    return (p.athlete, p.day, p.slot, p.unit.id)


def is_key(problem: Problem, h: Placement) -> bool:
    """A key unit still to come. What was missed already is no debt: its loss buys no other key unit's."""
    return h.importance == "key" and (problem.now is None or h.begins >= problem.now)


def _stands_in(h: Placement, others: Iterable[Placement], given: set[Spot]) -> list[Placement]:
    """Of these the units that stand in for a handed-out one: of its family, or as the catalogue allows.

    What was handed out itself stands in for nothing else, at no amount.
    """
    instead = substitutes(h.unit.id)
    return [
        p for p in others if spot(p) not in given and (p.unit.family == h.unit.family or p.unit.id in instead)
    ]


def constrain(board: Board, problem: Problem) -> None:
    if not problem.handed_out:
        return
    terms: list[Term] = []
    whole = 0
    given = {spot(p) for p in problem.handed_out}
    prices = Prices.of(problem)
    for h in open_units(problem):
        on_day = problem.known_on(h.athlete, h.day)
        free = [p for p in on_day if p.slot == h.slot]
        same = [p for p in on_day if p.unit.id == h.unit.id and (p.slot == h.slot or spot(p) not in given)]
        swapped = [*same, *_stands_in(h, free, given)]
        moved = [
            p
            for day in other_days(problem, h)
            for p in problem.known_on(h.athlete, day)
            if p.unit.id == h.unit.id and spot(p) not in given
        ]
        exact = [p for p in same if p.key == h.key]
        k = worth(problem, h)
        ladders = [(exact, k), (same, k), (swapped, k), ([*swapped, *moved], k)]
        if is_key(problem, h):
            ladders.append(([*swapped, *moved], prices.key_lost))
        if h.athlete in problem.untouched:
            ladders.append((exact, prices.untouched))
        for ladder, price in ladders:
            terms.append((-price, board.any_of(board.placed(p) for p in ladder)))
            whole += price
    terms += [(1, board.placed(p)) for p in new_units(problem)]
    board.at_most(terms, RULE.number(problem, "most") - whole, Where())


def check(view: PlanView, problem: Problem) -> list[Finding]:
    given = {p.key for p in problem.handed_out}
    spots = {spot(p) for p in problem.handed_out}
    settled = {p.key for p in (*problem.kept, *problem.history)}
    prices = Prices.of(problem)
    points = 0
    changes = []
    for h in problem.handed_out:
        if h.key in settled or problem.opened_on(h.athlete, h.day):
            continue
        n = steps(view, problem, h, spots)
        if n:
            changes.append((n, h))
    for n, h in changes:
        points += n * worth(problem, h)
        points += prices.key_lost if n == LEFT_OUT and is_key(problem, h) else 0
        points += prices.untouched if h.athlete in problem.untouched else 0
    if problem.handed_out:
        for p in view.placements:
            fresh = p.key not in given and p.key not in settled
            points += fresh and not problem.opened_on(p.athlete, p.day)
    over = points - RULE.number(problem, "most")
    facts = {"became": tuple(BECAME[n] for n, _ in changes)}
    return [Finding(RULE.id, RULE.tier_at(problem), over, facts=facts)] if over > 0 else []


def steps(view: PlanView, problem: Problem, h: Placement, given: set[Spot]) -> int:
    """0 as handed out, 1 lighter (or full), 2 another unit in its place, 3 another day, 4 left out.

    In another slot of its day it is 1, as is the lighter version.
    """
    here = [p for p in view.on(h.athlete, h.day) if p.slot == h.slot]
    if any(p.key == h.key for p in here):
        return 0
    if any(p.unit.id == h.unit.id for p in here):
        return 1
    if any(p.unit.id == h.unit.id and spot(p) not in given for p in view.on(h.athlete, h.day)):
        return 1
    if _stands_in(h, here, given):
        return 2
    for day in other_days(problem, h):
        if any(p.unit.id == h.unit.id and spot(p) not in given for p in view.on(h.athlete, day)):
            return 3
    return LEFT_OUT


def explain(finding: Finding) -> str:
    """Units by what became of them: what they weigh is nobody's matter but the solver's."""
    became = finding.facts.get("became", ())
    many = Counter(became if isinstance(became, tuple) else ())
    said = [f"{counted(many[words], 'units')} {words}" for words in BECAME.values() if many[words]]
    changed = ", ".join(said) or "units come that were not handed out"
    return f"Of what was handed out: {changed}. Maybe this is the least that what happened asks for."
