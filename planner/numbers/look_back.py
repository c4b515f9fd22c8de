"""Looking back on a block, a camp or a competition: what was aimed at, planned, done, jumped, and what it says.

Planned is the plan as it was first handed out, done is what was recorded; where nothing was recorded a session
counts as planned, and it is said how many those are. Sentences of notes and of how somebody felt are not read.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import date, timedelta

from planner.domain.attempt import best_attempt
from planner.domain.block import Athlete, Block, Mark
from planner.domain.facts import Done, Fact, Result
from planner.domain.following import aided_words
from planner.domain.plan import Placement
from planner.domain.units import FAMILIES
from planner.domain.view import Session
from planner.numbers.attempts import PhaseMarks, total_words, two_phases, verdict_words
from planner.numbers.errors import NoNumber
from planner.numbers.evidence import Jumped, own_pairs, short_evidence
from planner.numbers.jumps import shares_for
from planner.numbers.lines import metres
from planner.numbers.marks import of_athlete, short_run_up_of
from planner.numbers.recorded import jumped, shares_of, triple_jumps
from planner.science.errors import OutOfReach
from planner.science.short_run_up import Jump
from planner.science.wind import wind_aided

JUMPS: tuple[Jump, ...] = ("long jump", "triple jump")


@dataclass(frozen=True)
class Amounts:
    """One unit or family: how often and how much of it was planned and done, in one measure."""

    what: str
    measure: str
    planned: int
    done: int
    planned_times: int
    done_times: int


@dataclass(frozen=True)
class Load:
    """Effort (0-10) x minutes of a calendar week, warm-ups included: planned and done."""

    begins: date
    planned: int
    done: int


@dataclass(frozen=True)
class MarkPair:
    """The best of an event before the first day (None: none known) and of the days looked back on."""

    event: str
    before: Mark | None
    after: Mark


@dataclass(frozen=True)
class Fouls:
    """Attempts of an event that were begun, and fouls among them."""

    event: str
    attempts: int
    fouls: int


@dataclass(frozen=True)
class Start:
    """One start in a competition; `rank` 0: not known."""

    athlete: str
    day: date
    competition: str
    event: str
    rank: int


@dataclass(frozen=True)
class OwnBack:
    """Everything of one athlete. `unspoken` counts sessions of which nothing was recorded."""

    athlete: str
    aims: tuple[str, ...]
    units: tuple[Amounts, ...]
    weeks: tuple[Load, ...]
    marks: tuple[MarkPair, ...]
    short: tuple[str, ...]  # what short run-ups suggested against what was jumped, in sentences
    phases: tuple[str, ...]  # marks that were hit, and what hop and step alone come to by own shares
    fouls: tuple[Fouls, ...]
    unspoken: int
    sessions: int
    aided: tuple[str, ...] = ()  # wind-aided marks beyond the counted best of these days, in sentences


@dataclass(frozen=True)
class SquadBack:
    """The squad's sums, in which nobody can be found again, and the starts everybody saw."""

    athletes: int
    families: tuple[Amounts, ...]  # in units placed; measures differ inside a family
    weeks: tuple[Load, ...]
    starts: tuple[Start, ...]


@dataclass(frozen=True)
class LookBack:
    first: date
    last: date
    own: tuple[OwnBack, ...]
    squad: SquadBack


def look_back(
    block: Block, planned: Sequence[Placement], done: Sequence[Placement], facts: Sequence[Fact],
    first: date, last: date,
) -> LookBack:  # fmt: skip
    """The days from first to last. `block` is the block as the facts (in force, oldest first) have left it."""
    was = [p for p in planned if first <= p.day <= last]
    now = [p for p in done if first <= p.day <= last]
    told = [f for f in facts if isinstance(f, Result) and first <= f.day <= last]
    said = {(f.athlete, f.day, f.slot) for f in facts if isinstance(f, Done)}
    others = [f for f in facts if not isinstance(f, Done)]  # sessions done are thousands, and tell of no jump
    own = tuple(_own(block, a, was, now, others, told, said, (first, last)) for a in block.athletes)
    starts = tuple(Start(f.athlete, f.day, f.competition, f.event, f.rank) for f in told if f.competition)
    families = tuple(a for family in FAMILIES if (a := _family(family, was, now)) is not None)
    return LookBack(first, last, own, SquadBack(len(own), families, _weeks(block, was, now, first, last), starts))


