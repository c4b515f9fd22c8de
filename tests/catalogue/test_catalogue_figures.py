"""Weekly counts, caps, volumes, tapers, limits: in order, whole, and as common practice has them."""

from __future__ import annotations

from itertools import pairwise, product

import pytest

from planner import catalogue
from planner.catalogue import EVENT_TYPES, PHASES, CatalogueError, units
from planner.domain.problem import Count
from planner.domain.units import COUNTERS, FAMILIES, LEVELS

SIX = [p for p in PHASES if p != "bridge"]
EVERY = list(product(EVENT_TYPES, LEVELS, PHASES))


def test_ten_sets_of_counts_by_six_phases() -> None:
    sets = {s for s in catalogue.count_sets() if s[2] != "bridge"}
    assert len({(e, level) for e, level, _ in sets}) == 10
    assert len(sets) == 60
    assert {p for _, _, p in sets} == set(SIX)


@pytest.mark.parametrize(("event_type", "level", "phase"), EVERY)
def test_counts_are_in_order(event_type: str, level: str, phase: str) -> None:
    week = catalogue.weekly_counts(event_type, level, phase)
    assert set(week.counts) <= set(FAMILIES)
    for count in (*week.counts.values(), week.fast_days, week.training_days):
        assert 0 <= count.minimum <= count.target <= count.maximum
    assert week.training_days.maximum <= 6, "one day of rest at least"
    assert week.fast_days.maximum <= 3
    for family in catalogue.key_families(event_type, level, phase):  # type: ignore[arg-type]
        assert week.of(family).maximum > 0, f"{family} is key and must be possible"


# Common practice: minimum, target, maximum a week.
COUNTS = [
    ("long jump", "advanced", "specific-preparation", "technical-jumps", (1, 2, 2)),
    ("long jump", "advanced", "pre-competition", "full-jumps", (1, 1, 1)),
    ("long jump", "novice", "general-preparation", "hurdles", (0, 1, 1)),
    ("triple jump", "advanced", "specific-preparation", "high-multi-jumps", (1, 1, 2)),
    ("triple jump", "novice", "competition", "recovery", (1, 2, 2)),
    ("sprint", "advanced", "general-preparation", "acceleration", (1, 2, 3)),
    ("sprint", "novice", "specific-preparation", "top-speed", (0, 1, 1)),
    ("400 m", "advanced", "general-preparation", "tempo", (2, 3, 3)),
    ("400 m", "novice", "pre-competition", "special-endurance", (1, 1, 1)),
    ("combined events", "advanced", "specific-preparation", "throws", (2, 2, 3)),
    ("combined events", "novice", "taper", "hurdles", (0, 1, 1)),
    ("long jump", "advanced", "transition", "strength", (0, 0, 1)),
]


@pytest.mark.parametrize(("event_type", "level", "phase", "family", "wanted"), COUNTS)
def test_counts_of_common_practice(
    event_type: str, level: str, phase: str, family: str, wanted: tuple[int, int, int]
) -> None:
    assert catalogue.weekly_counts(event_type, level, phase).of(family) == Count(*wanted)


def test_fast_and_training_days() -> None:
    week = catalogue.weekly_counts("long jump", "advanced", "specific-preparation")
    assert week.fast_days == Count(2, 3, 3)
    assert week.training_days == Count(5, 5, 6)
    assert catalogue.weekly_counts("sprint", "novice", "transition").fast_days == Count(0, 0, 0)


def test_developing_lies_between() -> None:
    week = catalogue.weekly_counts("triple jump", "developing", "specific-preparation")
    assert week.of("strength") == Count(0, 2, 3)  # novice 0/1/1, advanced 2/2/3: 1.5 rounds up
    assert week.of("high-multi-jumps").maximum == 1  # the novice's, until the level changes
    assert week.of("full-jumps") == Count(0, 0, 0)
    jump = catalogue.weekly_counts("long jump", "developing", "pre-competition")
    assert jump.of("full-jumps") == Count(0, 1, 1)
    assert jump.training_days == Count(2, 4, 5)


