"""A week in which something happens, told and planned anew through the commands as a coach types them."""

from __future__ import annotations

import json
import re
import shutil
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

from typer.testing import CliRunner

from planner import known
from planner.cli.app import app
from planner.cli.endings import ending
from planner.domain.plan import Outcome, Placement
from planner.domain.problem import Problem
from planner.domain.view import PlanView
from planner.review import sentence

Keep = Callable[[Placement], bool]


@dataclass(frozen=True)
class Said:
    """How a command ended, and what it said."""

    code: int
    text: str
    out: str = ""


def command(*words: str, typed: str = "") -> Said:
    """Run a command in this process; an error leaves as the door would let it leave."""
    ran = CliRunner().invoke(app, list(words), input=typed, standalone_mode=False)
    if ran.exception is not None and isinstance(ran.exception, Exception):
        code, text = ending(ran.exception)
        return Said(code, ran.output + text)
    return Said(ran.return_value if isinstance(ran.return_value, int) else 0, ran.output, ran.stdout)


@dataclass(frozen=True)
class Replanned:
    """What a re-plan made: the plan before and after, the changes as printed, and the problem behind them."""

    before: tuple[Placement, ...]
    after: tuple[Placement, ...]
    changes: tuple[dict[str, str], ...]
    unchanged: tuple[str, ...]
    messages: dict[str, str]
    problem: Problem
    now: datetime
    told: dict[str, Any]  # all that the command says as data

    def own(self, athlete: str, first: date | None = None, last: date | None = None) -> list[Placement]:
        """What an athlete does now, from a first to a last day."""
        return _of(self.after, athlete, first, last)

    def had(self, athlete: str, first: date | None = None, last: date | None = None) -> list[Placement]:
        return _of(self.before, athlete, first, last)

    def kinds(self, athlete: str) -> dict[tuple[str, str], str]:
        """(date, what it was) -> what became of it, of one athlete."""
        return {(c["date"], c["was"]): c["kind"] for c in self.changes if c["athlete"] == athlete}

    def neural(self, athlete: str, day: date) -> int:
        return max((p.dose.neural for p in self.own(athlete, day)), default=0)

    def jumps(self, athlete: str, day: date) -> tuple[int, int]:
        """Take-offs of a day, before and after."""
        days = (self.had(athlete, day), self.own(athlete, day))
        had, has = (sum(p.dose.counters.get("take-offs", 0) for p in ps) for ps in days)
        return had, has

    def fast_days(self, athlete: str) -> list[date]:
        return sorted({p.day for p in self.own(athlete) if p.dose.neural >= 3})

    @property
    def view(self) -> PlanView:
        from planner.domain.plan import Plan

        return PlanView(Plan.of(self.after), self.problem)


def _of(placements: Iterable[Placement], athlete: str, first: date | None, last: date | None) -> list[Placement]:
    return [
        p for p in placements if p.athlete == athlete and (first or p.day) <= p.day <= (last or first or p.day)
    ]


class Happens:
    """One copy of a planned and handed-out block: facts are told to it, then it is planned anew."""

    def __init__(self, folder: Path) -> None:
        self.file = folder / "block.yaml"
        self.before = known.planned(self.file)[1].placements

    def log(self, now: str, kind: str, *words: str) -> Said:
        """A fact that must be recorded."""
        said = command("log", str(self.file), kind, *words, "--now", now)
        assert said.code == 0, said.text
        return said

    def refused(self, now: str, kind: str, *words: str) -> str:
        """What is said of a fact that must not be recorded."""
        said = command("log", str(self.file), kind, *words, "--now", now)
        assert said.code == 2, said.text
        return said.text

    def day(self, now: str, on: str, *lines: str) -> Said:
        """A day recorded: as planned but for these lines."""
        said = command("day", str(self.file), on, "--now", now, typed="".join(f"{x}\n" for x in lines))
        assert said.code == 0, said.text
        return said

    def edit(self, was: str, now: str) -> None:
        """The coach changes the block file."""
        text = self.file.read_text(encoding="utf-8")
        assert was in text
        self.file.write_text(text.replace(was, now), encoding="utf-8")

    def cannot(self, now: str) -> str:
        """What is said when no plan keeps every must; nothing new is recorded."""
        said = command("replan", str(self.file), "--now", now)
        assert said.code == 3, said.text
        no_weight_shows(said.text)
        assert known.planned(self.file)[1].placements == self.before
        return said.text

    def replan(self, now: str, *, alone: Sequence[str] = (), anew: bool = False) -> Replanned:
        """Plan anew, and hold what must never happen: nothing added, nothing past moved, others left alone.

        `alone` are the athletes to whom nothing happened. `anew`: a week was opened, so it may hold more.
        """
        said = command("replan", str(self.file), "--json", "--now", now)
        assert said.code == 0, said.text
        told = json.loads(said.out)
        no_weight_shows(said.out)
        problem, stored = known.planned(self.file)
        no_weight_is_kept(stored.outcome)
        moment = datetime.fromisoformat(now)
        made = Replanned(
            self.before,
            stored.placements,
            tuple(told["changes"]),
            tuple(told["unchanged"]),
            dict(told["messages"]),
            problem,
            moment,
            told,
        )
        nothing_past_moves(made)
        left_alone(made, alone)
        one_session_a_day_of_each_kind(made)
        if not anew:
            nothing_added(made)
        self.before = made.after
        return made

    def stable(self, now: str) -> None:
        """Planning anew once more changes nothing."""
        said = command("replan", str(self.file), "--json", "--now", now)
        assert said.code == 0 and json.loads(said.out)["changes"] == [], said.text


