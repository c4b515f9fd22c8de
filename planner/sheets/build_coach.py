"""From a slot and its timetable to the coach's session page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from planner.catalogue import substitution
from planner.domain.plan import Placement, PlacementKey
from planner.domain.problem import Problem
from planner.domain.timetable import Clash, SlotTimetable
from planner.numbers import Lines
from planner.rules.wind_on_the_runway import RULE as WIND
from planner.sheets import words
from planner.sheets.build_athlete import squad_foot
from planner.sheets.build_session import first_names, lighter_words
from planner.sheets.coach_grid import columns, grid, stretches
from planner.sheets.looks import look_of
from planner.sheets.paper import Paper
from planner.sheets.view_athlete import RevisionView
from planner.sheets.view_coach import BehindView, CoachView, JobView

# Common practice, no source.
WET = "Wet runway: no full run-up faster than 90 %; sweep the board, dry shoes for the jumps."
LIGHTNING = "Lightning: everybody inside, until 30 min after the last thunder."
TASKS: Mapping[str, str] = {"rake": "rakes", "measure": "measures", "time": "takes times", "film": "films"}
FULL = "full-jumps"


def coach_view(  # noqa: PLR0913  # a slot, who is there, and what is known of it
    day: date,
    slot: str,
    placements: Sequence[Placement],
    problem: Problem,
    *,
    table: SlotTimetable | None,
    clash: Clash | None,
    lines: Mapping[PlacementKey, Lines],
    revision: RevisionView,
    paper: Paper,
) -> CoachView:
    """The page of one slot. It is the coach's own: limits stand on it with region and side."""
    block = problem.block
    short = dict(zip(problem.athletes, first_names(problem.athletes, problem), strict=True))
    found = stretches(table, placements, problem, short)
    venues = len({p.venue for p in placements})
    heads = columns(found, paper.inner_width, venues)
    people = tuple(n for n in problem.athletes if any(p.athlete == n for p in placements))
    name = words.clean(slot)
    begins = min(s.begins for s in found)
    ends = max(s.ends for s in found)
    span = words.clock(begins) + (f" to {words.clock(ends)}" if table else "")
    return CoachView(
        title=f"Coach's page: {words.short_date(day)} {day.year}, {name}",
        heading=f"{words.long_date(day)}, {words.shorter(name, 24)}",
        sub=f"{span}, {len(people)} {'athlete' if len(people) == 1 else 'athletes'}",
        warning=_warning(table, clash),
        columns=tuple(column for _, column in heads),
        lines=grid(found, [spot for spot, _ in heads]),
        jobs=_jobs(table, day, slot, problem),
        limits=_limits(people, day, problem, short),
        weather=_weather(placements, problem, day),
        behind=_behind(placements, found_order(placements, table), lines, problem, short),
        people=tuple(words.clean(n) for n in people),
        revision=revision,
        foot=f"Coach's page, {words.short_date(day)}, {words.shorter(name, 14)}",
        foot_squad=squad_foot(block.squad, block.contact),
    )


def _warning(table: SlotTimetable | None, clash: Clash | None) -> str:
    if table is not None:
        return ""
    if clash is None:
        return "No timetable: units stand when their place opens."
    return words.sentence(" ".join((f"No timetable: {clash.reason}", *clash.choices)))


def _jobs(table: SlotTimetable | None, day: date, slot: str, problem: Problem) -> tuple[JobView, ...]:
    """Who rakes, measures, takes times, films, when and where; without a timetable who is there for it."""
    if table is None:
        return tuple(
            JobView(words.clean(p.name), TASKS[task], "")
            for p in problem.presences_in(day, slot) if p.coach is None
            for task in p.tasks if task in TASKS
        )  # fmt: skip
    return tuple(
        JobView(
            words.clean(h.helper), TASKS.get(h.task, words.clean(h.task)),
            f"{words.clock(h.begins)} to {words.clock(h.ends)}, {words.clean(h.place)}",
        )
        for h in table.helpers
    )  # fmt: skip


def _limits(people: Sequence[str], day: date, problem: Problem, short: Mapping[str, str]) -> tuple[str, ...]:
    said = []
    for name in people:
        for x in problem.limits_on(name, day):
            if x.stage < 6 or x.hold_back:
                said.append(f"{short[name]}: {words.limit_words(x, day, day)}")
    return tuple(dict.fromkeys(said))


