"""From one block to the next: the record taken at the end of a plan, and the next block seen after it.

What a coach wrote in the next block's own file wins; the record fills what the file leaves open.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta

from planner.domain.block import Assumption, BeforeWeek, Block, Competition, LastDone
from planner.domain.edge import EDGE_DAYS, Edge, EdgeWeek
from planner.domain.plan import Placement, Plan
from planner.domain.problem import AthleteWeek, Problem
from planner.domain.view import PlanView
from planner.season.weeks import week_begins

LOADING = ("loading", "camp")


def edge_after(plan: Plan, problem: Problem, until: date | None = None) -> Edge:
    """The record at the end of a day (the block's last when none is given).

    The plan counts as done up to that day; to take what was done in truth, give a plan of that.
    """
    last = until or problem.block.ends
    view = PlanView(plan, problem)
    done = [p for p in (*problem.history, *view.placements) if p.day <= last]
    since = last - timedelta(days=EDGE_DAYS - 1)
    own: dict[str, list[Placement]] = {}
    for p in done:
        own.setdefault(p.athlete, []).append(p)
    return Edge(
        until=last,
        weeks=tuple(w for name in problem.athletes for w in _weeks(problem, name, own.get(name, ()), last)),
        placements=tuple(sorted((p for p in done if p.day >= since), key=lambda p: p.key)),
        last_done=_last_done(done, problem.block.last_done),
        competitions=tuple(c for name in problem.athletes for c in _competitions(problem, name, since, last)),
        loaded={name: _loaded(problem.weeks[name], last) for name in problem.athletes},
    )


def _weeks(problem: Problem, athlete: str, done: Iterable[Placement], last: date) -> list[EdgeWeek]:
    """The last four calendar weeks that begin on or before the day, as far as the block reaches.

    `done` is what the athlete did.
    """
    begun = [w for w in problem.weeks[athlete] if w.begins <= last][-(EDGE_DAYS // 7) :]
    found = []
    for week in begun:
        days = frozenset(week.calendar)
        own = [p for p in done if p.day in days]
        amounts: dict[str, int] = {"load": sum(p.dose.load for p in own)}
        for p in own:
            for counter, n in p.dose.counters.items():
                amounts[counter] = amounts.get(counter, 0) + n
        amounts = {c: n for c, n in sorted(amounts.items()) if n}
        found.append(EdgeWeek(athlete, week.begins, week.phase, week.kind, week.share, amounts))
    return found


def _last_done(done: Iterable[Placement], told: Iterable[LastDone]) -> tuple[LastDone, ...]:
    latest = {(x.athlete, x.unit): x for x in sorted(told, key=lambda x: x.day)}
    for p in sorted(done, key=lambda p: p.day):
        known = latest.get((p.athlete, p.unit.id))
        if known is None or known.day < p.day:
            latest[p.athlete, p.unit.id] = LastDone(p.athlete, p.unit.id, p.day)
    return tuple(latest[key] for key in sorted(latest))


def _competitions(problem: Problem, athlete: str, since: date, last: date) -> list[Competition]:
    own = problem.competitions_of(athlete)
    behind = [c for c in own if since <= c.last_day <= last]
    ahead = [c for c in own if c.first_day > last and c.importance == "main"]
    return [*behind, *ahead[:1]]


def _loaded(weeks: Iterable[AthleteWeek], last: date) -> int:
    loaded = 0
    for week in weeks:
        if week.calendar[-1] <= last:  # a week cut short is not a loading week done
            loaded = loaded + 1 if week.kind in LOADING else 0
    return loaded


def block_after(block: Block, edge: Edge) -> Block:
    """The next block with what the record knows of its athletes, where its own file is silent.

    Nothing is taken when the edge lies on or after the block's first day: the two would overlap.
    """
    if edge.until >= block.begins:
        return block
    names = {a.name for a in block.athletes}
    given = {b.athlete for b in block.before}
    dated = {(x.athlete, x.unit) for x in block.last_done}
    before = tuple(
        BeforeWeek(w.athlete, week_begins(w.begins, block.week_start), w.amounts)
        for w in edge.weeks
        if w.athlete in names - given
    )
    last_done = tuple(x for x in edge.last_done if x.athlete in names and (x.athlete, x.unit) not in dated)
    meets, assumed = _meets(block, edge, names)
    return replace(
        block,
        before=(*block.before, *before),
        last_done=(*block.last_done, *last_done),
        competitions=(*block.competitions, *meets),
        assumptions=(*block.assumptions, *assumed),
    )


def _meets(block: Block, edge: Edge, names: set[str]) -> tuple[list[Competition], list[Assumption]]:
    """Competitions just behind, and the next main one of an athlete whose file names none."""
    known = {(c.athlete, c.first_day) for c in block.competitions}
    have_main = {
        c.athlete for c in block.competitions if c.importance == "main" and c.last_day >= block.begins
    }
    found, assumed = [], []
    for c in edge.competitions:
        if c.athlete not in names or (c.athlete, c.first_day) in known:
            continue
        if c.first_day > edge.until:
            if c.athlete in have_main:
                continue
            text = f"the next main competition is taken from the earlier block: {c.name}, {c.first_day}"
            assumed.append(Assumption(c.athlete, text))
        found.append(c)
    return found, assumed
