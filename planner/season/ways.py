"""What may become of each handed-out unit in a re-plan: itself, lighter, swapped, another hour, moved once."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta

from planner.catalogue import substitutes
from planner.domain.plan import Placement, PlacementKey
from planner.domain.problem import Problem
from planner.rules._hours import TWO_DATES_LATER

MOVE_HOURS = 48  # a key unit moves at most so far, and at most once; common practice, no source
SAME_TYPE_DAYS = 3  # the same kind of work within these days makes a move needless; common practice, no source
CLEAR_DAYS = 5  # nothing moves nearer to a competition that matters; common practice, no source
EASY = 1  # neural demand up to which a day is easy
SLACK_HOURS = 6  # so many hours short of the preferred ones still count as kept; common practice, no source
MATTERING = ("main", "supporting")


@dataclass(frozen=True)
class Given:
    """The handed-out plan as it stands: what may change, what was missed, the whole, and what is known of it."""

    open: tuple[Placement, ...]
    missed: tuple[Placement, ...]
    held: tuple[Placement, ...]
    moved_before: frozenset[tuple[str, str, date]]
    lighter: frozenset[PlacementKey]


def ways_for(problem: Problem, given: Given, now: datetime) -> tuple[Placement, ...]:
    """Candidates of a re-plan, in key order. No amount is above the one handed out."""
    by_day: dict[tuple[str, date], list[Placement]] = {}
    for p in problem.candidates:
        by_day.setdefault((p.athlete, p.day), []).append(p)
    busy = _busy(given.held)
    found: dict[PlacementKey, Placement] = {}
    for h in (*given.open, *given.missed):
        on_day = by_day.get((h.athlete, h.day), [])
        ways = [] if h in given.missed else [*_here(problem, h, on_day)]
        moved = [] if h in given.missed or any(p.unit.id == h.unit.id for p in ways) else _that_day(h, on_day)
        if may_move(problem, h, given.held, given.moved_before):
            moved += _moves(problem, h, by_day, busy)
        others = [q for q in (*problem.history, *given.held) if q.athlete == h.athlete and _jumping(q)]
        others = [q for q in others if q.key != h.key and q not in given.missed]
        ways += [p for p in moved if not _too_near(p, others)]
        if h.key in given.lighter and any(p.unit.id == h.unit.id and p.dose.word == "lighter" for p in ways):
            ways = [p for p in ways if p.key != h.key]
        for p in ways:
            if p.begins >= now:
                found[p.key] = _as_given(problem, h, p, found.get(p.key))
    for p in _trials(problem, given):
        if p.begins >= now:
            found.setdefault(p.key, p)
    return tuple(found[k] for k in sorted(found))


def _as_given(problem: Problem, h: Placement, p: Placement, other: Placement | None) -> Placement:
    """A placement with the importance and at most the amount that was handed out."""
    if p.unit.id != h.unit.id:
        return other or p
    if p.dose.word == h.dose.word and p.dose.measure == h.dose.measure and p.dose.amount > h.dose.amount:
        p = replace(p, dose=h.dose)
    return _at_its_time(problem, h, replace(p, importance=h.importance))


def _at_its_time(problem: Problem, h: Placement, p: Placement) -> Placement:
    """What stays as it was handed out keeps its start, place and coach, as long as that place is open."""
    if h.key != p.key or problem.kind_of_place(h) != problem.kind_of_place(p):
        return p
    return replace(p, starts=h.starts, place=h.place, coach=h.coach, partners=h.partners)


def _here(problem: Problem, h: Placement, on_day: Sequence[Placement]) -> list[Placement]:
    """The unit itself, its lighter form, and what may stand in for it, in its own slot."""
    here = [p for p in on_day if p.slot == h.slot]
    own = [p for p in here if p.unit.id == h.unit.id]
    instead = substitutes(h.unit.id)
    swaps = [
        p
        for p in here
        if p.unit.id != h.unit.id
        and (p.unit.family == h.unit.family or p.unit.id in instead)
        and p.dose.neural <= h.dose.neural
    ]
    return [*own, *swaps, *_lighter(problem, own)]


def _trials(problem: Problem, given: Given) -> list[Placement]:
    """Trials of the other leg that a person asked for, inside sessions that were handed out."""
    sessions = {(h.athlete, h.day, h.slot) for h in (*given.open, *given.missed)}
    return [p for p in problem.candidates if p.unit.is_trial and (p.athlete, p.day, p.slot) in sessions]


def _that_day(h: Placement, on_day: Sequence[Placement]) -> list[Placement]:
    """The same unit in another slot of its day, for one whose own slot no longer takes it.

    A pit that is shut in the morning may be open in the afternoon. What is done if there is time opens no session.
    """
    words = {h.dose.word, "lighter"} if h.importance != "if there is time" else set()
    return [p for p in on_day if p.unit.id == h.unit.id and p.slot != h.slot and p.dose.word in words]


def _lighter(problem: Problem, full: Iterable[Placement]) -> list[Placement]:
    """The lighter form of placements, at the week's lighter amount."""
    made = []
    for p in full:
        week = problem.week_of(p.athlete, p.day)
        if p.dose.word == "full" and week is not None and p.unit.id in week.doses:
            made.append(replace(p, dose=week.doses[p.unit.id][1]))
    return made