def test_bridge_is_easy() -> None:
    for event_type, level in product(EVENT_TYPES, LEVELS):
        week = catalogue.weekly_counts(event_type, level, "bridge")
        assert week.fast_days.maximum == 0
        assert set(week.counts) <= {"tempo", "low-multi-jumps", "general", "recovery"}


def test_events_without_a_table_borrow_one() -> None:
    assert catalogue.event_type("100 m") == "sprint"
    assert catalogue.event_type("60 m") == catalogue.event_type("4 x 100 m") == "sprint"
    assert catalogue.event_type("Long  Jump") == "long jump"
    assert catalogue.event_type("110 m hurdles") == "combined events"
    assert not catalogue.has_own_table("110 m hurdles")
    assert catalogue.has_own_table("heptathlon")
    assert not catalogue.has_own_table("tug of war")
    base = catalogue.weekly_counts("combined events", "advanced", "specific-preparation")
    hurdler = catalogue.weekly_counts_for("100 m hurdles", "advanced", "specific-preparation")
    assert hurdler.of("hurdles") == base.of("hurdles") == Count(1, 1, 2)
    assert hurdler.of("throws") == Count(2, 2, 3)
    assert hurdler.of("run-ups") == Count(0, 0, 1)  # 0/1/1 at its minimum
    assert hurdler.of("strength") == base.of("strength")


def test_caps_of_common_practice() -> None:
    novice = catalogue.weekly_caps("long jump", "novice")
    assert novice.fast_days == (1, 2)
    assert novice.high["full-jumps"] == 5
    assert novice.high["high-contacts"] == 24
    assert novice.take_offs_one_leg == 40
    sprinter = catalogue.weekly_caps("sprint", "advanced")
    assert (sprinter.low["fast-metres"], sprinter.high["fast-metres"]) == (500, 900)
    assert catalogue.weekly_caps("400 m", "advanced").high["tempo-metres"] == 8000
    assert catalogue.weekly_caps("triple jump", "advanced").high["high-contacts"] == 220
    assert catalogue.weekly_caps("combined events", "advanced").hours == (12, 18)
    for event_type, level in product(EVENT_TYPES, LEVELS):
        caps = catalogue.weekly_caps(event_type, level)
        assert set(caps.high) <= set(COUNTERS)
        assert all(caps.low[c] <= most for c, most in caps.high.items())


def test_every_unit_fits_into_its_levels_week() -> None:
    """A single unit at its low end never breaks the weekly ceiling of the event that trains it."""
    for u in units().values():
        for event_type, level in product(EVENT_TYPES, LEVELS):
            planned = any(
                catalogue.weekly_counts(event_type, level, phase).of(u.family).target > 0 for phase in SIX
            )
            high = catalogue.weekly_caps(event_type, level).high
            if not planned or any(high.get(c) == 0 for c in u.counters):
                continue
            for counter, per in u.counters.items():
                if counter in high:
                    assert u.amounts[level].low * per <= 100 * high[counter], (u.id, event_type, level)


def test_volumes_of_common_practice() -> None:
    volumes = catalogue.weekly_volumes
    assert volumes("long jump", "advanced", "specific-preparation", "sprint-metres") == (400, 600)
    assert volumes("long jump", "advanced", "pre-competition", "run-ups") == (8, 14)
    assert volumes("triple jump", "advanced", "specific-preparation", "high-contacts") == (100, 220)
    assert volumes("sprint", "advanced", "general-preparation", "tempo-metres") == (3000, 4500)
    assert volumes("400 m", "advanced", "competition", "heavy-sets") == (3, 6)
    assert volumes("combined events", "advanced", "specific-preparation", "throws") == (30, 60)
    assert volumes("combined events", "novice", "taper", "throws") is None
    # halfway between 160-280 and 400-600
    assert volumes("long jump", "developing", "specific-preparation", "sprint-metres") == (280, 440)


@pytest.mark.parametrize(("event_type", "level", "phase"), EVERY)
def test_fast_and_quick_metres_make_up_the_sprint_metres(event_type: str, level: str, phase: str) -> None:
    joint, fast, quick = (
        catalogue.weekly_volumes(event_type, level, phase, c)  # type: ignore[arg-type]
        for c in ("sprint-metres", "fast-metres", "quick-metres")
    )
    if joint is None:
        assert fast is None
        assert quick is None
        return
    assert fast is not None
    assert quick is not None
    for i in (0, 1):
        assert abs(fast[i] + quick[i] - joint[i]) <= (1 if level == "developing" else 0)


