"""Which units fit which event: a sprinter gets no jumps, a long jumper no triple jumps.

Units of a family that no event names (strength, general, recovery ...) are for all. Common practice, no
source.
"""

from __future__ import annotations

from planner.domain.block import Athlete

FOR_ALL = (
    "short-accelerations", "build-ups", "flying-sprints", "extensive-tempo", "low-multi-jumps",
    "extensive-bounds", "heavy-strength", "power-lifts", "general-strength", "upper-body", "robustness",
    "medicine-ball", "mobility", "active-recovery",
)  # fmt: skip

ON_DEMAND = (
    "testing", "own-work", "off-feet-conditioning", "primer", "relay-changeovers", "trial-long-jumps",
    "trial-triple-jumps",
)  # fmt: skip
# placed only where a limit, a competition, a fixed place, a wish or a theme asks for it

SPRINT = (
    "long-accelerations", "resisted-accelerations", "block-starts", "stick-runs", "speed-endurance",
    "split-speed-endurance", "short-rest-runs", "special-endurance", "intensive-bounds",
)  # fmt: skip
JUMP = (
    "long-accelerations", "resisted-accelerations", "stick-runs", "speed-endurance", "short-rest-runs",
    "full-run-ups", "intensive-bounds", "depth-jumps", "scissor-bounds",
)  # fmt: skip
LONG_JUMP = (
    *JUMP, "run-up-pop-off", "box-take-offs", "short-long-jumps", "medium-long-jumps", "full-long-jumps",
)  # fmt: skip
TRIPLE_JUMP = (
    *JUMP, "triple-jump-phases", "short-triple-jumps", "medium-triple-jumps", "full-triple-jumps",
    "hop-and-step-run-ups",
)  # fmt: skip
HIGH_JUMP = (
    "long-accelerations", "speed-endurance", "stick-runs", "intensive-bounds", "depth-jumps",
    "short-high-jumps", "full-high-jumps",
)  # fmt: skip
ONE_LAP = (
    "long-accelerations", "block-starts", "speed-endurance", "split-speed-endurance", "special-endurance",
    "long-special-endurance", "intensive-tempo", "easy-run",
)  # fmt: skip
HURDLES = (
    "long-accelerations", "block-starts", "speed-endurance", "short-rest-runs", "hurdle-rhythm",
    "race-hurdles", "throws-technique", "short-long-jumps",
)  # fmt: skip
COMBINED = (
    "long-accelerations", "block-starts", "speed-endurance", "special-endurance", "intensive-bounds",
    "easy-run", "full-run-ups", "run-up-pop-off", "short-long-jumps", "medium-long-jumps", "full-long-jumps",
    "short-high-jumps", "full-high-jumps", "hurdle-rhythm", "race-hurdles", "throws-technique",
)  # fmt: skip
EVERYTHING = (
    "short-long-jumps", "short-high-jumps", "hurdle-rhythm", "throws-technique", "easy-run",
    "long-accelerations", "full-run-ups",
)  # fmt: skip
THROWS = ("long-accelerations", "throws-technique", "intensive-bounds", "short-long-jumps", "hurdle-rhythm")
YOUNG = ("hurdle-rhythm",)  # novices do many things

BY_EVENT: dict[str, tuple[str, ...]] = {
    "long jump": LONG_JUMP,
    "triple jump": TRIPLE_JUMP,
    "high jump": HIGH_JUMP,
    "60 m": SPRINT,
    "100 m": SPRINT,
    "200 m": SPRINT,
    "400 m": ONE_LAP,
    "hurdles": HURDLES,
    "heptathlon": COMBINED,
    "decathlon": COMBINED,
    "combined events": COMBINED,
    "shot put": THROWS,
    "javelin": THROWS,
    "discus": THROWS,
    "all": EVERYTHING,
}


def units_of_event(event: str) -> tuple[str, ...]:
    """The units of one event beside those for all; any hurdles race counts as hurdles."""
    if event in BY_EVENT:
        return BY_EVENT[event]
    return HURDLES if "hurdles" in event else EVERYTHING


def eligible(athlete: Athlete) -> frozenset[str]:
    """The ids of all units that fit the athlete's events, without those placed on demand only."""
    found = set(FOR_ALL)
    for event in athlete.events or ("all",):
        found.update(units_of_event(event))
    if athlete.level == "novice":
        found.update(YOUNG)
    return frozenset(found - set(ON_DEMAND))
