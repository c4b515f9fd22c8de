"""Which sheets a coach's words ask for: athletes, the board, kinds of single sheets, days and slots."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from planner.domain.names import meant_by
from planner.domain.plan import Plan
from planner.domain.problem import Problem

BOARD = "squad board"
RUN_UP = "run-up"
MEASURING = "measuring"
COMPETITION = "competition"
SESSION = "session"
PARENTS = "parents"
KINDS = (RUN_UP, MEASURING, COMPETITION, SESSION)
NAMED = (*KINDS, PARENTS)  # what a word may ask for
OF_A_DAY = (MEASURING, COMPETITION, SESSION)  # what a day alone asks for
CARDS = (RUN_UP, COMPETITION)  # quickly made, they need no timetable
OF_A_SLOT = (MEASURING, SESSION)
AHEAD_DAYS = 7  # of a slot's sheets while no day is named: later ones may still change


@dataclass(frozen=True)
class Selection:
    """`pages` are the board and athletes' pages; `kinds` are single sheets, for these people, days and slots only.

    Empty people, days or slots mean all. `wrong` are words that name nothing, each with a sentence.
    """

    pages: tuple[str, ...]
    kinds: tuple[str, ...]
    people: tuple[str, ...] = ()
    days: tuple[date, ...] = ()
    slots: tuple[str, ...] = ()
    wrong: tuple[tuple[str, str], ...] = ()
    since: date = date.min  # sheets of a slot: from this day
    until: date = date.max

    def person(self, name: str) -> bool:
        return not self.people or name in self.people

    def slot(self, day: date, slot: str) -> bool:
        """Whether the sheets of a slot are asked for."""
        near = day in self.days if self.days else self.since <= day < self.until
        return near and (not self.slots or slot in self.slots)

    def slots_of(self, plan: Plan) -> frozenset[tuple[date, str]]:
        """Slots of a plan whose timetable is needed."""
        if not set(self.kinds) & set(OF_A_SLOT):
            return frozenset()
        return frozenset(
            (p.day, p.slot) for p in plan.placements if self.person(p.athlete) and self.slot(p.day, p.slot)
        )


def select(
    names: Sequence[str], problem: Problem, whole_set: tuple[str, ...] = KINDS, today: date | None = None
) -> Selection:
    """Nothing named: every page and the kinds of the whole set. A kind with names prints that kind for them only.

    Sheets of a slot are those of the seven days from `today`, or the block's first, unless days are named.
    An athlete who is called like a kind or a slot goes first: the word then means the athlete.
    """
    since = max(problem.block.begins, today or date.min)
    until = since + timedelta(days=AHEAD_DAYS)
    if not names:
        return Selection((BOARD, *problem.athletes), whole_set, since=since, until=until)
    slots = {s.name for s in problem.block.slots}
    board, people, kinds, days, asked, wrong = False, [], [], [], [], []
    for name in names:
        if name in problem.athletes:
            people.append(name)
        elif name in (BOARD, "board"):
            board = True
        elif name in NAMED:
            kinds.append(name)
        elif (day := _day(name)) is not None:
            days.append(day)
        elif name in slots:
            asked.append(name)
        elif (person := meant_by(name, problem.athletes)) is not None:
            people.append(person)
        else:
            wrong.append((name, _unknown(problem)))
    if (days or asked) and not kinds:
        kinds = list(OF_A_DAY)
    pages: tuple[str, ...] = (BOARD,) if board else ()
    if not kinds:
        pages += tuple(n for n in problem.athletes if n in people)
    in_order = tuple(k for k in NAMED if k in kinds)
    return Selection(pages, in_order, tuple(people), tuple(days), tuple(asked), tuple(wrong), since, until)


def _unknown(problem: Problem) -> str:
    known = (BOARD, *NAMED, *problem.athletes)
    return f"there is no sheet of this name. Maybe one of: {', '.join(known)}; or a day such as 2027-03-22."


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None