def _own(  # noqa: PLR0913, PLR0917  # one athlete's share of everything
    block: Block, athlete: Athlete, planned: Sequence[Placement], done: Sequence[Placement],
    facts: Sequence[Fact], told: Sequence[Result], said: set[tuple[str, date, str]], days: tuple[date, date],
) -> OwnBack:  # fmt: skip
    name, (first, last) = athlete.name, days
    was, now = [p for p in planned if p.athlete == name], [p for p in done if p.athlete == name]
    sessions = {(name, p.day, p.slot) for p in was}
    themes = (t for t in block.themes if t.athlete == name)
    return OwnBack(
        athlete=name,
        aims=tuple(
            f"{t.aim}; measure: {t.measure}" if t.measure else t.aim
            for t in themes if (t.begins or first) <= last and first <= (t.ends or last)
        ),
        units=tuple(_units(was, now)),
        weeks=_weeks(block, was, now, first, last),
        marks=tuple(_marks(block, name, first, last)),
        short=tuple(_short(facts, athlete, first, last)),
        phases=tuple(_phases(facts, athlete, first, last)),
        fouls=tuple(_fouls([f for f in told if f.athlete == name])),
        unspoken=len(sessions - said),
        sessions=len(sessions),
        aided=tuple(_aided(block, athlete, told, first, last)),
    )  # fmt: skip


def _units(was: Sequence[Placement], now: Sequence[Placement]) -> Iterable[Amounts]:
    """Every unit that was planned or done, in the order of families; a lighter form in another measure apart."""
    every = {(p.unit.id, p.dose.measure): p for p in (*was, *now)}
    order = sorted(every, key=lambda k: (FAMILIES.index(every[k].unit.family), every[k].unit.order, k))
    for key in order:
        ours, theirs = ([p for p in ps if (p.unit.id, p.dose.measure) == key] for ps in (was, now))
        yield Amounts(
            every[key].unit.name, key[1], sum(p.dose.amount for p in ours), sum(p.dose.amount for p in theirs),
            len(ours), len(theirs),
        )  # fmt: skip


def _family(family: str, was: Sequence[Placement], now: Sequence[Placement]) -> Amounts | None:
    planned, done = (sum(p.unit.family == family for p in ps) for ps in (was, now))
    return Amounts(family, "times", planned, done, planned, done) if planned or done else None


def load_of(placements: Iterable[Placement]) -> int:
    """Effort x minutes of sessions, the warm-up of each included."""
    sessions: dict[tuple[str, date, str], list[Placement]] = {}
    for p in placements:
        sessions.setdefault((p.athlete, p.day, p.slot), []).append(p)
    return sum(Session(*key, tuple(ps)).load for key, ps in sessions.items())


