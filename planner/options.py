"""Other ways out of what happened: the same problem with the first way's answer closed, solved in the same way.

The least change answers one question first of all: what becomes of this unit? It may become lighter, give way to
another, move, or be left out; after a moved competition: which week opens. Each other answer that can be had is a
way of its own, with a sentence of what it costs. The same facts give the same ways in the same order.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING

from planner.domain.block import Block, Wish
from planner.domain.dates import said_day
from planner.domain.facts import Done, Fact, in_force
from planner.domain.plan import Outcome, Placement
from planner.domain.problem import Problem
from planner.domain.units import counted
from planner.review.changes import Change, changes, not_settled, words

if TYPE_CHECKING:
    from planner.ledger import StoredPlan
    from planner.season.reopened import Opened
    from planner.season.replan import Stand

MOST = 3  # ways shown; a coach decides between few
MOST_TRIED = 4  # other answers that are solved for; each takes about as long as the least change itself
KEEP = "keep_handed_out"
MATTERS = ("key", "supporting", "if there is time")


@dataclass(frozen=True)
class Case:
    """What a re-plan starts from: the plan athletes hold, what has happened since, and what is open.

    `clock` is the block's own time without a zone. `present` is the last revision, usually `base` itself.
    """

    base: StoredPlan
    present: StoredPlan
    before: Problem  # as the plan they hold knew the block
    problem: Problem  # as the facts have left it, everything open
    stand: Stand
    news: tuple[Fact, ...]
    moved: frozenset[tuple[str, str, date]]
    opened: Opened
    clock: datetime
    facts: tuple[Fact, ...] = ()
    planned_from: Block | None = None  # the inputs of the held plan, as the ledger keeps them


@dataclass(frozen=True)
class Way:
    """One way: the problem it answers, the reviewed plan, what changes, and what it costs in a sentence."""

    asked: Problem
    touched: frozenset[str]
    outcome: Outcome
    changes: tuple[Change, ...] = ()
    sentence: str = ""


@dataclass(frozen=True)
class Question:
    """What becomes of a handed-out unit, and how the first way answers."""

    held: Placement
    answer: str
    instead: Placement | None = None


@dataclass(frozen=True)
class Variant:
    """The problem with every other answer closed; `wish` is the answer that is asked for."""

    kind: str
    asked: Problem
    wish: Wish | None = None


Solve = Callable[[Problem, tuple[Wish, ...]], Outcome | None]  # None: no plan keeps every must
Weeks = Callable[["Opened"], Problem]


def changed(case: Case, outcome: Outcome) -> tuple[Change, ...]:
    """What a plan changes of what athletes hold and is still to come; what is over moves nowhere."""
    return changes(case.stand.to_come, not_settled(outcome.plan.placements, case.stand.settled))


def has_choice(case: Case, way: Way) -> bool:
    """May there be another way at all? Nothing is solved to answer this."""
    return bool(case.opened) or any(_has_variant(case, way, q) for q in questions(case, way))


def all_ways(case: Case, first: Way, solve: Solve, weeks: Weeks, most: int = MOST) -> tuple[Way, ...]:
    """The first way and up to two others (`most` in all) that really differ, each with its sentence.

    A way that changes the plan of somebody whom the first one leaves alone is none.
    """
    asked = questions(case, first)
    head = asked[0] if asked else None
    own = _own(case, None if case.opened or head is None else head.held, first.outcome)
    found = [replace(first, sentence=_sentence(case, first.outcome, _opening(case, head, first), own, first))]
    seen = [_keys(first.outcome)]
    left_alone = {p.athlete for p in case.stand.to_come} - {c.athlete for c in first.changes} - first.touched
    for variant, question in _limited(case, first, asked, weeks):
        if len(found) >= most:
            break
        outcome = solve(variant.asked, (variant.wish,) if variant.wish else ())
        if outcome is None or outcome.musts_broken or _keys(outcome) in seen:
            continue
        made = changed(case, outcome)
        if left_alone & {c.athlete for c in made}:
            continue
        if question is not None and _answer(question.held, outcome, case)[0] != variant.kind:
            continue
        seen.append(_keys(outcome))
        way = Way(variant.asked, first.touched, replace(outcome, plan=replace(outcome.plan, status={})), made)
        opening = _said_of_weeks(variant) if question is None else _said(question.held, outcome, case)
        own = _own(case, question.held if question else None, outcome)
        found.append(replace(way, sentence=_sentence(case, outcome, opening, own, first)))
    return tuple(found)


def questions(case: Case, way: Way) -> tuple[Question, ...]:
    """Units that do not stay as they were handed out, and key units missed just now; what matters most first."""
    from planner.season.ways import may_move

    plan = {p.key for p in way.outcome.plan.placements}
    held = [h for h in case.stand.to_come if h.key not in plan and h.athlete in way.touched]
    held = [h for h in held if not way.asked.opened_on(h.athlete, h.day)]
    asked = [*held, *(h for h in missed(case) if may_move(case.problem, h, case.base.placements, case.moved))]
    asked.sort(key=lambda h: (MATTERS.index(h.importance), h.day, h.key))
    return tuple(Question(h, *_answer(h, way.outcome, case)) for h in asked)


def missed(case: Case) -> tuple[Placement, ...]:
    """Key units recorded since the present plan as missed, not too long ago."""
    from planner.season.ways import MOVE_HOURS

    gone = {
        (f.athlete, f.day, f.slot, f.unit)
        for f in in_force(case.news)
        if isinstance(f, Done) and (f.remark == "missed" or f.amount == 0)
    }
    return tuple(
        p for p in case.base.placements
        if p.key[:4] in gone and p.importance == "key" and case.clock - p.begins <= timedelta(hours=MOVE_HOURS)
    )  # fmt: skip


# --- the other answers ---------------------------------------------------------------------------------


def _limited(
    case: Case, first: Way, asked: Sequence[Question], weeks: Weeks
) -> Iterator[tuple[Variant, Question | None]]:
    """The other answers, at most so many, in order: opened weeks, then unit by unit."""
    tried = 0
    for variant in _of_weeks(case, weeks):
        yield variant, None
        tried += 1
    for question in asked:
        for variant in _of_unit(case, first.asked, question):
            if tried >= MOST_TRIED:
                return
            yield variant, question
            tried += 1


def _of_weeks(case: Case, weeks: Weeks) -> Iterator[Variant]:
    """After a moved competition: none of the opened weeks is planned anew, or only the last or the first."""
    begins = sorted({day for _, day in case.opened})
    if begins:
        yield Variant("none", weeks(frozenset()))
    if len(begins) > 1:
        for day in (begins[-1], begins[0]):
            yield Variant(f"only {day}", weeks(frozenset(o for o in case.opened if o[1] == day)))


def _has_variant(case: Case, way: Way, question: Question) -> bool:
    return next(_of_unit(case, way.asked, question), None) is not None


def _of_unit(case: Case, asked: Problem, question: Question) -> Iterator[Variant]:
    h, answer = question.held, question.answer
    here = [p for p in asked.candidates if (p.athlete, p.day, p.slot) == (h.athlete, h.day, h.slot)]
    same = [p for p in here if p.unit.id == h.unit.id]
    given = {p.key for p in case.base.placements}
    swaps = [p for p in here if p.unit.id != h.unit.id and p.unit.family == h.unit.family and p.key not in given]
    moves = _moves(case, asked, h)
    everything = {p.key for p in (*same, *swaps, *moves)}
    for kind, open_ones in (
        ("lighter", [p for p in same if p.dose.word == "lighter" and p.key != h.key]),
        ("swapped", swaps),
        ("moved", []),
        ("left out", []),
    ):
        if kind == "moved":
            taken = question.instead.day if answer == "moved" and question.instead else None
            for day in sorted({p.day for p in moves} - {taken}, key=lambda d: (abs((d - h.day).days), d)):
                yield _only(asked, everything, [p for p in moves if p.day == day], kind)
        elif kind != answer and (open_ones or kind == "left out"):
            yield _only(asked, everything, open_ones, kind)


def _only(asked: Problem, closed: set[tuple[str, date, str, str, str]], open_ones: Sequence[Placement],
          kind: str) -> Variant:  # fmt: skip
    """The problem in which a unit is answered for by one of these placements, or by none at all."""
    wanted = {p.key: p for p in open_ones}
    rest = {p.key: p for p in asked.candidates if p.key not in closed}
    made = replace(asked, candidates=tuple(v for _, v in sorted({**rest, **wanted}.items())))
    units = {(p.athlete, p.day, p.unit.id) for p in open_ones}
    wish = None
    if len(units) == 1:
        p = open_ones[0]
        slots, amounts = {p.slot for p in open_ones}, {p.dose.word for p in open_ones}
        wish = Wish(p.athlete, p.day, p.unit.id, p.slot if len(slots) == 1 else "",
                    p.dose.word if len(amounts) == 1 else "")  # fmt: skip
    return Variant(kind, made, wish)


def _moves(case: Case, asked: Problem, h: Placement) -> list[Placement]:
    """A key unit in another slot or on another day within 48 hours, where it was not handed out anyhow."""
    from planner.season.ways import MOVE_HOURS

    if h.importance != "key" or (h.athlete, h.unit.id, h.day) in case.moved:
        return []
    given = {p.key[:4] for p in case.base.placements}
    near = timedelta(hours=MOVE_HOURS)
    return [
        replace(p, importance="key") for p in asked.candidates
        if (p.athlete, p.unit.id) == (h.athlete, h.unit.id) and p.key[:4] not in given
        and (p.day, p.slot) != (h.day, h.slot) and abs(p.begins - h.begins) <= near
    ]  # fmt: skip


# --- in words ------------------------------------------------------------------------------------------


def _answer(h: Placement, outcome: Outcome, case: Case) -> tuple[str, Placement | None]:
    """What became of a handed-out unit: lighter, swapped, moved, left out, and what stands for it."""
    from planner.season.ways import MOVE_HOURS

    given = {p.key for p in case.base.placements}
    own = [p for p in outcome.plan.placements if p.athlete == h.athlete and (p.key not in given or p.key == h.key)]
    here = [p for p in own if (p.day, p.slot) == (h.day, h.slot)]
    for kind, found in (
        ("lighter", [p for p in here if p.unit.id == h.unit.id]),
        ("swapped", [p for p in here if p.unit.family == h.unit.family]),
        ("moved", [p for p in own if p.unit.id == h.unit.id and p not in here
                   and abs((p.day - h.day).days) * 24 <= MOVE_HOURS]),
    ):  # fmt: skip
        if found:
            return kind, found[0]
    return "left out", None


def _said(h: Placement, outcome: Outcome, case: Case) -> str:
    """'Ada: heavy strength, 9 sets, of Thu 25 Mar moves to Fri 26 Mar'."""
    kind, instead = _answer(h, outcome, case)
    what = f"{h.athlete}: {words(h)}, of {said_day(h.day)}"
    match kind:
        case "lighter" if instead is not None:
            if instead.name != h.name:
                return f"{what} becomes {words(instead)}"
            return f"{what} becomes lighter ({counted(instead.dose.amount, instead.dose.measure)})"
        case "swapped" if instead is not None:
            return f"{what} gives way to {words(instead)}"
        case "moved" if instead is not None:
            return f"{what} moves to {said_day(instead.day)} ({instead.slot})"
        case _:
            return f"{what} is left out"


def _opening(case: Case, head: Question | None, first: Way) -> str:
    if case.opened:
        return _said_of_weeks(Variant("all", first.asked))
    return _said(head.held, first.outcome, case) if head else "The least change"


def _said_of_weeks(variant: Variant) -> str:
    days = sorted({day for _, day in variant.asked.opened})
    if not days:
        return "No week is planned anew: everything stays as easy as it was handed out"
    which = " and ".join(said_day(d) for d in days)
    return f"The week{'s' if len(days) > 1 else ''} of {which} {'are' if len(days) > 1 else 'is'} planned anew"


def _own(case: Case, h: Placement | None, outcome: Outcome) -> int:
    """How many of the changes are the unit's own: none where weeks are asked about or what was missed stays so."""
    return 0 if h is None or (h in missed(case) and _answer(h, outcome, case)[0] == "left out") else 1