def test_loading_patterns() -> None:
    assert catalogue.loading_pattern("3:1") == (80, 90, 100, 60)
    assert catalogue.loading_pattern("2:1") == (90, 100, 60)
    assert 120 <= catalogue.loading_pattern("camp")[1] <= 130
    assert catalogue.default_pattern("advanced", "general-preparation") == "3:1"
    assert catalogue.default_pattern("novice", "specific-preparation") == "2:1"
    assert catalogue.default_pattern("novice", "taper") == ""
    with pytest.raises(CatalogueError, match=r"loading\.toml"):
        catalogue.loading_pattern("5:1")


def test_phases_fill_a_year() -> None:
    found = catalogue.phases()
    assert tuple(found) == PHASES
    assert found["general-preparation"].weeks["single"] == (10, 16)
    assert found["bridge"].days == (5, 9)
    # 14 + 11 + 6 + 14 + 2 + 5 weeks, each inside its range
    single = dict(zip(SIX, (14, 11, 6, 14, 2, 5), strict=True))
    assert sum(single.values()) == 52
    for phase, weeks in single.items():
        low, high = found[phase].weeks["single"]
        assert low <= weeks <= high
    assert catalogue.season_shape().least_weeks_before_main["advanced"] == 6


def test_tapers() -> None:
    jump = catalogue.taper("long jump", "advanced")
    assert jump.days == (10, 14)
    assert jump.last["full-long-jumps"] == 7
    assert jump.floors["heavy-strength"] == 5
    assert catalogue.taper("sprint", "advanced").last["speed-endurance"] == 10
    assert catalogue.taper("triple jump", "novice").days == (3, 5)
    assert catalogue.taper("400 m", "advanced").floors["special-endurance"] == 9
    for event_type, level in product(EVENT_TYPES, LEVELS):
        found = catalogue.taper(event_type, level)
        assert found.last_three_days[1] <= found.week_minus_1[0] <= found.week_minus_2[0] <= 100
        assert set(found.last) <= set(units())
        for name, floor in found.floors.items():
            assert found.last.get(name, floor) >= floor, "the preferred date is not after the floor"
    assert catalogue.easing().days == (3, 5)
    assert catalogue.easing("short").less == (25, 35)
    with pytest.raises(CatalogueError, match=r"taper\.toml"):
        catalogue.taper("100 m", "advanced")


def test_taper_lies_near_the_published_volume() -> None:
    """Bosquet, Montpetit, Arvisais, Mujika 2007: about two weeks, 41-60 % less volume."""
    for event_type in EVENT_TYPES:
        found = catalogue.taper(event_type, "advanced")
        last_week_less = 100 - found.week_minus_1[0]
        assert 41 <= last_week_less <= 60
        assert found.days[1] <= 14


def test_last_dates_by_importance() -> None:
    floors = [catalogue.last_date_floor("heavy-strength", i) for i in ("main", "supporting", "train-through")]
    assert floors == [5, 4, 2]
    assert catalogue.last_date_floor("full-triple-jumps", "main") == 10
    assert catalogue.last_date_floor("speed-endurance", "main", "400 m") == 5
    assert catalogue.last_date_floor("mobility", "main") == 0


def test_return_stages() -> None:
    stages = catalogue.return_stages()
    assert [s.stage for s in stages] == list(range(7))
    assert [s.most_load for s in stages] == [0, 0, 1, 1, 2, 3, 3]
    assert catalogue.return_stage(3).most_load_once == 2
    assert catalogue.return_stage(4).amount == (60, 75)
    assert catalogue.return_stage(4).lighter_only
    assert catalogue.return_stage(5).more_hours == 24
    assert catalogue.return_stage(6).amount == (100, 100)
    for before, after in pairwise(stages):
        assert before.amount[1] <= after.amount[1]
        assert before.most_neural <= after.most_neural
    with pytest.raises(CatalogueError):
        catalogue.return_stage(7)
    assert "90 %" in catalogue.return_test("hamstring", 4)
    assert catalogue.return_test("shoulder", 4) == ""


