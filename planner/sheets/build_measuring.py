"""From a slot at a pit to the measuring sheet: attempts in rotation, as the timetable has them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from planner.domain.plan import Placement, PlacementKey
from planner.domain.problem import Problem
from planner.domain.timetable import JUMPS, SlotTimetable
from planner.numbers import Lines
from planner.numbers.attempts import total_words
from planner.numbers.jumps import marks_by_shoe
from planner.numbers.lines import metres
from planner.sheets import words
from planner.sheets.build_athlete import squad_foot
from planner.sheets.build_run_up import own_rows
from planner.sheets.build_session import first_names
from planner.sheets.recorded import Recorded
from planner.sheets.view_athlete import RevisionView
from planner.sheets.view_measuring import AttemptRow, MeasuringView, SumRow

ATTEMPTS = ("jumps", "run-ups", "attempts")  # what is measured one by one, among the measures of the catalogue
RUN_UPS = "run-ups"
NO_JUMP = "no jump"
USUAL_RATE = 40  # jumps an hour at a pit that is raked and measured; common practice, no source
PIT = "pit"
SPARE = 2  # empty rows
STRIP_FROM_CM, STRIP_TO_CM = -40, 10  # the strip beside every attempt, + past the line
STRIP_STEP_CM = 10
NAME_SIGNS = 16
ROUND_TO = 5  # centimetres
NO_BREAK = "\u00a0"
MINUTES_EACH = timedelta(minutes=2)  # of an attempt, while no timetable says when; only for the order
CAUTION = (
    "Board: draw the toe on the strip and write cm in the box, + past the line, − short of it. "
    "Hop, step and jump toe to toe, to 5 cm. Wind beside every attempt. Stop on pain."
)
TASKS: Mapping[str, str] = {"rake": "rakes", "measure": "measures", "film": "films", "time": "times"}


@dataclass(frozen=True)
class Turn:
    """Somebody's attempts of one unit and the stretch of time they fall into."""

    placement: Placement
    begins: datetime
    ends: datetime
    turn: int

    def order(self) -> tuple[int, datetime, PlacementKey]:
        """Place in a round: the timetable's order, then who was there first."""
        return self.turn, self.begins, self.placement.key

    @property
    def each(self) -> timedelta:
        return (self.ends - self.begins) / max(1, self.placement.dose.amount)


def at_pits(placements: Iterable[Placement], problem: Problem) -> Mapping[tuple[str, str], list[Placement]]:
    """Attempts of a slot by venue and pit, in key order; empty where nobody jumps."""
    kinds = {(o.place.venue, o.place.name): o.place.kind for o in problem.block.openings}
    found: dict[tuple[str, str], list[Placement]] = {}
    for p in sorted(placements, key=lambda p: p.key):
        if kinds.get((p.venue, p.place)) == PIT and p.dose.measure in ATTEMPTS:
            found.setdefault((p.venue, p.place), []).append(p)
    return dict(sorted(found.items()))


def measuring_view(  # noqa: PLR0913  # a pit and a slot, who jumps there, and what is known of them
    day: date,
    slot: str,
    placements: Sequence[Placement],
    problem: Problem,
    *,
    table: SlotTimetable | None,
    lines: Mapping[PlacementKey, Lines],
    recorded: Recorded,
    revision: RevisionView,
) -> MeasuringView:
    """The sheet of one pit in one slot."""
    block = problem.block
    first = placements[0]
    place = words.title(first.place)
    venue = words.clean(first.venue)
    where = f"{place}, {venue}" if venue and venue.lower() != place.lower() else place
    turns = _turns(placements, table)
    short = dict(zip(problem.athletes, first_names(problem.athletes, problem), strict=True))
    said = {t.placement.key: _what(t.placement, lines, problem, recorded) for t in turns}
    aims = [f"{short[t.placement.athlete]} {aim}" for t in turns if (aim := said[t.placement.key][1])]
    return MeasuringView(
        title=f"Measuring sheet: {words.short_date(day)} {day.year}, {slot}, {place}",
        heading=words.shorter(where, 34),
        sub=f"{words.long_date(day)}, {words.clean(slot)}, from {words.clock(min(t.begins for t in turns))}",
        jobs=_jobs(day, slot, first, problem, table),
        order=_order_words(turns, short),
        aims="; ".join(dict.fromkeys(aims)),
        rows=_rows(rotation(turns, _minutes_a_jump(first, problem)), short, said),
        sums=tuple(_sum(t.placement, short, said) for t in turns),
        strip=_strip(),
        caution=CAUTION,
        revision=revision,
        foot=f"Measuring, {words.short_date(day)}, {words.shorter(slot, 14)}",
        foot_squad=squad_foot(block.squad, block.contact),
    )


