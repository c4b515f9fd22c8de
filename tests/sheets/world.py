"""A fictional fortnight of seven athletes, drawn by hand, with something of everything paper must show."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time, timedelta
from functools import cache
from zoneinfo import ZoneInfo

from planner.catalogue import units
from planner.domain.block import (
    Athlete,
    Away,
    Block,
    Coach,
    Competition,
    Limit,
    Opening,
    Place,
    Presence,
    RuleSetting,
    Slot,
    Theme,
)
from planner.domain.plan import Outcome, Placement, Plan, TierStatus
from planner.domain.problem import AthleteWeek, Count, Problem
from planner.domain.revision import Revision
from planner.domain.units import SIDES, AmountWord, Dose, Unit

ZONE = ZoneInfo("Europe/Oslo")
FIRST = date(2027, 4, 5)  # a Monday
LAST = FIRST + timedelta(days=13)
REVISION = Revision(3, datetime(2027, 4, 3, 18, 40, tzinfo=ZONE), "pit closed on Thursday", replaces=2)
PLACES = {
    "pit": Place("Solbakken", "north pit", "pit", 6, 40),
    "straight": Place("Solbakken", "home straight", "straight", 12),
    "track": Place("Solbakken", "track", "track", 30),
    "gym": Place("Solbakken hall", "gym", "gym", 8, outdoor=False),
    "grass": Place("Solbakken", "grass", "grass", 30),
    "pool": Place("Lillevik baths", "pool", "pool", 10, outdoor=False),
}
SLOTS = {"morning": (time(9, 30), time(12, 0)), "evening": (time(17, 0), time(19, 30))}
ATHLETES = (
    Athlete("Signe Brattlien", date(2004, 2, 11), "f", ("long jump", "100 m"), "advanced", group="jumps"),
    Athlete("Jonas Ekornrud", date(2003, 8, 30), "m", ("triple jump",), "advanced", group="jumps"),
    Athlete("Tuva Mosletten", date(2009, 5, 2), "f", ("long jump",), "developing", group="jumps"),
    Athlete("Amadi Korsvold", date(2002, 1, 19), "m", ("100 m", "200 m"), "advanced", group="sprints"),
    Athlete("Liv-Åse Nørholt", date(2005, 11, 7), "f", ("400 m",), "developing", group="sprints"),
    Athlete("Henrik O'Dalby", date(2004, 6, 23), "m", ("110 m hurdles",), "advanced", group="sprints"),
    Athlete("Ragna Fjellstrand", date(2006, 9, 14), "f", ("heptathlon",), "developing", group="combined"),
)
S, J, T, A, L, H, R = (a.name for a in ATHLETES)
COACHES = (Coach("Marit Lo"), Coach("Pål Vinje", ("strength", "throws")))
# who | day of the fortnight | slot | place | coach | units ('unit' full, '-unit' lighter)
LINES = (
    ((S, J, T), 0, "evening", "pit", "Marit Lo", "medium-long-jumps low-multi-jumps"),
    ((A, L, H), 0, "evening", "straight", "", "short-accelerations block-starts medicine-ball"),
    ((R,), 0, "evening", "straight", "Pål Vinje", "throws-technique short-accelerations"),
    ((S, J, A), 1, "morning", "gym", "Pål Vinje", "upper-body robustness"),
    ((S, J, T, A, L, R), 1, "evening", "grass", "", "extensive-tempo mobility"),
    ((S, J, R), 2, "evening", "straight", "Marit Lo", "flying-sprints heavy-strength"),
    ((A, L), 2, "evening", "straight", "Marit Lo", "flying-sprints speed-endurance heavy-strength"),
    ((H,), 2, "evening", "straight", "", "race-hurdles heavy-strength"),
    ((T,), 2, "evening", "pool", "", "own-work off-feet-conditioning"),
    ((S, J, A, R), 3, "morning", "pool", "", "active-recovery"),
    ((L,), 3, "evening", "track", "", "special-endurance"),
    ((S, R), 4, "evening", "pit", "Marit Lo", "full-run-ups full-long-jumps power-lifts"),
    ((J,), 4, "evening", "pit", "Marit Lo", "triple-jump-phases intensive-bounds power-lifts"),
    ((A, H), 4, "evening", "straight", "", "long-accelerations depth-jumps power-lifts"),
    ((T,), 4, "evening", "grass", "Marit Lo", "-short-long-jumps general-strength"),
    ((S, A), 5, "morning", "grass", "", "-extensive-tempo mobility"),
    ((J, L), 5, "morning", "gym", "Pål Vinje", "general-strength robustness"),
    ((S, J, T), 7, "evening", "pit", "Marit Lo", "short-long-jumps extensive-bounds"),
    ((A, L, H), 7, "evening", "straight", "", "resisted-accelerations stick-runs"),
    ((R,), 7, "evening", "straight", "Pål Vinje", "hurdle-rhythm testing"),
    ((S, J, T, A, L, R), 8, "evening", "grass", "", "-extensive-tempo mobility"),
    ((S, A, H), 9, "evening", "straight", "Marit Lo", "flying-sprints -heavy-strength"),
    ((J, T, R), 9, "evening", "pit", "Marit Lo", "box-take-offs short-triple-jumps"),
    ((S, J, A, L), 11, "evening", "grass", "", "primer"),
)


def dose(unit: Unit, level: str, word: AmountWord = "full") -> Dose:
    """The middle of a level's range, or the lighter row; figures as the catalogue gives them."""
    span = unit.amounts.get(level) or next(iter(unit.amounts.values()))  # type: ignore[call-overload]
    much = (span.low + span.high) // 2 // unit.increment * unit.increment or span.low or 1
    demand = unit.demand
    measure, note = unit.measure, span.note
    if word == "lighter":
        much, demand = unit.lighter_amount(level, much), unit.lighter  # type: ignore[arg-type]
        measure, note = unit.lighter_measure or unit.measure, ""
    take_offs = {"left": much, "right": 0} if unit.take_off_share else {"left": 0, "right": 0}
    names = units()
    before = tuple((u, n, names[u].measure) for u, n in unit.prepares)
    return Dose(
        word,
        much,
        measure,
        demand.neural,
        demand.metabolic,
        sum(demand.minutes) // 2,
        sum(demand.effort) // 2,
        {(r, s): v for r, v in demand.loads.items() for s in SIDES},
        {c: much * v // 100 for c, v in unit.counters.items()},
        take_offs,
        before,
        5 * len(before),
        note,
    )


def placements() -> tuple[Placement, ...]:
    book = units()
    found = []
    for who, day, slot, place, coach, said in LINES:
        for word in said.split():
            unit = book[word.lstrip("-")]
            for name in who:
                level = next(a.level for a in ATHLETES if a.name == name)
                on = FIRST + timedelta(days=day)
                lifting = unit.family == "strength"
                at = datetime.combine(on, time(18, 30) if lifting and slot == "evening" else SLOTS[slot][0], ZONE)
                where = PLACES["gym" if lifting else place]
                found.append(
                    Placement(
                        name,
                        on,
                        slot,
                        unit,
                        dose(unit, level, "lighter" if word[0] == "-" else "full"),
                        at,
                        where.name,
                        where.venue,
                        "key" if unit.eyes == 2 else "supporting",
                        "Pål Vinje" if lifting else coach,
                        tuple(n for n in who if n != name),
                    )
                )
    return tuple(found)


@cache
def block() -> Block:
    days = [FIRST + timedelta(days=i) for i in range(14)]

    def at(day: int, hour: int, minute: int = 0) -> datetime:
        return datetime.combine(FIRST + timedelta(days=day), time(hour, minute), ZONE)

    return Block(
        "Spring block",
        FIRST,
        LAST,
        "Solbakken jumps and sprints",
        time_zone="Europe/Oslo",
        contact="Marit Lo 555 0142",
        slots=tuple(Slot(d, n, *SLOTS[n]) for d in days for n in SLOTS),
        openings=tuple(Opening(d, n, p, *SLOTS[n]) for d in days for n in SLOTS for p in PLACES.values()),
        presences=tuple(
            [Presence(d, "evening", "Marit Lo", 150, COACHES[0]) for d in days if d.weekday() < 5]
            + [Presence(d, n, "Pål Vinje", 90, COACHES[1]) for d in days if d.weekday() < 4 for n in SLOTS]
        ),
        athletes=ATHLETES,
        away=(
            Away(L, at(4, 8), at(4, 14), "exam"),
            Away(H, at(5, 6), at(6, 22), "away"),
            Away(A, at(12, 7), at(12, 12), "travel", travel_hours=4),
            Away(T, at(3, 0), at(4, 0), "away"),
        ),
        competitions=(
            Competition(
                "Fjordby spring meeting",
                A,
                FIRST + timedelta(days=13),
                FIRST + timedelta(days=13),
                ("100 m", "200 m"),
                "main",
            ),
            Competition(
                "Fjordby spring meeting",
                S,
                FIRST + timedelta(days=13),
                FIRST + timedelta(days=13),
                ("long jump",),
                "supporting",
            ),
            Competition(
                "Midsummer combined events", R, date(2027, 6, 19), date(2027, 6, 20), ("heptathlon",), "main"
            ),
        ),
        limits=(
            Limit(T, "knee", "right", 4, ends=FIRST + timedelta(days=9), landings_a_session=6, days_between=2),
            Limit(L, "whole", hold_back=True, begins=FIRST + timedelta(days=8), ends=FIRST + timedelta(days=10)),
        ),
        themes=(Theme(S, "hold the last two steps quick and flat", "start mark within 15 cm", FIRST, LAST),),
        settings=(
            RuleSetting(
                "no_two_fast_days_running",
                "off",
                1,
                R,
                FIRST,
                FIRST + timedelta(days=1),
                "rehearsal of two days in a row",
            ),
        ),
    )


def problem(of: Block | None = None) -> Problem:
    made = of or block()
    book = units()
    weeks: dict[str, tuple[AthleteWeek, ...]] = {}
    for a in made.athletes:
        weeks[a.name] = tuple(
            AthleteWeek(
                a.name,
                i,
                FIRST + timedelta(days=7 * i),
                tuple(FIRST + timedelta(days=7 * i + k) for k in range(7)),
                "specific-preparation" if i == 0 else "taper",
                100 if i == 0 else 60,
                "loading" if i == 0 else "taper",
                7,
                {},
                Count(1, 3, 3),
                Count(3, 5, 6),
                {},
                {u.id: (dose(u, a.level), dose(u, a.level, "lighter")) for u in book.values()},
                {},
                usual_fast_day=350,
            )
            for i in range(2)
        )
    return Problem(made, book, weeks, ())


def outcome(*, proved: bool = False) -> Outcome:
    plan = Plan(
        tuple(sorted(placements(), key=lambda p: p.key)),
        {"must": TierStatus(0, 0), "should": TierStatus(12, 12 if proved else 9), "prefer": TierStatus(3, 3)},
    )
    return Outcome(plan, (), {"must": {}, "should": {}, "prefer": {}})


def renamed(old: str, new: str) -> tuple[Outcome, Problem]:
    """The same fortnight with one athlete under another name."""

    def swap(name: str) -> str:
        return new if name == old else name

    made = block()
    moved = replace(
        made,
        athletes=tuple(replace(a, name=swap(a.name)) for a in made.athletes),
        away=tuple(replace(a, athlete=swap(a.athlete)) for a in made.away),
        competitions=tuple(replace(c, athlete=swap(c.athlete)) for c in made.competitions),
        limits=tuple(replace(x, athlete=swap(x.athlete)) for x in made.limits),
        themes=tuple(replace(x, athlete=swap(x.athlete)) for x in made.themes),
    )
    given = outcome()
    placed = Plan.of(
        replace(p, athlete=swap(p.athlete), partners=tuple(swap(n) for n in p.partners))
        for p in given.plan.placements
    )
    return replace(given, plan=replace(given.plan, placements=placed.placements)), problem(moved)


def crowd(many: int) -> tuple[Outcome, Problem]:
    """The same fortnight with `many` athletes, who follow the seven in turn, all with other names."""
    made = block()
    names = [f"{ATHLETES[i % 7].name.split()[0]} Number{i + 1}" for i in range(many)]
    athletes = tuple(replace(ATHLETES[i % 7], name=names[i]) for i in range(many))
    given = problem(replace(made, athletes=athletes, away=(), competitions=(), limits=(), themes=()))
    source = placements()
    placed = Plan.of(
        replace(p, athlete=name, partners=())
        for i, name in enumerate(names)
        for p in source
        if p.athlete == ATHLETES[i % 7].name
    )
    of = outcome()
    return replace(of, plan=replace(of.plan, placements=placed.placements)), given


def longest(name: str) -> tuple[Outcome, Problem]:
    """A week in which one athlete does every unit of the catalogue, full or lighter, at the longest amount."""
    given = outcome()
    book = [u for u in units().values() if not u.preparation]
    days = [FIRST + timedelta(days=i) for i in range(6)]
    mine = []
    for i, unit in enumerate(book):
        on, slot = days[i % 6], "morning" if i // 6 % 2 else "evening"
        mine.append(
            Placement(
                name,
                on,
                slot,
                unit,
                dose(unit, "advanced", "lighter" if i % 3 == 2 else "full"),
                datetime.combine(on, SLOTS[slot][0], ZONE),
                "north pit",
                "Solbakken",
                "if there is time" if i % 2 else "key",
                "Marit Lo",
                (J, T),
            )
        )
    others = [p for p in given.plan.placements if p.athlete != name]
    filled = replace(given, plan=replace(given.plan, placements=Plan.of([*others, *mine]).placements))
    made = problem()
    first = {who: weeks[:1] for who, weeks in made.weeks.items()}
    return filled, replace(made, block=replace(made.block, ends=FIRST + timedelta(days=6)), weeks=first)


def thin(of: Outcome, given: Problem) -> tuple[Outcome, Problem]:
    """The first week's first three days only: one page for what does not need a fortnight."""
    few = tuple(p for p in of.plan.placements if p.day < FIRST + timedelta(days=3))
    weeks = {name: ws[:1] for name, ws in given.weeks.items()}
    short = replace(given.block, ends=FIRST + timedelta(days=6))
    return replace(of, plan=replace(of.plan, placements=few)), replace(given, block=short, weeks=weeks)
