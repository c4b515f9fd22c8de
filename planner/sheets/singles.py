"""The single sheets of a plan: run-up, measuring and competition cards, the coach's pages, sheets for parents."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from planner.domain.block import Block
from planner.domain.errors import Told
from planner.domain.plan import Outcome, Placement, PlacementKey
from planner.domain.problem import Problem
from planner.domain.timetable import Clash, Timetables
from planner.numbers import Lines
from planner.sheets.build_coach import coach_view
from planner.sheets.build_competition import competition_view
from planner.sheets.build_measuring import at_pits, measuring_view
from planner.sheets.build_parents import is_child, parents_view
from planner.sheets.build_run_up import run_up_view, run_ups_of, trials_of
from planner.sheets.drawing import Sheet
from planner.sheets.filenames import file_stems, plain
from planner.sheets.paper import BOARDS, FOLDED, PAGE_FOR, PAGES
from planner.sheets.recorded import NOTHING, Recorded
from planner.sheets.report import NotWritten
from planner.sheets.selection import COMPETITION, KINDS, MEASURING, PARENTS, RUN_UP, SESSION, Selection
from planner.sheets.view_athlete import RevisionView


@dataclass(frozen=True)
class Beside:
    """What single sheets need beside the plan: the day they are printed on, the slots' timetables, and records.

    `block` is the block as what was recorded up to today has left it (None: as the plan knows it); run-ups, marks,
    weather and take-off legs are read from it. `whole_set` are the kinds printed when nothing is named.
    """

    today: date
    block: Block | None = None
    tables: Timetables = field(default_factory=dict)
    clashes: Mapping[tuple[date, str], Clash] = field(default_factory=dict)
    recorded: Recorded = NOTHING
    whole_set: tuple[str, ...] = KINDS


@dataclass(frozen=True)
class Source:
    """What single sheets are made from: a plan, the lines to train by, the revision said in the foot.

    `own` is the revision in which what is one athlete's own last changed, for their cards.
    """

    outcome: Outcome
    problem: Problem
    lines: Mapping[PlacementKey, Lines]
    revision: RevisionView
    own: Mapping[str, RevisionView] = field(default_factory=dict)

    def revision_of(self, athlete: str) -> RevisionView:
        return self.own.get(athlete, self.revision)


def single_sheets(wanted: Selection, source: Source, beside: Beside, paper: str) -> Iterator[Sheet | NotWritten]:
    """Every single sheet asked for, in order, or why it cannot be made."""
    size = PAGE_FOR[paper]
    source = replace(source, problem=_as_of_today(source.problem, beside.block))
    makers = (
        (RUN_UP, _run_ups), (MEASURING, _measuring), (COMPETITION, _competitions), (SESSION, _coach_pages),
        (PARENTS, _parents),
    )  # fmt: skip
    for kind, make in makers:
        if kind in wanted.kinds:
            yield from make(wanted, source, beside, size)


def _as_of_today(problem: Problem, now: Block | None) -> Problem:
    """The plan's problem with what is newer for a card; places and hours stay as the plan has them."""
    if now is None:
        return problem
    block = replace(
        problem.block, athletes=now.athletes, run_ups=now.run_ups, marks=now.marks, weather=now.weather
    )
    return replace(problem, block=block)


def _run_ups(wanted: Selection, source: Source, beside: Beside, size: str) -> Iterator[Sheet | NotWritten]:
    """One document for each athlete with a run-up; who is named and never measured one has an estimate."""
    problem = source.problem
    stems = file_stems(problem.athletes)
    for athlete in problem.block.athletes:
        if not wanted.person(athlete.name):
            continue
        title = f"{athlete.name}, run-up card"
        known = run_ups_of(athlete, problem) or trials_of(athlete, problem, beside.today)
        if not wanted.people and not known:
            continue
        try:
            view = run_up_view(athlete, problem, source.revision_of(athlete.name), beside.today, beside.recorded)
        except Told as error:
            yield NotWritten(title, str(error))
            continue
        if view is None:
            yield NotWritten(title, "neither a run-up nor a jump stands in the file. Maybe fill in 'run_ups'.")
        else:
            yield Sheet(title, f"run-up-{stems[athlete.name]}-{size}", FOLDED[size], view)


