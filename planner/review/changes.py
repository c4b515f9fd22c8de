"""What changed between two plans: what moved, for whom, and what did not. No health words ever stand here."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from planner.domain.dates import said_day
from planner.domain.facts import (
    Done,
    Fact,
    Forgotten,
    PersonAway,
    Result,
    RunUpReadings,
    StartMark,
    Undone,
    VenueClosed,
    VenueOpened,
    people_of,
)
from planner.domain.plan import Placement
from planner.domain.units import counted

NAMED = ("name", "place", "venue")  # what a fact is about, where it is about no athlete
SHORTER = {PersonAway.kind: "away", VenueClosed.kind: "closed", VenueOpened.kind: "open"}
AFTERWARDS = (Done, Result, RunUpReadings, StartMark)  # what came of a day: the squad reads no reason in it
OWN_WORK = "own work"  # what the squad reads of a fact whose very kind is private
MOST_WORDS = 60  # of one message to an athlete


@dataclass(frozen=True)
class Change:
    """One handed-out unit that is no longer as it was. `now` is '' when it is left out."""

    athlete: str
    day: date
    was: str
    now: str
    kind: str  # lighter, amount, swapped, moved, left out, new

    def __str__(self) -> str:
        return f"{said_day(self.day)}: {self.what}"

    @property
    def what(self) -> str:
        """What became of it, without the day."""
        match self.kind:
            case "left out":
                return f"{self.was} is left out"
            case "new":
                return f"{self.now} comes in"
            case "moved":
                return f"{self.was} moves to {self.now}"
            case _:
                return f"{self.was} becomes {self.now}"


def changes(before: Sequence[Placement], after: Sequence[Placement]) -> tuple[Change, ...]:
    """Every difference for an athlete, in order of days; nothing for what stays as it was.

    Both hold only what was still to come when the plan changed: what is over can no longer move.
    """
    old = {p.key: p for p in before}
    new = {p.key: p for p in after}
    gone = [p for k, p in old.items() if k not in new]
    fresh = [p for k, p in new.items() if k not in old]
    stays = [(old[k], new[k]) for k in old if k in new]
    found = [_amount(was, now) for was, now in stays if was.dose.amount != now.dose.amount]
    found += [_place(was, now) for was, now in stays if _where(was) != _where(now)]
    taken: set[object] = set()
    for p in sorted(gone, key=lambda p: p.key):
        match = _match(p, [q for q in fresh if q.key not in taken])
        if match is not None:
            taken.add(match.key)
        found.append(_change(p, match))
    for q in fresh:
        if q.key not in taken:
            found.append(Change(q.athlete, q.day, "", words(q), "new"))
    return tuple(sorted(found, key=lambda c: (c.athlete, c.day, c.kind, c.was, c.now)))


def not_settled(placements: Sequence[Placement], settled: Sequence[Placement]) -> list[Placement]:
    """What is still open of a plan: a session that is over or recorded is no change of a plan."""
    over = {p.key for p in settled}
    return [p for p in placements if p.key not in over]


def unchanged(before: Sequence[Placement], found: Sequence[Change]) -> tuple[str, ...]:
    """Athletes who hold a plan and for whom nothing changes."""
    changed = {c.athlete for c in found}
    return tuple(dict.fromkeys(p.athlete for p in before if p.athlete not in changed))


def reasons(news: Sequence[Fact]) -> tuple[str, ...]:
    """Why a plan changed, in words that may be shared: 'Ada: away', 'venue closed: pit'; never a cause."""
    said = []
    for fact in news:
        if isinstance(fact, (Undone, Forgotten, *AFTERWARDS)):
            continue
        who = ", ".join(people_of(fact)) or next((w for key in NAMED if (w := getattr(fact, key, ""))), "")
        shared = fact.kind if fact.kind_audience in ("squad", "outside") else OWN_WORK
        word = fact.shared_word or SHORTER.get(fact.kind, shared)
        said.append(f"{who}: {word}" if who else word)
    return tuple(dict.fromkeys(said))


def message(athlete: str, found: Sequence[Change]) -> str:
    """At most 60 words to one athlete, ready to send; no cause, no health."""
    own = [str(c) for c in found if c.athlete == athlete]
    if not own:
        return f"{athlete.split(maxsplit=1)[0]}, nothing changes for you."
    text = f"{athlete.split(maxsplit=1)[0]}, your plan changes."
    for i, line in enumerate(own):
        rest = len(own) - i
        more = f" And {rest} more: see your new page."
        if len(f"{text} {line}.{more}".split()) > MOST_WORDS:
            return text + more
        text += f" {line}."
    return f"{text} The rest stays."


def words(p: Placement) -> str:
    """'long accelerations, 200 metres, lighter'."""
    lighter = ", lighter" if p.dose.word == "lighter" else ""
    return f"{p.name[:1].lower()}{p.name[1:]}, {counted(p.dose.amount, p.dose.measure)}{lighter}"


def _amount(was: Placement, now: Placement) -> Change:
    return Change(was.athlete, was.day, words(was), words(now), "amount")


def _where(p: Placement) -> tuple[object, str, str]:
    return (p.begins, p.venue, p.place)


def _place(was: Placement, now: Placement) -> Change:
    there = f"{now.begins:%H:%M}, {now.place or 'at no place of its own'}"
    return Change(was.athlete, was.day, words(was), there, "moved")


def _match(p: Placement, fresh: Sequence[Placement]) -> Placement | None:
    """What stands for a unit now: lighter in place, else another of its family there, else at another time."""
    own = [q for q in fresh if q.athlete == p.athlete]
    here = [q for q in own if (q.day, q.slot) == (p.day, p.slot)]
    for found in (
        [q for q in here if q.unit.id == p.unit.id],
        [q for q in here if q.unit.family == p.unit.family],
        [q for q in own if q.unit.id == p.unit.id],
        here,
    ):
        if found:
            return min(found, key=lambda q: (abs((q.day - p.day).days), q.key))
    return None


def _change(p: Placement, match: Placement | None) -> Change:
    if match is None:
        return Change(p.athlete, p.day, words(p), "", "left out")
    if (match.day, match.slot) != (p.day, p.slot):
        now = f"{said_day(match.day)} ({match.slot})"
        return Change(p.athlete, p.day, words(p), now, "moved")
    kind = "lighter" if match.unit.id == p.unit.id else "swapped"
    return Change(p.athlete, p.day, words(p), words(match), kind)
