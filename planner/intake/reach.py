"""Events and tests in which a mark can be given: its unit, and what no human has reached yet.

The best performances are the senior world records as ratified by World Athletics (to mid-2025), rounded;
tests and lifts without a world record carry the best we know of from published measurements (common
practice, no source). A mark is refused when it beats the figure by more than `MARGIN`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from planner.domain.mark_names import LEAST_STEPS, LONGEST_TEST_M, MOST_STEPS, run_of, short_run_up_of

MARGIN = 3  # percent beyond the best that is still believed
FAR_FROM = 4  # times the best time, or a quarter of the best length: unusual, worth a warning


@dataclass(frozen=True)
class Reach:
    """`unit` is cm, hundredths, half-kg or points; the bests are in it. `trained`: an event to train for."""

    unit: str
    men: int
    women: int
    trained: bool = True

    def beyond(self, value: int, sex: str) -> bool:
        """Is the mark better than any human's, margin included? Unknown sex: the wider of the two."""
        less_is_better = self.unit == "hundredths"
        best = (min if less_is_better else max)(self.men, self.women)
        if sex == "female":
            best = self.women
        elif sex == "male":
            best = self.men
        if less_is_better:
            return value * 100 < best * (100 - MARGIN)
        return value * 100 > best * (100 + MARGIN)

    def unusual(self, value: int) -> bool:
        if self.unit == "hundredths":
            return value > FAR_FROM * self.men
        return self.unit != "half-kg" and value * FAR_FROM < self.women


def _t(men: int, women: int, trained: bool = True) -> Reach:
    return Reach("hundredths", men, women, trained)


def _m(men: int, women: int, trained: bool = True) -> Reach:
    return Reach("cm", men, women, trained)


def _kg(men: int, women: int) -> Reach:
    return Reach("half-kg", men, women, trained=False)


REACH: Mapping[str, Reach] = MappingProxyType(
    {
        "60 m": _t(634, 692), "75 m": _t(760, 830), "80 m": _t(800, 880), "100 m": _t(958, 1049),
        "150 m": _t(1435, 1600), "200 m": _t(1919, 2134), "300 m": _t(3069, 3430), "400 m": _t(4303, 4760),
        "600 m": _t(7281, 8160), "800 m": _t(10091, 11328), "1000 m": _t(13196, 14898),
        "1500 m": _t(20600, 22868), "3000 m": _t(43755, 48611), "5000 m": _t(75536, 83806),
        "hurdles": _t(727, 765), "60 m hurdles": _t(727, 765), "75 m hurdles": _t(950, 990),
        "80 m hurdles": _t(1000, 1050), "100 m hurdles": _t(1180, 1212), "110 m hurdles": _t(1280, 1330),
        "300 m hurdles": _t(3305, 3686), "400 m hurdles": _t(4594, 5037),
        "long jump": _m(895, 752), "triple jump": _m(1829, 1574), "high jump": _m(245, 210),
        "pole vault": _m(630, 506), "shot put": _m(2356, 2263), "discus": _m(7556, 7680),
        "javelin": _m(9848, 7228), "hammer": _m(8674, 8298),
        "heptathlon": Reach("points", 7291, 7291), "decathlon": Reach("points", 9126, 9126),
        "pentathlon": Reach("points", 5055, 5055), "combined events": Reach("points", 9126, 9126),
        "10 m": _t(160, 170, False), "20 m": _t(260, 280, False), "30 m": _t(350, 380, False),
        "40 m": _t(440, 480, False), "50 m": _t(547, 594, False), "flying 10 m": _t(81, 90, False),
        "flying 20 m": _t(162, 180, False), "flying 30 m": _t(244, 272, False),
        "standing long jump": _m(373, 320, False), "standing triple jump": _m(1120, 960, False),
        "five bounds": _m(1900, 1650, False), "ten bounds": _m(4000, 3500, False),
        "counter-movement jump": _m(125, 100, False), "medicine ball throw": _m(3500, 3000, False),
        "squat": _kg(1000, 660), "front squat": _kg(700, 500), "half squat": _kg(1000, 800),
        "split squat": _kg(500, 400), "deadlift": _kg(1020, 660), "trap-bar deadlift": _kg(1060, 700),
        "romanian deadlift": _kg(800, 560), "clean": _kg(540, 380), "power clean": _kg(460, 310),
        "snatch": _kg(450, 320), "power snatch": _kg(380, 260), "clean and jerk": _kg(540, 380),
        "hip thrust": _kg(1200, 900), "bench press": _kg(720, 420), "step-up": _kg(500, 400),
    }
)  # fmt: skip

HAND = 24  # hundredths that a hand shows less than gates (World Athletics, Technical Rules, since 1977)
REACTION = 15  # hundredths from the gun to the first movement, which a test from the first movement leaves out


def reach_of(event: str) -> Reach | None:
    """The reach of an event or test, its words for start, timing and run-up understood; None for no known one."""
    if event in REACH:
        return REACH[event]
    short = short_run_up_of(event)
    if short is not None:
        return replace(REACH[short[0]], trained=False) if LEAST_STEPS <= short[1] <= MOST_STEPS else None
    run = run_of(event)
    if run is None or run.base not in REACH:
        return None
    base = REACH[run.base]
    less = (HAND if run.hand else 0) + (REACTION if run.metres > LONGEST_TEST_M and run.start != "race" else 0)
    return Reach(base.unit, base.men - less, base.women - less, trained=False)


EVENTS: tuple[str, ...] = (
    *(e for e, r in REACH.items() if r.trained),
    "relay",
    "4 x 100 m",
    "4 x 400 m",
    "octathlon",
    "all",
)
JUMPS: tuple[str, ...] = (
    "long jump", "triple jump", "high jump", "pole vault", "heptathlon", "decathlon", "pentathlon",
    "octathlon", "combined events", "all",
)  # fmt: skip

UNIT_WORDS: Mapping[str, str] = MappingProxyType(
    {
        "cm": "a length such as 6.35 m",
        "hundredths": "a time such as 11.92 s or 1:52.30",
        "half-kg": "a weight such as 120 kg",
        "points": "points such as 4780 points",
    }
)
