"""Who is entered in a competition while a limit still stands on that day.

A person set the limit's return stage and only a person changes it: what is found here is said, not decided.
"""

from __future__ import annotations

from planner.domain.block import Block, Competition, Limit

COMPETES_FROM = 5  # return stage; below it nothing is at full effort (the catalogue's stages)


def limits_against(block: Block, competition: Competition) -> tuple[Limit, ...]:
    """The athlete's own limits below that stage on its first day; a coach's hold-back is none of them."""
    return tuple(
        x
        for x in block.limits
        if x.athlete == competition.athlete
        and not x.hold_back
        and x.stage < COMPETES_FROM
        and x.active_on(competition.first_day)
    )