def copied(planned: Path, folder: Path) -> Happens:
    shutil.copytree(planned, folder / "own")
    return Happens(folder / "own")


# --- who is concerned ------------------------------------------------------------------------------------


def names(happens: Happens) -> list[str]:
    return sorted({p.athlete for p in happens.before})


def concerned(happens: Happens, there: Keep) -> set[str]:
    """The athletes with a placement of that kind."""
    return {p.athlete for p in happens.before if there(p)}


def rest(happens: Happens, touched: Iterable[str]) -> list[str]:
    return [a for a in names(happens) if a not in set(touched)]


# --- what is nobody's matter ---------------------------------------------------------------------------


def no_weight_shows(text: str) -> None:
    """What keeping the held plan weighs for the solver, a million points a step and more, is never read."""
    assert not re.findall(r"\d{6,}", text), text


def no_weight_is_kept(outcome: Outcome) -> None:
    """Nor does it stand in what export, board and review read of the plan: value, bound, score, findings."""
    points = [n for s in outcome.plan.status.values() for n in (s.value, s.bound) if n is not None]
    points += [n for own in outcome.score.values() for n in own.values()]
    assert all(n < 100_000 for n in points) and "keep_handed_out" not in outcome.score.get("should", {}), points
    assert (s := outcome.plan.status.get("should")) is None or s.value == sum(outcome.score["should"].values())
    changes = [f for f in outcome.findings if f.rule == "keep_handed_out"]
    for text in map(sentence, changes):
        assert "points" not in text and text.startswith("Of what was handed out: "), text
    assert all(f.amount == sum(map(int, re.findall(r"(\d+) units? ", sentence(f)))) for f in changes)


# --- what must never happen ----------------------------------------------------------------------------


def nothing_past_moves(made: Replanned) -> None:
    """What began before now stands or was told to be otherwise; nothing appears there."""
    past = {p.key for p in made.before if p.begins < made.now}
    told = {p.key for p in made.after if p.begins < made.now and not p.slot.startswith("elsewhere")}
    assert {k[:4] for k in told} <= {k[:4] for k in past}


def left_alone(made: Replanned, names: Sequence[str]) -> None:
    """These keep every unit at the same amount, place and hour."""

    def held(placements: Iterable[Placement]) -> list[object]:
        return [(p.key, p.dose.amount, p.begins, p.place) for p in placements if p.athlete in names]

    assert held(made.after) == held(made.before)
    still = {p.athlete for p in made.before if p.begins >= made.now}
    assert set(names) & still <= set(made.unchanged)


def nothing_added(made: Replanned) -> None:
    """No athlete's week holds more units, load, metres, take-offs or contacts than was handed out or done."""
    assert not (more := more_than_given(made.before, made.after)), more


def more_than_given(
    before: Sequence[Placement], after: Sequence[Placement]
) -> dict[tuple[str, date, str], tuple[int, int]]:
    """What a week holds more than it was given, with both figures; what was done elsewhere is not counted.

    A unit that became lighter where it stands may consist of other things, as long as it is less load.
    """
    given, held = (sums(p for p in ps if not p.slot.startswith("elsewhere")) for ps in (before, after))
    full = {(p.athlete, p.day, p.unit.id): p for p in before if p.dose.word == "full"}
    for p in after:
        was = full.get((p.athlete, p.day, p.unit.id))
        if was is not None and p.dose.word == "lighter":
            assert p.dose.load < was.dose.load, p
            held.subtract(sums([p]) - sums([was]))
    return {k: (n, given[k]) for k, n in held.items() if n > given[k]}


def sums(placements: Iterable[Placement]) -> Counter[tuple[str, date, str]]:
    """By athlete, week and what is counted."""
    found: Counter[tuple[str, date, str]] = Counter()
    for p in placements:
        monday = p.day - timedelta(p.day.weekday())
        found[p.athlete, monday, "units"] += 1
        found[p.athlete, monday, "load"] += p.dose.load
        for name, n in p.dose.counters.items():
            found[p.athlete, monday, name] += n
    return found


def one_session_a_day_of_each_kind(made: Replanned) -> None:
    """No unit comes twice on a day, and no day holds the fast work of two that was handed out for two days."""
    seen = Counter((p.athlete, p.day, p.unit.id) for p in made.after if not p.slot.startswith("elsewhere"))
    assert not [k for k, n in seen.items() if n > 1]
    before = Counter((p.athlete, p.day) for p in made.before if p.dose.neural >= 3)
    after = Counter((p.athlete, p.day) for p in made.after if p.dose.neural >= 3)
    crowded = [k for k, n in after.items() if before[k] and n > before[k]]
    assert not crowded, crowded