# --- moving --------------------------------------------------------------------------------------------


def may_move(
    problem: Problem, h: Placement, held: Sequence[Placement], moved_before: frozenset[tuple[str, str, date]]
) -> bool:
    """May a unit move at all? A key unit once, unless its kind comes again soon; a test within its week.

    `held` is the whole plan as it was handed out. What the body took away is not moved: it is gone. Nor is
    anything on a day an athlete asked to have lighter.
    """
    if (h.athlete, h.unit.id, h.day) in moved_before or _of_the_body(problem, h):
        return False
    if h.unit.family == "test":
        return True
    until = h.day + timedelta(days=SAME_TYPE_DAYS)
    again = (
        p.athlete == h.athlete and p.unit.family == h.unit.family and h.day < p.day <= until for p in held
    )
    return h.importance == "key" and not any(again)


def _of_the_body(problem: Problem, h: Placement) -> bool:
    return any(x.hold_back or x.region in ("illness", "whole") for x in problem.limits_on(h.athlete, h.day))


def _moves(
    problem: Problem,
    h: Placement,
    by_day: dict[tuple[str, date], list[Placement]],
    busy: dict[tuple[str, date], int],
) -> list[Placement]:
    """The same unit on an easy day near by, at the same amount at most."""
    week = problem.week_of(h.athlete, h.day)
    days = 6 if h.unit.family == "test" else MOVE_HOURS // 24
    found = []
    for i in range(-days, days + 1):
        day = h.day + timedelta(days=i)
        if not i or week is None or busy.get((h.athlete, day), 0) > EASY or _near_competition(problem, h, day):
            continue
        if h.unit.family == "test" and day not in week.days:
            continue
        for p in by_day.get((h.athlete, day), []):
            near = abs(p.begins - h.begins) <= timedelta(hours=24 * days)
            if p.unit.id == h.unit.id and near and p.dose.word in {h.dose.word, "lighter"}:
                found.append(p)
    return found


def _jumping(p: Placement) -> bool:
    """Take-offs or contacts that are at least near-maximal."""
    jumps = any(p.dose.take_offs.values()) or p.dose.counters.get("high-contacts", 0) > 0
    return jumps and p.dose.neural > EASY


def _too_near(p: Placement, others: Sequence[Placement]) -> bool:
    """Would moved jumping work stand within the preferred hours to recover of other jumping work?

    A plan made afresh may weigh these hours against its targets; a re-plan, in which staying outweighs every
    target, would not see them. So a move that breaks them is none: lighter or left out comes instead.
    """
    return _jumping(p) and any(_breaks_hours(*sorted((p, q), key=lambda x: x.begins)) for q in others)


def _breaks_hours(first: Placement, then: Placement) -> bool:
    """Start to start and between different dates only; the same day is a matter of its own rules."""
    dates = (then.day - first.day).days
    hours = max(first.unit.hours_neural, first.unit.hours_region)
    if not dates or (dates >= 2 and hours <= TWO_DATES_LATER):
        return False
    return then.begins - first.begins < timedelta(hours=hours - SLACK_HOURS)


def _near_competition(problem: Problem, h: Placement, day: date) -> bool:
    return any(
        c.importance in MATTERING and 0 <= (c.first_day - day).days < CLEAR_DAYS
        for c in problem.competitions_of(h.athlete)
    )


def _busy(held: Iterable[Placement]) -> dict[tuple[str, date], int]:
    """The highest neural demand of each athlete's day as it was handed out."""
    found: dict[tuple[str, date], int] = {}
    for p in held:
        found[p.athlete, p.day] = max(found.get((p.athlete, p.day), 0), p.dose.neural)
    return found
