"""Can a result, readings of run-ups or a start mark be true, before they are recorded? Every problem at once."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from difflib import get_close_matches
from functools import singledispatch

from planner.domain import facts as f
from planner.domain.attempt import Attempt, RunThrough
from planner.domain.block import RunUp
from planner.domain.finding import Line
from planner.domain.own_shoes import own_shoes, reads_mark
from planner.domain.pit_facts import Result, RunUpReadings, StartMark
from planner.domain.shoe import Shoe, meant_among
from planner.review.complaint import Complaint
from planner.science.errors import OutOfReach
from planner.science.jumps import Phases, check_total

MOST_WIND = 100  # tenths of a metre per second either way: nobody runs in more, it is km/h then
MOST_AT_RUN_UP = 60  # the same at a run-up, where a wind moves the mark; common practice, no source
MOST_OFF = 300  # centimetres at the board or at the coach's mark; further off it is another run
START_MARKS = (300, 6000)  # centimetres from the board
STEPS = (2, 24)
SHOES = (180, 360)  # millimetres
PHASE = (50, 900)  # centimetres of one phase
TARGETS = (300, 2000)  # centimetres of a jump
RUN_UPS = ("long jump", "triple jump")  # events with a start mark beside the runway
JUMPS = ("long jump", "triple jump", "high jump", "pole vault")
AFTER_BAILING = {"bailed out in the hop": ("step", "jump"), "bailed out in the step": ("jump",)}

# (key, found, needed, maybe) of one problem
Said = tuple[str, str, str, str]


def pit_complaints(
    fact: Result | RunUpReadings | StartMark, where: Line, active: Sequence[f.Fact], run_ups: Sequence[RunUp] = ()
) -> list[Complaint]:
    """Everything that speaks against a fact from the pit; `active` are those in force, `run_ups` the block's."""
    return [
        Complaint(Line(where.file, key=key), found, needed, maybe)
        for key, found, needed, maybe in (
            *_said(fact, active), *_shoe(fact, own_shoes(fact.athlete, run_ups, active)),
        )
    ]  # fmt: skip


@singledispatch
def _said(fact: f.Fact, active: Sequence[f.Fact]) -> Iterable[Said]:
    return ()


@_said.register
def _result(fact: Result, active: Sequence[f.Fact]) -> Iterable[Said]:
    yield from _within("place", fact.rank, (0, 999), "a place")
    yield from _common(fact.steps or None, fact.shoe)
    yield from _within("target", fact.target, TARGETS, "a jump in centimetres")
    if not fact.attempts:
        yield "attempts", "no attempt", "at least one: a mark, a foul or a pass", ""
    if fact.cue_after is not None and not fact.cue.strip():
        yield "cue", "no cue", f"what was said after attempt {fact.cue_after}", "leave 'cue_after' out"
    yield from _within("cue_after", fact.cue_after, (0, max(0, len(fact.attempts) - 1)), "one of the attempts")
    for o in active:
        if isinstance(o, Result) and _same_result(o, fact):
            found = f"the same result of {fact.athlete} a second time (fact {o.id})"
            yield "attempts", found, "each result once", f"undo fact {o.id} first, or the file was read before"
    for i, attempt in enumerate(fact.attempts, start=1):
        for found, needed, maybe in (*_attempt(attempt, fact.event), *_phases(attempt, fact.event)):
            yield "attempts", f"attempt {i}: {found}", needed, maybe


def _same_result(a: Result, b: Result) -> bool:
    """The same attempts of one athlete, event and day; under whatever name of the competition."""
    same = (a.athlete, a.day, a.event) == (b.athlete, b.day, b.event)
    return same and bool(a.attempts) and a.attempts == b.attempts


def _attempt(a: Attempt, event: str) -> Iterable[tuple[str, str, str]]:
    if a.outcome == "mark" and not (a.value and a.value > 0):
        yield "a mark that is missing", "a mark above 0", "it was a foul or a pass"
    if a.outcome != "mark" and a.value is not None:
        yield f"{a.outcome}, with a mark", "one of the two", ""
    unit = _unit_of(event)
    if a.value is not None and unit and a.unit != unit[0]:
        yield f"a mark counted in {a.unit}", f"{unit[1]}, as the {event} is measured", "it is of another event"
    yield from _wind(a.wind, MOST_AT_RUN_UP if event in RUN_UPS else MOST_WIND)
    yield from _ranges(
        (a.gap, (-MOST_OFF, MOST_OFF), "a gap at the board in centimetres", ""),
        (a.start_mark, START_MARKS, "a start mark in centimetres", "it was given in metres"),
        (a.coach_mark, (-MOST_OFF, MOST_OFF), "a reading at the coach's mark in centimetres", ""),
    )


def _phases(a: Attempt, event: str) -> Iterable[tuple[str, str, str]]:
    given = {n: v for n in ("hop", "step", "jump") if (v := getattr(a, n)) is not None}
    asked = [(v, PHASE, f"the {n} in centimetres", "it was given in metres") for n, v in given.items()]
    yield from _ranges(*asked)
    if (given or a.ended != "completed") and event != "triple jump":
        yield f"phases of a {event}", "phases of the triple jump only", "the event is the triple jump"
    late = [n for n in AFTER_BAILING.get(a.ended, ()) if n in given]
    if late:
        yield f"{a.ended}, with a {late[0]} measured", "no phase after that", "it was completed"
    if a.outcome == "mark" and a.ended != "completed":
        yield f"{a.ended}, with a whole distance", "one of the two", "leave the distance out"
    if len(given) == 3 and a.value is not None and a.unit == "cm" and a.gap is not None:
        try:
            check_total(Phases(given["hop"], given["step"], given["jump"]), a.value + a.gap)
        except OutOfReach as told:
            found, _, rest = str(told).partition(", needed ")
            needed, _, maybe = rest.partition(" Maybe ")
            yield found, needed, maybe


