"""Is a fact about an event of the athlete, and about a competition that is known?"""

from __future__ import annotations

import re
from collections.abc import Iterable

from planner.domain.block import Block
from planner.domain.mark_names import run_of, short_run_up_of
from planner.domain.pit_facts import Result, RunUpReadings, StartMark
from planner.review.complaint import meant, shown

MANY = ("heptathlon", "decathlon", "pentathlon", "octathlon", "combined events", "all")  # any may be theirs
ATHLETICS = re.compile(r".*\b(long jump|triple jump|high jump|pole vault|shot put|discus|javelin|hammer|hurdles)")
STANDING = "standing"  # 'standing long jump' is a test for everybody

# (key, found, needed, maybe) of one problem
Said = tuple[str, str, str, str]


def own_events(block: Block, athlete: str) -> tuple[str, ...]:
    """Events an athlete trains for, is entered in, or has a mark or a run-up of; the athlete's own order."""
    every = [e for a in block.athletes if a.name == athlete for e in a.events]
    for c in block.competitions:
        if c.athlete == athlete:
            every += [*c.events, *(s.event for s in c.starts)]
    rows = [(m.athlete, m.event) for m in block.marks] + [(r.athlete, r.event) for r in block.run_ups]
    for name, event in rows:
        if name == athlete:
            short = short_run_up_of(event)
            every.append(short[0] if short else event)
    return tuple(dict.fromkeys(every))


def not_own(fact: Result | RunUpReadings | StartMark, block: Block) -> Iterable[Said]:
    """Something against the event. A run over any distance may be anybody's, and a test in training too."""
    own = own_events(block, fact.athlete)
    if not own or fact.event in own or any(e in MANY for e in own) or run_of(fact.event) is not None:
        return
    if "hurdles" in own and fact.event.endswith("hurdles"):
        return
    at_meet = isinstance(fact, Result) and bool(fact.competition)
    trained = ATHLETICS.fullmatch(fact.event) is not None and not fact.event.startswith(STANDING)
    if at_meet or trained or not isinstance(fact, Result):
        needed = f"an event of {fact.athlete}: {', '.join(own)}"
        maybe = meant(fact.event, own) or "another is meant"
        yield "event", shown(fact.event), needed, f"{maybe}, or write it in the athlete's events in the file"


def another_run(fact: Result, block: Block) -> str:
    """What is said of a run in competition that is none of the athlete's; '' where there is nothing to say."""
    own = own_events(block, fact.athlete)
    if not fact.competition or not own or fact.event in own or any(e in MANY for e in own):
        return ""
    return f"The {fact.event} is no event of {fact.athlete} in the file ({', '.join(own)}); recorded all the same."


def unknown_meet(fact: Result, names: Iterable[str]) -> Iterable[Said]:
    """A competition that neither the file nor a fact knows."""
    known = sorted(set(names))
    if not fact.competition or fact.competition in known:
        return
    needed = f"a competition of the block: {', '.join(known)}" if known else "no competition: the block has none"
    first = "record it first with competition-added"
    near = meant(fact.competition, known)
    yield "competition", shown(fact.competition), needed, f"{near}, or {first}" if near else first
