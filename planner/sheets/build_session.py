"""From a session to the lines of the athlete page: warm-up, places one after the other, units."""

from __future__ import annotations

import re
from datetime import date, datetime, timedelta

from planner.domain.plan import Placement
from planner.domain.problem import Problem
from planner.domain.timetable import GRID, JUMPS
from planner.domain.view import Session
from planner.numbers import Lines, TrainBy
from planner.sheets import words
from planner.sheets.amount_words import lighter, measured
from planner.sheets.fonts import width_mm
from planner.sheets.line_words import amount_words, asides, lightened
from planner.sheets.looks import look_of
from planner.sheets.paper import KEY_PT, LABEL_PT, PAGE_BAR_LOAD_PER_MM, PAGE_BAR_MOST_MM, READ_PT
from planner.sheets.view_athlete import SessionView, StopView, UnitView

ADULT = 18  # years; who is younger never trains alone, so no sheet says so
WITH_ADULT = "own work, an adult is there"
ANY_SHOES = "any"
TITLE_MM = 104  # room beside the tick boxes; a longer note moves to the line below
TITLE_PT = 12.5
GAPS_MM = 5  # between name, amount, note and tag


def session_view(
    session: Session, cell: str, problem: Problem, by: TrainBy, theme: tuple[str, ...] = ()
) -> SessionView:
    """One session; `cell` is the day as it stands on paper, for reports of what does not fit.

    `by` holds the numbers to train by, `theme` the lines over the session after a day at the pit.
    """
    stops: list[StopView] = []
    before: Placement | None = None
    for p in in_time(session):
        unit = _unit(p, cell, problem, by.of(p))
        if before is not None and _here(p) == _here(before):
            last = stops[-1]
            stops[-1] = StopView(last.time, last.place, last.coach, last.partners, (*last.units, unit))
        else:
            comes = arrives(session) if before is None else p.starts or p.begins
            stops.append(_stop(p, before, comes, unit, problem))
        before = p
    return SessionView(
        cell=cell,
        warm_up=_warm_up(session, problem),
        facts=f"{session.minutes} min, load {session.load}",
        stops=tuple(stops),
        theme=theme,
    )


def in_time(session: Session) -> tuple[Placement, ...]:
    """Units as they follow each other by the clock; in day-order where the timetable gives no times.

    Without times jumps are the last of their class: run-ups without a jump come first.
    """
    if any(p.starts is None for p in session.placements):
        return tuple(sorted(session.placements, key=lambda p: (p.begins, p.unit.order, p.unit.family in JUMPS)))
    return tuple(sorted(session.placements, key=lambda p: p.starts or p.begins))


