"""Figures of a block's own athletes for `planner numbers --file`."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

from planner.cli.options import block_file
from planner.domain.dates import said_day
from planner.domain.errors import Told
from planner.domain.names import meant_by
from planner.domain.own_shoes import own_shoes
from planner.domain.shoe import NO_SHOE, Shoe, meant_among, shoe_of

if TYPE_CHECKING:
    from planner.domain.block import Athlete, Block
    from planner.numbers.answer import Answer

ADULT = 18  # years; who is younger is told the limits for children
DAYS_BEFORE = 28  # days whose mean is the usual load a taper is held against; common practice, no source


class Missing(Told):
    """Something that a figure needs was not given."""


def of_file(file: Path | None, athlete: str, now: str = "") -> tuple[Block, Athlete] | None:
    """The block as it is known at `now` and the athlete meant; None when neither --file nor --athlete is given."""
    if file is None and not athlete:
        return None
    if file is None or not athlete:
        raise Missing("--file and --athlete: found one of them, needed both.\nMaybe give figures instead.")
    from planner.cli.clock import moment
    from planner.known import as_known

    block = as_known(block_file(file), lambda zone: moment(now, zone))
    names = [a.name for a in block.athletes]
    whole = meant_by(athlete, names)
    if whole is None:
        raise Missing(f"--athlete: found '{athlete}', needed one of: {', '.join(names)}.\n"
                      "Maybe the beginning of one name.")  # fmt: skip
    return block, block.athlete(whole)


def shoe_given(text: str) -> Shoe:
    """The shoe of --shoe, none when it is left out; a bare figure is its length in centimetres."""
    try:
        return shoe_of(f"{text} cm" if re.fullmatch(r"\d+([.,]\d+)?", text.strip()) else text)
    except ValueError as error:
        raise Missing(f"--shoe: found '{text}', needed {error}.\nMaybe measure the sole.") from None


def card_of(block: Block, athlete: Athlete, event: str, steps: int, said: Shoe, now: str = "") -> Answer:
    """The run-up card in a shoe: of so many steps, or of the full run-up in the file, or of the usual one.

    Missing where the athlete has several shoes and none of them is said. Ages are those at `now`, or on the
    block's first day while that is to come.
    """
    from planner.catalogue import run_up_steps
    from planner.cli.clock import moment
    from planner.numbers.answer_jumps import card
    from planner.numbers.jumps import full_in_shoe, in_whole_shoes
    from planner.numbers.run_up_card import run_up_card

    if event not in ("long jump", "triple jump"):
        raise Missing(f"--event: found '{event}', needed long jump or triple jump.\nMaybe leave it out.")
    own = own_shoes(athlete.name, block.run_ups)
    meant = meant_among(said, own)
    known = ", ".join(map(str, own))
    if said.said and not meant:
        raise Missing(f"--shoe: found '{said}', needed one of {athlete.name}'s shoes: {known or 'none is known'}."
                      "\nMaybe write it beside the run-up in the file first.")  # fmt: skip
    if len(meant) > 1:
        found = f"'{said}'" if said.said else "no shoe"
        raise Missing(f"--shoe: found {found}, needed one of {athlete.name}'s shoes: {known}.\n"
                      f"Maybe --shoe '{meant[0].label or meant[1].label}'.")  # fmt: skip
    shoe = meant[0] if meant else NO_SHOE
    mine = in_whole_shoes((r for r in block.run_ups if r.athlete == athlete.name), own)
    full = full_in_shoe(mine, event, athlete.take_off_leg, shoe)
    many = steps or full or run_up_steps(event, athlete.level_for("run-ups"), athlete.age_on(block.begins))
    today = max(block.begins, moment(now, block.time_zone).date())
    return card(run_up_card(athlete, block.run_ups, event, many, today, shoe=shoe))


def own_fit(block: Block, athlete: Athlete, start: str, free: str) -> Answer:
    """The curve of an athlete's own splits."""
    from planner.numbers.answer_runs import sprint_fit
    from planner.numbers.marks import STARTS, of_athlete, splits_of

    own = splits_of(of_athlete(block, athlete.name), STARTS[start])
    if own is None:
        raise Missing(f"{athlete.name}: found no splits from a {start} start, needed times of one day over three "
                      "distances or more, such as 10 m, 20 m and 30 m.\nMaybe name another --start, or give "
                      "--metres for target times.")  # fmt: skip
    day, splits = own
    listed = ", ".join(f"{s.metres:g} m {s.seconds:.2f} s" for s in splits)
    by = "by hand" if splits[0].timing == "hand" else "by gates"
    return sprint_fit(splits, free, f"{listed}; {start}, {by}, {day.day} {day:%b %Y}")


def taper_of(file: Path, athlete: str, days: int) -> Answer:
    """The planned loads of the days before the athlete's first main competition, beside the four weeks before."""
    from planner.domain.view import PlanView
    from planner.known import planned
    from planner.numbers.answer_load import planned_taper

    problem, stored = planned(file)
    goals = [c for c in problem.competitions_of(athlete) if c.importance == "main"]
    if not goals:
        raise Missing(f"{athlete}: found no main competition, needed one to taper for.\n"
                      "Maybe give --days and --cut instead.")  # fmt: skip
    view, goal = PlanView(stored.outcome.plan, problem), goals[0]
    own = {d: view.day_load(athlete, d) for d in problem.days if d < goal.first_day}
    last = [own[d] for d in own if (goal.first_day - d).days <= days]
    before = [own[d] for d in own if days < (goal.first_day - d).days <= days + DAYS_BEFORE]
    return planned_taper(before, last, f"{goal.name}, {athlete}")


def forecast_of(block: Block, athlete: Athlete) -> Answer:
    """What the heat bands advise for every forecast of the block, by the athlete's age."""
    from planner.numbers.answer_load import heat_forecast

    rows = sorted((w for w in block.weather if w.wbgt is not None), key=lambda w: (w.day, w.slot))
    said = [(said_day(w.day) + (f", {w.slot}" if w.slot else ""), w.wbgt or 0) for w in rows]
    age = athlete.age_on(block.begins)
    return heat_forecast(said, age is not None and age < ADULT, athlete.name)