def _sentence(case: Case, outcome: Outcome, opening: str, own: int, first: Way) -> str:
    """The opening and its cost: what is lost, what else changes, what targets lose beside the first way."""
    others = len(changed(case, outcome)) - own
    lost, gained = _lost(case, outcome)
    parts = [f"costs {_listed(lost)}" if lost else "no amount is lost"]
    if gained:
        parts.append(f"gives {_listed(gained)} more")
    change = "unit changes" if others == 1 else "units change"
    parts.append("nothing else changes" if others <= 0 else f"{others} other {change}")
    more = _targets(outcome) - _targets(first.outcome)
    if more > 0:
        parts.append(f"{more} points more given way on spacing and targets than option 1")
    return f"{opening}: {', '.join(parts)}."


def _lost(case: Case, outcome: Outcome) -> tuple[list[str], list[str]]:
    """Amounts by their measure that were to come and are no more, and those on top: the largest three."""
    sums: dict[str, int] = {}
    settled = {p.key for p in case.stand.settled}
    still = [p for p in outcome.plan.placements if p.key not in settled]
    for sign, placements in ((1, (*case.stand.to_come, *missed(case))), (-1, still)):
        for p in placements:
            sums[p.dose.measure] = sums.get(p.dose.measure, 0) + sign * p.dose.amount

    def largest(sign: int) -> list[str]:
        found = sorted(((sign * n, m) for m, n in sums.items() if sign * n > 0), key=lambda x: (-x[0], x[1]))
        return [f"{n} {m.removesuffix('s') if n == 1 else m}" for n, m in found[:3]]

    return largest(1), largest(-1)


def _listed(parts: Sequence[str]) -> str:
    return " and ".join(x for x in (", ".join(parts[:-1]), parts[-1]) if x)


def _targets(outcome: Outcome) -> int:
    """Points of the should tier beside what changes of the plan itself."""
    return sum(n for rule, n in outcome.score.get("should", {}).items() if rule != KEEP)


def _keys(outcome: Outcome) -> list[object]:
    return [(p.key, p.dose.amount) for p in outcome.plan.placements]
