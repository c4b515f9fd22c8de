"""A competition on a day of training at home: with every coach planned there, nobody is left to go along."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from planner.domain.block import Block, Competition, Slot

MINOR = 18  # years
MOST_NAMED = 3  # athletes in one sentence


@dataclass(frozen=True)
class NobodyGoes:
    """The first day of a competition with all `coaches` in `slots` at home; `young` compete and are under 18."""

    meet: Competition
    day: date
    young: tuple[str, ...]
    others: tuple[str, ...]
    coaches: tuple[str, ...]
    slots: tuple[str, ...]

    @property
    def alone(self) -> bool:
        """Whether one athlete only competes."""
        return len(self.young) + len(self.others) == 1

    def __str__(self) -> str:
        who = [*(f"'{n}' (under {MINOR})" for n in self.young), *(f"'{n}'" for n in self.others)]
        more = [f"{len(who) - MOST_NAMED} more"] if len(who) > MOST_NAMED else []
        verb = "competes" if self.alone else "compete"
        coaches = _and([f"'{c}'" for c in self.coaches]) + (" is" if len(self.coaches) == 1 else " are")
        slots = _and([f"'{s}'" for s in self.slots])
        return (
            f"'{self.meet.name}' on {self.day}: {_and(who[:MOST_NAMED] + more)} {verb}, "
            f"and {coaches} planned for training at home in {slots}"
        )


def nobody_goes(block: Block) -> Iterator[NobodyGoes]:
    """Each competition, once, on whose days all coaches stand in slots in which somebody else may train."""
    meets: dict[tuple[str, date], list[Competition]] = {}
    for c in block.competitions:
        meets.setdefault((c.name, c.first_day), []).append(c)
    for entered in meets.values():
        for day in _days(entered):
            if _all_at_home(block, day):
                yield _told(block, entered, day)
                break


def is_away(block: Block, athlete: str, slot: Slot) -> bool:
    """Whether an absence other than an exam meets the slot."""
    begins, ends = datetime.combine(slot.day, slot.begins), datetime.combine(slot.day, slot.ends)
    return any(
        a.athlete == athlete and a.kind != "exam" and a.begins < ends and begins < a.ends for a in block.away
    )


def _days(entered: Sequence[Competition]) -> list[date]:
    first, last = entered[0].first_day, max(c.last_day for c in entered)
    return [first + timedelta(days=i) for i in range((last - first).days + 1)]


def _all_at_home(block: Block, day: date) -> bool:
    """Whether each coach of the block is in a slot of that day, and somebody is left who may train in one."""
    coaches = {p.name for p in block.presences if p.coach is not None}
    there = {p.name for p in block.presences if p.coach is not None and p.day == day}
    if not there or there != coaches:
        return False
    competing = {c.athlete for c in block.competitions if c.first_day <= day <= c.last_day}
    slots = [s for s in block.slots if s.day == day]
    left = [a.name for a in block.athletes if a.name not in competing]
    return any(not is_away(block, name, slot) for name in left for slot in slots)


def _told(block: Block, entered: Sequence[Competition], day: date) -> NobodyGoes:
    on = [c for c in entered if c.first_day <= day <= c.last_day]
    ages = {c.athlete: block.athlete(c.athlete).age_on(day) for c in on}
    young = tuple(name for name, age in ages.items() if age is not None and age < MINOR)
    there = [p for p in block.presences if p.coach is not None and p.day == day]
    with_coach = {p.slot for p in there}
    return NobodyGoes(
        on[0],
        day,
        young,
        tuple(name for name in ages if name not in young),
        tuple(dict.fromkeys(p.name for p in there)),
        tuple(s.name for s in block.slots if s.day == day and s.name in with_coach),
    )


def _and(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
