"""The whole model in one piece: the should tier to the end of its budget, its value frozen, then prefer."""

from __future__ import annotations

from dataclasses import dataclass, replace

from planner.domain.finding import Tier
from planner.solve.cpsat import Answer, Limits, Written
from planner.solve.linear import LinearModel
from planner.solve.state import State

SHARE_UNRELAXED = 0.6  # of a tier's budget at most, without the linear relaxation
SHARE_OF_SHOULD = 0.75  # of the budget at most; what it leaves over goes to prefer
TIER_ORDER: tuple[Tier, ...] = ("should", "prefer")


@dataclass
class Certified:
    """The least value any plan can have, tier by tier (None: nothing certified), and how the run ended."""

    should: int | None = None
    prefer: int | None = None
    stopped: bool = False
    spent: float = 0.0


def solve_in_one_piece(model: LinearModel, state: State, limits: Limits) -> Certified:
    """Improve the state to the best plan found; a plan is taken over only when its price is lower.

    The bound of prefer counts only when should is proved: otherwise a better should could cost more of it.
    """
    written = Written(model)
    found = Certified()
    should = replace(limits, budget=limits.budget * SHARE_OF_SHOULD)
    answer = _one_tier(written, state, "should", should)
    found.should, found.stopped, found.spent = answer.bound, answer.stopped, answer.spent
    if found.stopped:
        return found
    frozen = written.terms("should")
    written.add_row(list(frozen), list(frozen.values()), None, state.price.should - model.constant["should"])
    rest = replace(limits, budget=max(0.0, limits.budget - answer.spent), watch=None)
    answer = _one_tier(written, state, "prefer", rest)
    found.stopped, found.spent = answer.stopped, found.spent + answer.spent
    if found.should == state.price.should:
        found.prefer = answer.bound
    return found


def _one_tier(written: Written, state: State, tier: Tier, limits: Limits) -> Answer:
    """First without the linear relaxation, then with it unless proved: together one answer."""
    model = written.model
    written.minimise(written.terms(tier), model.constant[tier])
    spent, bound = 0.0, None
    for relaxed, share in ((False, SHARE_UNRELAXED), (True, 1.0)):
        written.hint(model.complete(state.values))
        budget = limits.budget * share - spent
        answer = written.run(replace(limits, budget=max(0.0, budget), relaxed=relaxed))
        take_if_better(state, answer)
        spent += answer.spent
        bound = max((b for b in (bound, answer.bound) if b is not None), default=None)
        value = state.price.should if tier == "should" else state.price.prefer
        if answer.stopped or bound == value:
            break
    return replace(answer, bound=bound, spent=spent)


def take_if_better(state: State, answer: Answer, *, or_equal: bool = False) -> bool:
    """Take the solver's placements over when the store, not the solver, prices them lower."""
    if answer.values is None:
        return False
    before, chosen = state.price, state.chosen
    columns = state.store.columns
    wanted = {c for c in chosen if c not in answer.values}
    wanted |= {c for c, v in answer.values.items() if v and c < len(columns) and columns[c].kind == "placed"}
    state.set_to(wanted)
    if state.price < before or (or_equal and state.price == before):
        return True
    state.set_to(chosen)
    return False
