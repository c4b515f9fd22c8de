"""The whole model in one piece: the should tier to the end of its budget, its value frozen, then prefer."""

from __future__ import annotations

from dataclasses import dataclass, replace

from planner.domain.finding import Tier
from planner.solve.cpsat import Answer, Limits, Written
from planner.solve.linear import LinearModel
from planner.solve.pieces import Turns, higher, in_turn
from planner.solve.repair import take_if_better
from planner.solve.state import State

# Most blocks of one week are proved from below at once, some only from above, and at once too.
FOR_PROOF: Turns = (("cores", 0.25), ("plain", 0.5), ("cores", 1.0))
BOTH: Turns = (("cores", 0.5), ("plain", 0.8), ("relaxed", 1.0))
FROM_ABOVE: Turns = (("plain", 0.6), ("relaxed", 1.0))
OF_PREFER: Turns = (("plain", 0.5), ("cores", 0.7), ("relaxed", 1.0))
SHARE_OF_SHOULD = 0.75  # of the budget at most; what it leaves over goes to prefer


@dataclass
class Certified:
    """The least value any plan can have, tier by tier (None: nothing certified), and how the run ended."""

    should: int | None = None
    prefer: int | None = None
    stopped: bool = False
    spent: float = 0.0


def solve_in_one_piece(
    model: LinearModel, state: State, limits: Limits, least: int | None = None, turns: Turns = BOTH
) -> Certified:
    """Improve the state to the best plan found; a plan is taken over only when its price is lower.

    `least` is what is already known about the should tier, `turns` how it is searched. `FOR_PROOF`, prefer
    waits for it. The bound of prefer counts only when should is proved: otherwise a better should could cost more
    of it.
    """
    written = Written(model)
    found = Certified(should=least)
    frozen = written.terms("should")
    if least != state.price.should:
        if least is not None:
            written.add_row(list(frozen), list(frozen.values()), least - model.constant["should"], None)
        should = replace(limits, budget=limits.budget * SHARE_OF_SHOULD)
        answer = _one_tier(model, written, state, "should", should, turns)
        found = Certified(higher(least, answer.bound), None, answer.stopped, answer.spent)
        if found.stopped or (turns is FOR_PROOF and found.should != state.price.should):
            return found
    written.add_row(list(frozen), list(frozen.values()), None, state.price.should - model.constant["should"])
    rest = replace(limits, budget=max(0.0, limits.budget - found.spent), watch=None)
    answer = _one_tier(model, written, state, "prefer", rest, OF_PREFER)
    found.stopped, found.spent = answer.stopped, found.spent + answer.spent
    if found.should == state.price.should:
        found.prefer = answer.bound
    return found


def _one_tier(
    model: LinearModel, written: Written, state: State, tier: Tier, limits: Limits, turns: Turns
) -> Answer:
    terms, constant = written.terms(tier), model.constant[tier]
    written.minimise(terms, constant)
    written.hint(state.start(model))
    answer = in_turn(written, turns, limits, terms, constant)
    take_if_better(state, answer)
    return answer