def _rows(
    rounds: Sequence[tuple[int, Placement]],
    short: Mapping[str, str],
    said: Mapping[PlacementKey, tuple[str, str]],
) -> tuple[AttemptRow, ...]:
    """Attempts numbered by athlete and unit, with empty rows at the end in the shape of the last."""
    rows: list[AttemptRow] = []
    number: dict[PlacementKey, int] = {}
    last = 0
    for turn, p in rounds:
        number[p.key] = number.get(p.key, 0) + 1
        name = words.shorter(short[p.athlete], NAME_SIGNS)
        result = NO_JUMP if p.dose.measure == RUN_UPS else ""
        rows.append(AttemptRow(str(number[p.key]), name, said[p.key][0], result, _triple(p), turn != last))
        last = turn
    empty = AttemptRow("", "", "", "", rows[-1].phases, True)
    return (*rows, *[empty] * SPARE)


def _turns(placements: Sequence[Placement], table: SlotTimetable | None) -> list[Turn]:
    """Who jumps when; without a timetable everybody from the opening on, units in the order of the day."""
    found = []
    for p in placements:
        line = table.line_of(p) if table else None
        if line is not None:
            found.append(Turn(p, line.begins, line.ends, line.turn))
        else:
            begins = p.begins.replace(tzinfo=None) + timedelta(minutes=p.unit.order)
            found.append(Turn(p, begins, begins + MINUTES_EACH * max(1, p.dose.amount), 0))
    return sorted(
        (t for t in found if t.placement.dose.amount > 0),
        key=lambda t: (t.begins, t.turn, t.placement.unit.family in JUMPS, t.placement.key),
    )


def rotation(turns: Sequence[Turn], minutes_a_jump: float) -> list[tuple[int, Placement]]:
    """Attempts as they are jumped, with the number of their round: who is there takes one turn each.

    A round lasts as long as the pit needs for its jumps, and as the quickest of them rests in the timetable.
    """
    queues: dict[str, list[Turn]] = {}
    for t in turns:
        queues.setdefault(t.placement.athlete, []).append(t)
    left = {t.placement.key: t.placement.dose.amount for t in turns}
    found: list[tuple[int, Placement]] = []
    now, number = turns[0].begins, 0
    while queues:
        ready = sorted((q[0] for q in queues.values() if q[0].begins <= now), key=Turn.order)
        if not ready:
            now = min(q[0].begins for q in queues.values())
            continue
        number += 1
        for t in ready:
            found.append((number, t.placement))
            left[t.placement.key] -= 1
            if not left[t.placement.key]:
                queues[t.placement.athlete].pop(0)
        queues = {name: q for name, q in queues.items() if q}
        now += max(len(ready) * timedelta(minutes=minutes_a_jump), min(t.each for t in ready))
    return found


def _groups(turns: Sequence[Turn]) -> list[list[Turn]]:
    """Who starts together, in order of time."""
    groups: list[list[Turn]] = []
    for t in turns:
        if groups and groups[-1][0].begins == t.begins:
            groups[-1].append(t)
        else:
            groups.append([t])
    return groups


