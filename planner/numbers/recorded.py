"""What was recorded at the pit, as the run-up work and the attempts of this package read it.

The still-wind start mark is worked out here from start marks that persons set and from the readings of every
session since: it moves by `run_up_work.move` and nothing else, and its whole history can be shown.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import date

from planner.domain.attempt import Attempt as Measured
from planner.domain.attempt import RunThrough
from planner.domain.block import Athlete, Block, RunUp
from planner.domain.facts import Done, Fact, OtherLeg, Result, RunUpReadings, StartMark
from planner.domain.own_shoes import own_shoes
from planner.domain.shoe import Shoe, worn
from planner.domain.units import Level, Side
from planner.numbers.attempts import Attempt, own_shares
from planner.numbers.case import Shares
from planner.numbers.errors import NoNumber
from planner.numbers.evidence import Jumped, own_pairs, short_evidence
from planner.numbers.jumps import full_in_shoe, in_whole_shoes, own_run_up
from planner.numbers.lines import metres
from planner.numbers.run_up_card import Logged, cm_of_shoe
from planner.numbers.run_up_work import Moved, Run, SessionReading, StillMark, move, read_session, slope_of
from planner.science.errors import OutOfReach
from planner.science.short_run_up import Jump

JUMPS = ("long jump", "triple jump")  # events with a run-up card
RUN_UPS = "run-ups"  # the family whose level says what spread is wide


def attempt_of(measured: Measured) -> Attempt:
    """One recorded attempt of a triple jump; NoNumber or OutOfReach where its figures contradict each other."""
    value = measured.value if measured.unit == "cm" and measured.outcome == "mark" else None
    gap = None if measured.gap is None else max(0, measured.gap)
    wind = None if measured.wind is None else measured.wind / 10
    return Attempt(
        measured.hop, measured.step, measured.jump, measured.ended, gap, wind,
        value if gap is not None else None, measured.clip,
    )  # fmt: skip


def attempts_of(result: Result) -> tuple[Attempt, ...]:
    """The attempts that were begun: passes are left out, fouls count with what was measured of them."""
    return tuple(attempt_of(a) for a in result.attempts if a.outcome != "pass")


def triple_jumps(facts: Sequence[Fact], athlete: str) -> tuple[Attempt, ...]:
    """Every recorded triple jump of an athlete, oldest first; what contradicts itself is left out."""
    found: list[Attempt] = []
    for f in facts:
        if isinstance(f, Result) and (f.athlete, f.event) == (athlete, "triple jump"):
            with suppress(NoNumber, OutOfReach):
                found += attempts_of(f)
    return tuple(found)


def shares_of(facts: Sequence[Fact], athletes: Sequence[str]) -> Mapping[str, Shares]:
    """Own shares of hop, step and jump in percent, of those with three whole jumps or more on record."""
    found: dict[str, Shares] = {}
    for name in athletes:
        shares = own_shares(triple_jumps(facts, name))
        if shares is not None:
            hop, step, jump = (round(float(s), 1) for s in shares)
            found[name] = (hop, step, jump)
    return found


def jumped(
    facts: Sequence[Fact], athlete: Athlete, event: str, leg: Side
) -> tuple[tuple[Jumped, ...], tuple[Jumped, ...]]:
    """Best effective distance of every recorded day: from short run-ups, and from the full one. One leg only."""
    shorts: list[Jumped] = []
    fulls: list[Jumped] = []
    for f in facts:
        if not isinstance(f, Result) or (f.athlete, f.event) != (athlete.name, event):
            continue
        far = [a.effective for a in f.attempts if a.outcome == "mark" and a.ended == "completed"]
        best = max((x for x in far if x is not None), default=None)
        if best is not None and (f.leg or _leg_on(facts, athlete, f.day)) == leg:
            (shorts if f.steps else fulls).append(Jumped(f.day, best, f.steps, leg))
    return tuple(shorts), tuple(fulls)


def short_says(block: Block, facts: Sequence[Fact], athlete: Athlete, event: Jump, leg: Side) -> Mapping[int, str]:
    """Steps -> what the last jump from that short run-up says of the full one, by own pairs only.

    '5.20 m toe to landing on 4 Mar: suggests 6.10-6.35 m (4 pairs)'; with fewer than three pairs no figure.
    """
    shorts, fulls = jumped(facts, athlete, event, leg)
    best = _best_full(block, fulls, athlete, event, leg)
    found: dict[int, str] = {}
    for steps in sorted({j.steps for j in shorts}):
        own = [j for j in shorts if j.steps == steps]
        last = max(own, key=lambda j: j.day)
        with suppress(NoNumber, OutOfReach):  # figures that contradict each other say nothing
            said = short_evidence(event, steps, last.cm, own_pairs(own, fulls), best).words
            found[steps] = f"{metres(last.cm)} m toe to landing on {last.day.day} {last.day:%b}: {said}"
    return found


def _best_full(block: Block, fulls: Sequence[Jumped], athlete: Athlete, event: str, leg: Side) -> int | None:
    """The longest jump from the full run-up: effective where the gap was measured, else as the mark says."""
    own = [m for m in block.marks if (m.athlete, m.event, m.unit) == (athlete.name, event, "cm")]
    of_leg = [m.value for m in own] if leg == athlete.take_off_leg else []
    return max([*(j.cm for j in fulls), *of_leg], default=None)


@dataclass(frozen=True)
class MarkHistory:
    """The still-wind mark of one run-up: as it was over time, the last one in force, every session read.

    `next` says what the last sessions ask for. `runs` are all runs behind it. Empty `marks`: none was ever set.
    """

    marks: tuple[StillMark, ...]
    sessions: tuple[SessionReading, ...]
    runs: tuple[Run, ...]
    next: Moved | None

    @property
    def logged(self) -> Logged:
        """For the run-up card."""
        return Logged(self.marks[-1] if self.marks else None, self.sessions)


def mark_history(  # noqa: PLR0913  # the key of a start mark, and where it is looked up
    block: Block,
    facts: Sequence[Fact],
    athlete: Athlete,
    event: str,
    steps: int,
    leg: Side | None = None,
    *,
    shoe: Shoe | None = None,
) -> MarkHistory:
    """The history of a start mark from the file's and the recorded rows (`block` as the facts have left it).

    A dated row of a person begins the history anew from its day. Sessions in the same shoe move the mark from
    then on, each read with the mark that was in force on its day. A session with a run without wind or out of
    reach is not read. `shoe` None: that of the first start mark set for this run-up.
    """
    leg = leg or athlete.take_off_leg
    shoes = own_shoes(athlete.name, block.run_ups, facts)
    mine = in_whole_shoes((r for r in block.run_ups if r.athlete == athlete.name), shoes)
    rows = [r for r in mine if (r.event, r.steps) == (event, steps) and r.leg in (None, leg) and r.start_mark]
    shoe = rows[0].worn if rows and shoe is None else shoe and worn(shoe, shoes)
    rows = [r for r in rows if r.worn == shoe]
    if not rows or shoe is None:
        return MarkHistory((), (), (), None)
    own_run_up(mine, event, steps, leg, shoe)  # NoNumber for two marks of one day
    full = full_in_shoe(mine, event, leg, shoe)
    days = {
        day: [run for found, run in made if worn(found, shoes) == shoe]
        for day, made in _sessions(facts, athlete, event, steps, leg, full).items()
    }
    level = athlete.level_for(RUN_UPS)
    marks, read, runs = [], [], []
    base: list[RunUp] = sorted(rows, key=lambda r: r.day or date.min)
    for i, row in enumerate(base):
        until = base[i + 1].day if i + 1 < len(base) else None
        still = _still(row)
        marks.append(still)
        since = {d: rs for d, rs in days.items() if rs and (row.day is None or d > row.day)}
        walked = _walk(still, {d: r for d, r in since.items() if until is None or d <= until}, level)
        marks += walked.marks
        read += list(walked.sessions)
        runs += list(walked.runs)
    last = marks[-1]
    marks[-1] = replace(last, slope=slope_of(last, runs))
    return MarkHistory(tuple(marks), tuple(read), tuple(runs), move(marks[-1], read))


def _walk(still: StillMark, days: Mapping[date, list[Run]], level: Level) -> MarkHistory:
    """Sessions one after the other; the mark moves where two agree."""
    marks: list[StillMark] = []
    since: list[SessionReading] = []
    read: list[SessionReading] = []
    runs: list[Run] = []
    for day, made in sorted(days.items()):
        own = [r if r.start_cm is not None else replace(r, start_cm=still.mark_cm) for r in made]
        try:
            session = read_session(still, day, own, level)
        except (NoNumber, OutOfReach):
            continue
        read.append(session)
        since.append(session)
        runs += own
        moved = move(still, since)
        if moved.shift_cm:
            still = replace(still, mark_cm=moved.mark_cm, day=day)
            marks.append(still)
            since = []
    return MarkHistory(tuple(marks), tuple(read), tuple(runs), None)


def _still(row: RunUp) -> StillMark:
    return StillMark(row.start_mark or 0, row.steps, cm_of_shoe(row.worn), row.day, row.coach_mark)


def _sessions(
    facts: Sequence[Fact], athlete: Athlete, event: str, steps: int, leg: Side, longest: int
) -> dict[date, list[tuple[Shoe, Run]]]:
    """The runs of every day with their shoe: run-ups, and attempts whose gap at the board was measured."""
    found: dict[date, list[tuple[Shoe, Run]]] = {}
    for f in facts:
        if not isinstance(f, Result | RunUpReadings) or (f.athlete, f.event) != (athlete.name, event):
            continue
        if (f.steps or longest) != steps or (f.leg or _leg_on(facts, athlete, f.day)) != leg:
            continue
        runs = f.runs if isinstance(f, RunUpReadings) else _of_attempts(f.attempts)
        found.setdefault(f.day, []).extend((f.worn, run_of_through(r)) for r in runs)
    return {day: runs for day, runs in found.items() if runs}


def _leg_on(facts: Sequence[Fact], athlete: Athlete, day: date) -> Side:
    """The take-off leg of a day: a changed leg holds from the change on, the other one before the first change."""
    changes = [f for f in facts if isinstance(f, OtherLeg) and f.changed and f.athlete == athlete.name]
    before: Side = athlete.take_off_leg
    if changes:
        first = changes[0].leg
        before = "left" if first == "right" else "right"
    return next((f.leg for f in reversed(changes) if f.day <= day), before)


def _of_attempts(attempts: Sequence[Measured]) -> tuple[RunThrough, ...]:
    """The run-ups of jumps: a gap of 8 cm behind the edge is a reading of -8."""
    return tuple(
        RunThrough(-a.gap, a.wind, a.start_mark, a.coach_mark) for a in attempts if a.gap is not None
    )


def run_of_through(run: RunThrough) -> Run:
    """One recorded run-up in metres per second and centimetres."""
    wind = None if run.wind is None else run.wind / 10
    return Run(run.board, wind, run.start_mark, run.coach_mark)


def run_ups_in_force(block: Block, facts: Sequence[Fact]) -> tuple[RunUp, ...]:
    """The run-ups of a block with every start mark as it stands after what was recorded.

    A row whose mark has moved by two sessions is followed by one with the moved mark and the day it moved on.
    """
    if not any(isinstance(f, Result | RunUpReadings) for f in facts):
        return block.run_ups
    found = list(block.run_ups)
    people = {a.name: a for a in block.athletes}
    seen: set[tuple[str, str, int, Side | None, Shoe]] = set()
    shoes = {name: own_shoes(name, block.run_ups, facts) for name in people}
    for row in block.run_ups:
        if row.athlete not in people or not row.start_mark:
            continue
        shoe = worn(row.worn, shoes[row.athlete])
        key = (row.athlete, row.event, row.steps, row.leg, shoe)
        if key in seen:
            continue
        seen.add(key)
        try:
            marks = mark_history(block, facts, people[row.athlete], row.event, row.steps, row.leg, shoe=shoe).marks
        except (NoNumber, OutOfReach):
            continue  # two marks that contradict each other are said where the line is made
        if marks and marks[-1].day and marks[-1].mark_cm != row.start_mark:
            found.append(replace(row, start_mark=marks[-1].mark_cm, day=marks[-1].day))
    return tuple(found)


def moves_numbers(fact: Fact) -> bool:
    """Can a fact change what stands on its athlete's page without moving any session?"""
    if isinstance(fact, Done):
        return fact.remark != "as planned" or fact.amount is not None
    return isinstance(fact, Result | RunUpReadings | StartMark | OtherLeg)


def moves_card(fact: Fact, block: Block) -> bool:
    """Can a fact change the run-up card of its athlete, who has one?"""
    if not isinstance(fact, Result | RunUpReadings | StartMark | OtherLeg):
        return False
    events = {e for a in block.athletes if a.name == fact.athlete for e in a.events}
    events |= {r.event for r in block.run_ups if r.athlete == fact.athlete}
    return not events.isdisjoint(JUMPS) and (isinstance(fact, OtherLeg) or fact.event in JUMPS)