def test_regions_without_a_load_of_their_own() -> None:
    assert catalogue.limit_regions("ankle") == catalogue.limit_regions("shin") == ("calf-achilles", "foot")
    assert catalogue.limit_regions("hip") == ("hamstring", "groin")
    assert catalogue.limit_regions("knee") == ("knee",)
    assert catalogue.limit_regions("illness") == catalogue.limit_regions("whole") == ()
    with pytest.raises(CatalogueError, match="elbow"):
        catalogue.limit_regions("elbow")
    jumps = catalogue.unit("full-long-jumps")
    assert catalogue.load_on(jumps, "ankle") == 3  # foot 3 over calf 2
    assert catalogue.load_on(jumps, "ankle", lighter=True) == 2
    assert catalogue.load_on(catalogue.unit("throws-technique"), "shoulder") == 3
    assert catalogue.load_on(jumps, "shoulder") == 0


def test_after_a_gap() -> None:
    assert [catalogue.amount_after_gap(d) for d in (2, 3, 6, 7, 13, 14, 27)] == [100, 75, 75, 60, 60, 50, 50]
    assert catalogue.amount_after_gap(28) is None
    assert catalogue.amount_after_gap(10, of_body=False) == 85
    rungs = catalogue.return_to_speed()
    assert rungs[0] == (6, 60, 60, 1)
    assert [r[2] for r in rungs] == sorted(r[2] for r in rungs)


def test_substitutions() -> None:
    found = catalogue.substitution("full-long-jumps", "place")
    assert found is not None
    assert found.ways == (("full-run-ups", "take-off-drills"),)
    assert found.note == "on a marked straight"
    left_out = catalogue.substitution("depth-jumps", "knee")
    assert left_out is not None
    assert left_out.ways == ()
    assert catalogue.substitution("mobility", "place") is None
    for name, missing in product(units(), ("place", "weather", "eyes", "hamstring", "lower-leg")):
        swap = catalogue.substitution(name, missing)
        for part in (p for way in (swap.ways if swap else ()) for p in way):
            assert catalogue.unit(part).demand.neural <= catalogue.unit(name).demand.neural


def test_what_gives_way_first() -> None:
    order = catalogue.gives_way()
    assert order[0].gives == "training together"
    should = [g.weight for g in order if g.tier == "should"]
    assert should == sorted(set(should)), "each next one is dearer"
    assert catalogue.below_minimum_factor() == 4


def test_key_families() -> None:
    jumper = catalogue.key_families("long jump", "advanced", "competition")
    assert jumper == ("run-ups", "top-speed", "strength")
    assert catalogue.key_families("sprint", "developing", "specific-preparation")[0] == "top-speed"
    assert catalogue.key_families("long jump", "novice", "pre-competition") == ("run-ups", "technical-jumps")
    assert catalogue.key_families("400 m", "advanced", "taper")[0] == "special-endurance"
    assert catalogue.key_families("400 m", "advanced", "transition") == ()
    # top speed is key in competition, and not planned in a novice's taper
    assert catalogue.key_families("sprint", "novice", "taper") == ("acceleration",)
    assert catalogue.importance("sprint", "advanced", "competition", "top-speed") == "key"
    assert catalogue.importance("sprint", "advanced", "competition", "tempo") == "supporting"
    assert catalogue.importance("sprint", "advanced", "competition", "general") == "if there is time"
    with pytest.raises(CatalogueError, match="phase"):
        catalogue.key_families("sprint", "advanced", "peak")


def test_hours_after_a_competition() -> None:
    assert catalogue.hours_after_competition("long jump") == (48, 72)
    assert catalogue.hours_after_competition("triple jump") == (72, 96)
    assert catalogue.hours_after_competition("60 m") == (48, 48)
    assert catalogue.hours_after_competition("80 m hurdles") == (72, 72)
    assert catalogue.hours_after_competition("decathlon") == (168, 168)
    assert catalogue.hours_to_neural_2_after_combined_events() == 120
    assert catalogue.hours_after_long_trip() == 24
    assert catalogue.competition_demand().neural == 3
