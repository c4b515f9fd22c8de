"""The whole model in one piece: the should tier to the end of its budget, its value frozen, then prefer."""

from __future__ import annotations

from dataclasses import dataclass, replace

from planner.domain.finding import Tier
from planner.solve.cpsat import Answer, Limits, Written
from planner.solve.linear import LinearModel
from planner.solve.repair import take_if_better
from planner.solve.state import State

SHARE_UNRELAXED = 0.6  # of a tier's budget at most, without the linear relaxation
SHARE_OF_SHOULD = 0.75  # of the budget at most; what it leaves over goes to prefer


@dataclass
class Certified:
    """The least value any plan can have, tier by tier (None: nothing certified), and how the run ended."""

    should: int | None = None
    prefer: int | None = None
    stopped: bool = False
    spent: float = 0.0


def solve_in_one_piece(
    model: LinearModel, state: State, limits: Limits, least: int | None = None
) -> Certified:
    """Improve the state to the best plan found; a plan is taken over only when its price is lower.

    `least` is what is already known about the should tier. The bound of prefer counts only when should is
    proved: otherwise a better should could cost more of it.
    """
    written = Written(model)
    found = Certified(should=least)
    frozen = written.terms("should")
    if least != state.price.should:
        if least is not None:
            written.add_row(list(frozen), list(frozen.values()), least - model.constant["should"], None)
        should = replace(limits, budget=limits.budget * SHARE_OF_SHOULD)
        answer = _one_tier(model, written, state, "should", should)
        found = Certified(_higher(least, answer.bound), None, answer.stopped, answer.spent)
        if found.stopped:
            return found
    written.add_row(list(frozen), list(frozen.values()), None, state.price.should - model.constant["should"])
    rest = replace(limits, budget=max(0.0, limits.budget - found.spent), watch=None)
    answer = _one_tier(model, written, state, "prefer", rest)
    found.stopped, found.spent = answer.stopped, found.spent + answer.spent
    if found.should == state.price.should:
        found.prefer = answer.bound
    return found


def _one_tier(model: LinearModel, written: Written, state: State, tier: Tier, limits: Limits) -> Answer:
    """First without the linear relaxation, then with it unless proved: together one answer."""
    written.minimise(written.terms(tier), model.constant[tier])
    spent, bound = 0.0, None
    for relaxed, share in ((False, SHARE_UNRELAXED), (True, 1.0)):
        written.hint(state.start(model))
        budget = limits.budget * share - spent
        answer = written.run(replace(limits, budget=max(0.0, budget), relaxed=relaxed))
        take_if_better(state, answer)
        spent += answer.spent
        bound = _higher(bound, answer.bound)
        value = state.price.should if tier == "should" else state.price.prefer
        if answer.stopped or bound == value:
            break
    return replace(answer, bound=bound, spent=spent)


def _higher(one: int | None, other: int | None) -> int | None:
    return max((b for b in (one, other) if b is not None), default=None)