def _weather(placements: Sequence[Placement], problem: Problem, day: date) -> tuple[str, ...]:
    outdoors = {(o.place.venue, o.place.name): o.place.outdoor for o in problem.block.openings}
    outside = [p for p in placements if outdoors.get((p.venue, p.place), True)]
    if not outside:
        return ()
    said = [WET, LIGHTNING]
    full = [p for p in outside if p.unit.family == FULL]
    if full:
        most = min(WIND.number(problem, "most", p.athlete, day) for p in full) / 10
        said.insert(0, f"Wind over {most:g} m/s from the front or the side: nobody jumps from the full run-up; "
                       "turn the runway round or take a short run-up.")  # fmt: skip
    return tuple(said)


def found_order(placements: Sequence[Placement], table: SlotTimetable | None) -> list[str]:
    """Units in the order they begin."""
    moments = []
    for p in placements:
        line = table.line_of(p) if table else None
        begins = line.begins if line else (p.starts or p.begins).replace(tzinfo=None)
        moments.append((begins, p.unit.order, p.unit.id))
    return list(dict.fromkeys(unit for *_, unit in sorted(moments)))


def _behind(
    placements: Sequence[Placement],
    order: Sequence[str],
    lines: Mapping[PlacementKey, Lines],
    problem: Problem,
    short: Mapping[str, str],
) -> tuple[BehindView, ...]:
    found = []
    for unit_id in order:
        here = [p for p in placements if p.unit.id == unit_id]
        unit = here[0].unit
        look = look_of(unit.family)
        called = (p.name for p in sorted(here, key=lambda p: p.dose.word))  # full first
        mine = [lines[p.key] for p in here if p.key in lines]
        found.append(
            BehindView(
                look.css, look.letter, " / ".join(dict.fromkeys(words.title(n) for n in called)),
                _people(here, lines, short),
                _one([x.recovery for x in mine] or [unit.recovery]),
                _one([x.stop for x in mine] or [unit.stop_rule]),
                _by_person([(short[p.athlete], lighter_words(p, problem)) for p in here if p.dose.word == "full"]),
                _wet(unit_id, problem),
            )
        )  # fmt: skip
    return tuple(found)


def _people(
    here: Sequence[Placement], lines: Mapping[PlacementKey, Lines], short: Mapping[str, str]
) -> tuple[str, ...]:
    """'Tilde, Micah: 12 jumps from 6 steps; 4.42-4.76 m': who has the same text stands in one line."""
    said: dict[str, list[str]] = {}
    for p in here:
        line = lines.get(p.key)
        text = f"{p.dose.amount} {p.dose.measure}"
        if line is not None:
            text = "; ".join(part for part in (line.amount, line.target) if part)
        if p.dose.word == "lighter":
            text += ", lighter"
        said.setdefault(words.unbroken(words.times(text)), []).append(short[p.athlete])
    return tuple(f"{', '.join(names)}: {text}" for text, names in said.items())


def _one(texts: Sequence[str]) -> str:
    """The texts without repeats."""
    kept = dict.fromkeys(words.unbroken(words.times(t).rstrip(".")) for t in texts if t.strip())
    return "; or ".join(kept)


def _by_person(said: Sequence[tuple[str, str]]) -> str:
    """One text, or each with the names it is meant for."""
    texts: dict[str, list[str]] = {}
    for name, text in said:
        if text:
            texts.setdefault(words.unbroken(words.times(text)), []).append(name)
    if len(texts) < 2:
        return "".join(texts)
    return "; ".join(f"{', '.join(names)}: {text}" for text, names in texts.items())


def _wet(unit_id: str, problem: Problem) -> str:
    """What stands in for it in rain or cold; '' where nothing is known."""
    found = substitution(unit_id, "weather")
    if found is None:
        return ""
    if not found.ways:
        return "leave it out"
    ways = []
    for way in found.ways:
        ways.append(" and ".join(problem.units[u].name.lower() if u in problem.units else u for u in way))
    return words.clean(" or ".join(ways) + (f", {found.note}" if found.note else ""))