@_said.register
def _readings(fact: RunUpReadings, active: Sequence[f.Fact]) -> Iterable[Said]:
    yield from _common(fact.steps or None, fact.shoe)
    if not fact.runs:
        yield "runs", "no run", "at least one: the reading at the board in centimetres and the wind", ""
    for i, run in enumerate(fact.runs, start=1):
        for found, needed, maybe in _run(run):
            yield "runs", f"run {i}: {found}", needed, maybe


def _run(run: RunThrough) -> Iterable[tuple[str, str, str]]:
    yield from _wind(run.wind, MOST_AT_RUN_UP)
    yield from _ranges(
        (run.board, (-MOST_OFF, MOST_OFF), "a reading at the board in centimetres", "it belongs to another run"),
        (run.start_mark, START_MARKS, "a start mark in centimetres", "it was given in metres"),
        (run.coach_mark, (-MOST_OFF, MOST_OFF), "a reading at the coach's mark in centimetres", ""),
    )


def _wind(tenths: int | None, most: int) -> Iterable[tuple[str, str, str]]:
    if tenths is not None and abs(tenths) > most:
        needed = f"wind in m/s from -{most // 10} to {most // 10}"
        yield f"wind {tenths / 10:g}", needed, f"{tenths / 100:g} is meant, or it is in km/h"


@_said.register
def _start_mark(fact: StartMark, active: Sequence[f.Fact]) -> Iterable[Said]:
    yield from _common(fact.steps, fact.shoe)
    yield from _within("start_mark", fact.start_mark, START_MARKS, "a start mark in centimetres")
    if fact.coach_mark is not None and not 0 < fact.coach_mark < fact.start_mark:
        yield "coach_mark", f"{fact.coach_mark} cm", "a place between the start mark and the board", ""
    for other in active:
        same = isinstance(other, StartMark) and _run_up(other) == _run_up(fact) and other.day == fact.day
        if same and isinstance(other, StartMark) and other.start_mark != fact.start_mark:
            yield (
                "start_mark",
                f"{fact.start_mark} cm beside {other.start_mark} cm (fact {other.id}) for the same run-up and day",
                "one start mark for one run-up",
                f"undo fact {other.id} first",
            )


def _run_up(fact: StartMark) -> tuple[object, ...]:
    return fact.athlete, fact.event, fact.steps, fact.leg, fact.shoe, fact.shoe_name


def _shoe(fact: Result | RunUpReadings | StartMark, own: Sequence[Shoe]) -> Iterable[Said]:
    """Which shoe is meant must be clear wherever a start mark may move, and a new one is named with its length."""
    if not (fact.worn.said or reads_mark(fact)):
        return
    listed, meant = ", ".join(map(str, own)), meant_among(fact.worn, own)
    if len(meant) > 1:
        found = f"'{fact.worn}'" if fact.worn.said else "no shoe"
        named = next((s for s in own if s.said), own[0])
        rest = "" if all(s.said for s in own) else "; the one without a name gets it in the file's run_ups"
        yield "shoe", f"{found} where {fact.athlete} has {len(own)}", f"one of them: {listed}", (
            f"shoe='{named.label}'{rest}")  # fmt: skip
    elif not meant and fact.shoe_name and fact.shoe is None:
        known = f"one of {fact.athlete}'s shoes ({listed}), or a new one with its length" if own else "its length"
        near = get_close_matches(fact.shoe_name.casefold(), [s.name.casefold() for s in own if s.name], 1)
        maybe = f"'{near[0]}' is meant" if near else f"shoe='{fact.shoe_name} 26.2 cm'"
        yield "shoe", f"'{fact.shoe_name}'", known, maybe
    elif meant and fact.shoe is not None and meant[0].length not in (None, fact.shoe):
        yield "shoe", f"'{fact.worn}' beside '{meant[0]}'", "one length for one shoe", (
            "it is another pair: give it a name of its own")  # fmt: skip


def _common(steps: int | None, shoe: int | None) -> Iterable[Said]:
    yield from _within("steps", steps, STEPS, "the steps of a run-up", "one foot was counted")
    yield from _within("shoe", shoe, SHOES, "the length of a shoe in millimetres", "its size was given")


def _within(key: str, value: int | None, span: tuple[int, int], what: str, maybe: str = "") -> Iterable[Said]:
    for found, needed, remedy in _ranges((value, span, what, maybe)):
        yield key, found, needed, remedy


def _ranges(*asked: tuple[int | None, tuple[int, int], str, str]) -> Iterable[tuple[str, str, str]]:
    for value, (low, high), what, maybe in asked:
        if value is not None and not low <= value <= high:
            yield str(value), f"{what} from {low} to {high}", maybe


def _unit_of(event: str) -> tuple[str, str] | None:
    """The unit an event is counted in and its name; None where an event may be counted in several."""
    if event in JUMPS:
        return "cm", "a length"
    return ("hundredths", "a time") if re.match(r"(flying )?\d+ m\b", event) else None