def _weeks(
    block: Block, was: Sequence[Placement], now: Sequence[Placement], first: date, last: date
) -> tuple[Load, ...]:
    begins = first - timedelta(days=(first.weekday() - block.week_start) % 7)
    weeks: list[tuple[list[Placement], list[Placement]]] = [([], []) for _ in range((last - begins).days // 7 + 1)]
    for i, placements in enumerate((was, now)):
        for p in placements:
            weeks[(p.day - begins).days // 7][i].append(p)
    return tuple(
        Load(begins + timedelta(days=7 * i), load_of(planned), load_of(done))
        for i, (planned, done) in enumerate(weeks)
    )


def _marks(block: Block, athlete: str, first: date, last: date) -> Iterable[MarkPair]:
    """Events with a mark of these days; a jump from a short run-up is an event of its own."""

    def best(marks: list[Mark]) -> Mark | None:
        return min(marks, key=lambda m: m.value if m.unit == "hundredths" else -m.value, default=None)

    own = [m for m in of_athlete(block, athlete) if not wind_aided(m.event, m.wind)]
    for event in sorted({m.event for m in own}, key=lambda e: (short_run_up_of(e) is not None, e)):
        before = best([m for m in own if m.event == event and (m.day is None or m.day < first)])
        after = best([m for m in own if m.event == event and m.day is not None and first <= m.day <= last])
        if after is not None:
            yield MarkPair(event, before, after)


def _aided(
    block: Block, athlete: Athlete, told: Sequence[Result], first: date, last: date
) -> Iterable[str]:
    """Of each event the best of these days with too much wind, where nothing that counts was as good."""
    own = [f for f in told if f.athlete == athlete.name and f.leg in (None, athlete.take_off_leg)]
    counted = {p.event: p.after for p in _marks(block, athlete.name, first, last)}
    for event, steps in sorted({(f.event, f.steps) for f in own}):
        here = [a for f in own if (f.event, f.steps) == (event, steps) for a in f.attempts]
        best, name = best_attempt(here), f"{event} {steps} steps" if steps else event
        beaten = counted.get(name)
        if best is None or best.value is None or not wind_aided(event, best.wind):
            continue
        if beaten is None or beaten.value != best.value:
            yield f"{name}: {aided_words(Mark(athlete.name, name, best.value, best.unit, best.wind))}"


def _short(facts: Sequence[Fact], athlete: Athlete, first: date, last: date) -> Iterable[str]:
    """What jumps from short run-ups suggested, by own pairs only, beside what was jumped; effective distances.

    The best short jump is judged by the pairs of other days: its own day's full jump would only confirm itself.
    """
    for event in JUMPS:
        shorts, fulls = jumped(facts, athlete, event, athlete.take_off_leg)
        here = [j for j in fulls if first <= j.day <= last]
        far = max((j.cm for j in here), default=None)
        for steps in sorted({j.steps for j in shorts if first <= j.day <= last}):
            own = [j for j in shorts if j.steps == steps]
            best = max((j for j in own if first <= j.day <= last), key=lambda j: (j.cm, j.day))
            others = [[j for j in jumps if j.day != best.day] for jumps in (own, fulls)]
            said = _suggested(event, steps, best.cm, *others)
            if said:
                then = f"jumped: {metres(far)} m" if far is not None else "no full jump was measured with its gap"
                yield f"{event} from {steps} steps, {metres(best.cm)} m toe to landing: {said}; {then}."


def _phases(facts: Sequence[Fact], athlete: Athlete, first: date, last: date) -> Iterable[str]:
    """Of every day at the triple jump: marks hit, short or over, and the longest of what was hop and step only.

    Two phases give a total only as a range from own shares, and none without them.
    """
    name = athlete.name
    every = triple_jumps(facts, name)
    shares, _ = shares_for(athlete.level_for("full-jumps"), shares_of(facts, [name]).get(name))
    told = [f for f in facts if isinstance(f, Result) and (f.athlete, f.event) == (name, "triple jump")]
    for f in (f for f in told if first <= f.day <= last):
        here, said = triple_jumps([f], name), []
        with suppress(OutOfReach):
            hits = verdict_words(PhaseMarks.of(f.target, shares), here) if f.target else ""
            said += [f"marks for {metres(f.target or 0)} m: {hits}"] if hits else []
        longest = two_phases(here)
        said += [come] if longest is not None and (come := total_words(longest, every)) else []
        if said:
            yield f"triple jump, {f.day.day} {f.day:%b}: {'; '.join(said)}."


def _suggested(event: Jump, steps: int, best: int, own: Sequence[Jumped], fulls: Sequence[Jumped]) -> str:
    try:
        return short_evidence(event, steps, best, own_pairs(own, fulls)).words
    except (NoNumber, OutOfReach):
        return ""  # figures that contradict each other say nothing


def _fouls(told: Sequence[Result]) -> Iterable[Fouls]:
    """By event, jumps from short run-ups apart: there the board matters less."""
    kinds = {(f.event, bool(f.steps)): f"{f.event} from short run-ups" if f.steps else f.event for f in told}
    for kind, said in sorted(kinds.items()):
        begun = [
            a for f in told if (f.event, bool(f.steps)) == kind for a in f.attempts if a.outcome != "pass"
        ]  # fmt: skip
        if begun and all(a.unit != "hundredths" for a in begun):  # a run has no attempts
            yield Fouls(said, len(begun), sum(a.outcome == "foul" for a in begun))