def _what(
    p: Placement, lines: Mapping[PlacementKey, Lines], problem: Problem, recorded: Recorded
) -> tuple[str, str]:
    """('8 steps, 12.90 m', '10 steps: hop 4.50, step 8.40') as far as known; of two shoes with the name."""
    line = lines.get(p.key)
    if line is None or not line.steps:
        return "", ""
    athlete = problem.block.athlete(p.athlete)
    rows = own_rows(athlete, problem)
    event = "triple jump" if _triple(p) else next((e for e in athlete.events if e == "triple jump"), "long jump")
    event = "long jump" if "long" in p.unit.id else event
    leg = p.unit.jumping_leg(athlete.take_off_leg)
    starts = []
    for shoe, row in marks_by_shoe(rows, p.athlete, event, line.steps, leg, p.unit.shoes):
        logged = recorded.logged.get((p.athlete, event, line.steps, leg, row.worn))
        cm = logged.still.mark_cm if logged and logged.still else row.start_mark
        starts.append(f"{words.clean(shoe)}{NO_BREAK}{metres(cm or 0)}" if shoe else f"{metres(cm or 0)} m")
    start = f", {', '.join(starts)}" if starts else ""
    marks = [(t.low + t.high) // 2 for t in line.targets if t.what.endswith("lands at")]
    aim = ""
    if len(marks) == 2 and _triple(p):
        aim = f"{line.steps} steps, hop {metres(_near(marks[0]))} m, step {metres(_near(marks[1]))} m"
        come = total_words(_near(marks[1]), tuple(recorded.attempts.get(p.athlete, ())))
        aim += f" ({come})" if come else ""
    if p.unit.is_trial:
        start = f", {leg} leg{start}"
    return f"{line.steps} steps{start}", aim


def _near(cm: int) -> int:
    """Marks beside a runway are set to 5 cm."""
    return round(cm / ROUND_TO) * ROUND_TO


def _minutes_a_jump(p: Placement, problem: Problem) -> float:
    """Minutes a pit needs for one jump, by its own rate."""
    rates = [
        o.place.jumps_per_hour
        for o in problem.openings_in(p.day, p.slot)
        if (o.place.venue, o.place.name) == (p.venue, p.place) and o.place.jumps_per_hour
    ]
    return 60 / (rates[0] if rates else USUAL_RATE)


def _triple(p: Placement) -> bool:
    return p.unit.id.startswith("hop-and-step") or "triple" in p.unit.id


def _jobs(
    day: date, slot: str, first: Placement, problem: Problem, table: SlotTimetable | None
) -> tuple[str, ...]:
    """'Ulla rakes' from the timetable; else the helpers who are there for it."""
    if table is not None:
        tasks = [(h.helper, h.task) for h in table.helpers if (h.venue, h.place) == (first.venue, first.place)]
    else:
        here = [p for p in problem.presences_in(day, slot) if p.coach is None]
        tasks = [(p.name, task) for p in here for task in p.tasks]
    jobs: dict[str, list[str]] = {}
    for who, task in dict.fromkeys(tasks):
        if task in TASKS:
            jobs.setdefault(words.clean(who), []).append(TASKS[task])
    return tuple(f"{who} {words.listed(tuple(said))}" for who, said in jobs.items())


def _order_words(turns: Sequence[Turn], short: Mapping[str, str]) -> str:
    """'Order: Tilde, Bram; from 17:50 Micah'."""
    said = []
    for group in _groups(turns):
        names = tuple(dict.fromkeys(words.clean(short[t.placement.athlete]) for t in group))
        units = tuple(dict.fromkeys(t.placement.name.lower() for t in group))
        said.append(f"{words.clock(group[0].begins)} {', '.join(names)} ({words.listed(units)})")
    return "; ".join(said)


def _sum(p: Placement, short: Mapping[str, str], said: Mapping[PlacementKey, tuple[str, str]]) -> SumRow:
    return SumRow(words.shorter(short[p.athlete], NAME_SIGNS), said[p.key][0], f"{p.dose.amount}")


def _strip() -> tuple[str, ...]:
    marks = range(STRIP_FROM_CM, STRIP_TO_CM + 1, STRIP_STEP_CM)
    return tuple(f"−{-m}" if m < 0 else f"+{m}" if m else "0" for m in marks)
