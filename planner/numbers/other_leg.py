"""A trial of the other leg: few jumps, few steps, a new first estimate; it changes neither leg nor card.

Novice amounts whatever the level: they stand in the catalogue, and the limits of the day hold for them as for
every unit. A later command, with its date, changes the take-off leg.
"""

from __future__ import annotations

from dataclasses import replace

from planner.numbers.case import Case
from planner.numbers.jumps import event_of, start_words
from planner.science.run_up import front_foot

TRIAL_STEPS = 4  # steps of the other leg's first jumps; common practice, no source
LEAST_STEPS = 2
NO_BEST = "safe take-offs and landings, no best asked for"


def trial_lines(case: Case) -> dict[str, object]:
    """The fields of a trial's lines that differ from the catalogue's words.

    The start mark is a first estimate until one is measured for that leg; the other leg's marks are left alone.
    """
    leg = case.placement.unit.jumping_leg(case.athlete.take_off_leg)
    steps = trial_steps(case.most_steps)
    dose = case.placement.dose
    of_that_leg = tuple(r for r in case.run_ups if r.leg == leg)
    person = replace(case.athlete, take_off_leg=leg)
    start, doubt = start_words(
        of_that_leg, person, event_of(case), steps, case.placement.day.year, case.placement.unit.shoes
    )
    one = "jump" if dose.amount == 1 else "jumps"
    return {
        "steps": steps,
        "amount": f"{dose.amount} {one} from {steps} steps, {leg} leg",
        "target": f"{NO_BEST}; {start}, {front_foot(steps, leg)} foot in front",
        "doubt": doubt,
        "notes": (f"a trial, counted on the {leg} leg; take-off leg and card stay as they are",),
    }


def trial_steps(most: int | None) -> int:
    """Steps of a trial's run-up, under what a limit allows."""
    return max(LEAST_STEPS, min(TRIAL_STEPS, most or TRIAL_STEPS))