def _parents(wanted: Selection, source: Source, beside: Beside, size: str) -> Iterator[Sheet | NotWritten]:
    """One sheet for the parents of each child; a grown-up who is named has none, which is said."""
    problem = source.problem
    stems = file_stems(problem.athletes)
    for athlete in problem.block.athletes:
        title = f"{athlete.name}, for the parents"
        if wanted.person(athlete.name) and is_child(athlete, problem):
            view = parents_view(athlete, source.outcome, problem, source.revision_of(athlete.name))
            yield Sheet(title, f"parents-{stems[athlete.name]}-{size}", PAGES[size], view)
        elif athlete.name in wanted.people:
            yield NotWritten(title, "it is for athletes under 18. Maybe fill in 'born'.")


def _competitions(wanted: Selection, source: Source, beside: Beside, size: str) -> Iterator[Sheet | NotWritten]:
    """One card for each athlete and competition that begins inside the block."""
    problem = source.problem
    block = problem.block
    stems = file_stems(problem.athletes)
    meetings = file_stems({c.name for c in block.competitions})
    for c in sorted(block.competitions, key=lambda c: (c.first_day, c.name, problem.athletes.index(c.athlete))):
        inside = block.begins <= c.first_day <= block.ends
        if not inside or not wanted.person(c.athlete) or (wanted.days and c.first_day not in wanted.days):
            continue
        title = f"{c.athlete}, {c.name}"
        try:
            said = source.revision_of(c.athlete)
            view = competition_view(block.athlete(c.athlete), c, problem, said, beside.recorded)
        except Told as error:
            yield NotWritten(title, str(error))
            continue
        stem = f"competition-{c.first_day}-{meetings[c.name]}-{stems[c.athlete]}-{size}"
        yield Sheet(title, stem, FOLDED[size], view)


def _measuring(wanted: Selection, source: Source, beside: Beside, size: str) -> Iterator[Sheet | NotWritten]:
    """One document for each pit and slot where somebody asked for jumps."""
    problem = source.problem
    slots = file_stems({s.name for s in problem.block.slots})
    for (day, slot), placements in slots_of(source.outcome):
        if not wanted.slot(day, slot):
            continue
        title, table = f"measuring sheet, {day}, {slot}", beside.tables.get((day, slot))
        pits = at_pits(placements, problem)
        stems = _pit_stems(pits)
        for where, here in pits.items():
            if not any(wanted.person(p.athlete) for p in here):
                continue
            try:
                view = measuring_view(
                    day, slot, here, problem,
                    table=table, lines=source.lines, recorded=beside.recorded, revision=source.revision,
                )  # fmt: skip
            except Told as error:
                yield NotWritten(title, str(error))
                continue
            stem = f"measuring-{day}-{slots.get(slot, plain(slot))}-{stems[where]}-{size}"
            yield Sheet(title, stem, PAGES[size], view)


def _pit_stems(pits: Iterable[tuple[str, str]]) -> dict[tuple[str, str], str]:
    """The pit's name for a file, with its venue where two venues call theirs alike."""
    known = list(pits)
    names = [pit for _, pit in known]
    said = {(venue, pit): pit if names.count(pit) == 1 else f"{venue} {pit}" for venue, pit in known}
    stems = file_stems(set(said.values()))
    return {where: stems[name] for where, name in said.items()}


def _coach_pages(wanted: Selection, source: Source, beside: Beside, size: str) -> Iterator[Sheet | NotWritten]:
    """One document for each slot in which somebody trains; with names, for the slots these people train in."""
    problem = source.problem
    slots = file_stems({s.name for s in problem.block.slots})
    lying = BOARDS[size]
    for key, placements in slots_of(source.outcome):
        day, slot = key
        if not wanted.slot(day, slot) or not any(wanted.person(p.athlete) for p in placements):
            continue
        table, clash = beside.tables.get(key), beside.clashes.get(key)
        view = coach_view(
            day, slot, placements, problem,
            table=table, clash=clash, lines=source.lines, revision=source.revision, paper=lying,
        )  # fmt: skip
        stem = f"session-{day}-{slots.get(slot, plain(slot))}-{size}"
        yield Sheet(f"coach's page, {day}, {slot}", stem, lying, view)


def slots_of(outcome: Outcome) -> list[tuple[tuple[date, str], list[Placement]]]:
    """The plan by slot, in order of time as far as the clock of the first unit tells it."""
    found: dict[tuple[date, str], list[Placement]] = {}
    for p in outcome.plan.placements:
        found.setdefault((p.day, p.slot), []).append(p)
    return sorted(found.items(), key=lambda kv: (kv[0][0], min(p.begins.time() for p in kv[1]), kv[0][1]))