def arrives(session: Session) -> datetime:
    """When an athlete begins to warm up: so much before the first unit's start; else when the place opens."""
    opens = min(p.begins for p in session.placements)
    starts = [p.starts for p in session.placements if p.starts is not None]
    if not starts:
        return opens
    before = session.minutes - sum(p.dose.minutes for p in session.placements)  # warm-up and longer drills
    return max(opens, min(starts) - timedelta(minutes=-(-before // GRID) * GRID))


def _here(p: Placement) -> tuple[object, ...]:
    return (p.begins, p.venue, p.place, p.coach, p.partners)


def _stop(p: Placement, before: Placement | None, comes: datetime, unit: UnitView, problem: Problem) -> StopView:
    """Time, place, coach and partners, as far as they differ from the unit before."""
    time, place = words.clock(comes), place_words(p, problem)
    coach = words.clean(p.coach)
    partners = _with(first_names(p.partners, problem))
    if not coach and not partners:
        coach = "on your own" if _adult(p.athlete, p.day, problem) else _without_coach(p, problem)
    if before is not None:
        if p.starts is None and p.begins == before.begins:
            time = ""
        if place == place_words(before, problem):
            place = ""
            if (p.coach, p.partners) == (before.coach, before.partners):
                coach = partners = ""
    return StopView(time, place, coach, partners, (unit,))


def _without_coach(p: Placement, problem: Problem) -> str:
    """What a junior reads where no coach is with a unit; an adult is named where the file knows one there.

    A slot at several venues does not say at which of them its adults are, and adults of certain hours may be gone.
    """
    venues = {o.place.venue for o in problem.block.openings if (o.day, o.slot) == (p.day, p.slot)}
    there = any(x.is_adult and not x.hours for x in problem.presences_in(p.day, p.slot))
    return WITH_ADULT if there and len(venues) < 2 else "no coach"


def _with(names: tuple[str, ...]) -> str:
    """'with Ada and Bo', 'with Ada and 3 more': two names at most, the board has them all."""
    if len(names) > 2:
        return f"with {names[0]} and {len(names) - 1} more"
    return f"with {words.listed(names)}" if names else ""


def _adult(name: str, day: date, problem: Problem) -> bool:
    born = problem.block.athlete(name).born
    return born is not None and (day.year - born.year, day.month, day.day) >= (ADULT, born.month, born.day)


def first_names(names: tuple[str, ...], problem: Problem) -> tuple[str, ...]:
    """First names where they are clear in this squad, else whole names."""
    firsts = [words.clean(n).split(" ")[0] for n in problem.athletes]
    found = []
    for name in names:
        first = words.clean(name).split(" ")[0]
        found.append(first if firsts.count(first) == 1 else words.clean(name))
    return tuple(found)


def place_words(p: Placement, problem: Problem) -> str:
    """The place; the venue's name too when the block has several."""
    place, venue = words.title(p.place), words.clean(p.venue)
    if place and len({o.place.venue for o in problem.block.openings}) < 2:
        return place
    return f"{place}, {venue}" if place and venue and venue.lower() != place.lower() else place or venue


def _warm_up(session: Session, problem: Problem) -> str:
    """'Warm-up 25 min with running drills, then take-off drills 40': each drill once, with its sum."""
    sums: dict[tuple[str, str], int] = {}
    for p in session.placements:
        for unit_id, much, measure in p.dose.preparation:
            sums[unit_id, measure] = sums.get((unit_id, measure), 0) + much
    said = []
    for (unit_id, measure), much in sums.items():
        unit = problem.units.get(unit_id)
        name = words.clean(unit.name if unit else unit_id.replace("-", " ")).lower()
        last = name.rsplit(" ", maxsplit=1)[-1]
        bare = measure in ("take-offs", "landings", "starts", "contacts", "jumps") and (
            last in ("drills", measure)  # 'run-up starts 4', 'take-off drills 20': the number needs no word
        )
        said.append(f"{name} {much if bare else measured(much, measure)}")
    if not session.warm_up:
        return words.title(", ".join(said))
    drills = f", then {words.listed(tuple(said))}" if said else ""
    return f"Warm-up {session.warm_up} min with running drills{drills}"


def _unit(p: Placement, cell: str, problem: Problem, lines: Lines) -> UnitView:
    look = look_of(p.unit.family)
    easy = p.dose.word == "lighter"
    number, note = amount_words(p, lines)
    if easy:
        number, rest = lighter(p.dose, p.unit.lighter_text)
        note = _beside_name(rest.lstrip(" ,:"), p.name)
    tag = "lighter" if easy else p.importance if p.importance != "supporting" else ""
    beside = _title_mm(p.name, number, note, tag) <= TITLE_MM
    return UnitView(
        cell=f"{cell}, {p.name.lower()}",
        look=look.css,
        letter=look.letter,
        family=look.name,
        name=words.title(p.name),
        tag=tag,
        amount=number,
        amount_note=note if beside else "",
        how="; ".join(said for said in ("" if beside else words.unbroken(note), asides(lines)) if said),
        target="" if easy and not lines.targets else _plain(_for_level(lines.target, p.athlete, problem)),
        recovery=_plain(lines.recovery),
        shoes="" if lines.shoes == ANY_SHOES else _plain(lines.shoes),
        stop=_plain(lines.stop),
        lighter="" if easy else lighter_words(p, problem) + lightened(lines),
        bar_mm=min(round(p.dose.load / PAGE_BAR_LOAD_PER_MM, 1), PAGE_BAR_MOST_MM),
        fixed=p.fixed,
    )


def _beside_name(note: str, name: str) -> str:
    """What is said of a lighter amount without the name that stands before it: 'build-ups to 92 %, flats'."""
    return note[len(name) :].lstrip(" ,") if note.lower().startswith(name.lower()) else note


def _title_mm(name: str, number: str, note: str, tag: str) -> float:
    """How long name, amount, note and tag are side by side, in the sizes of the athlete page."""
    parts = (
        (name, 12.5, "Bold"),
        (number, KEY_PT, "Bold"),
        (note, READ_PT, "Regular"),
        (tag, LABEL_PT, "Regular"),
    )
    return GAPS_MM + sum(width_mm(text, points, face) for text, points, face in parts)


def _for_level(text: str, athlete: str, problem: Problem) -> str:
    """What stands in brackets for novices is said to novices only."""
    for_novices = problem.block.athlete(athlete).level == "novice"
    return re.sub(r" \(novices ([^)]*)\)", r", \1" if for_novices else "", text)


def _plain(text: str) -> str:
    return words.unbroken(words.clean(text).rstrip("."))


def lighter_words(p: Placement, problem: Problem) -> str:
    """The lighter line with the amount that is counted for it, when the season resolved one."""
    week = problem.week_of(p.athlete, p.day)
    doses = week.doses.get(p.unit.id) if week else None
    said = "".join(lighter(doses[1], p.unit.lighter_text)) if doses else p.unit.lighter_text
    return _plain(said)
