"""Every unit of the catalogue is sane, and its figures are those a coach and the papers know."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner.catalogue import LIMIT_REGIONS, PLACE_KINDS, CatalogueError, own_unit, unit, units, units_from
from planner.domain.units import COUNTERS, FAMILIES, LEVELS, REGIONS, Unit

PREPARATION = {
    "run-up-starts", "take-off-drills", "landing-drills", "posture-drills", "running-drills",
    "penultimate-drills",
}  # fmt: skip
ORDERS = {
    "acceleration": {10}, "top-speed": {10}, "speed-endurance": {20}, "special-endurance": {40},
    "tempo": {40}, "run-ups": {10}, "technical-jumps": {10}, "full-jumps": {10}, "low-multi-jumps": {15},
    "high-multi-jumps": {15}, "hurdles": {10}, "throws": {12}, "strength": {30}, "general": {50},
    "recovery": {60}, "test": {10}, "preparation": {0},
}  # fmt: skip

each_unit = pytest.mark.parametrize("u", units().values(), ids=list(units()))


def test_the_catalogue_is_whole() -> None:
    # 50 usual units less competition and rest, seven additions, and trials of the other leg for two jumps
    assert len(units()) == 57
    assert {u.id for u in units().values() if u.preparation} == PREPARATION


@each_unit
def test_demand_lies_in_its_scales(u: Unit) -> None:
    for demand in (u.demand, u.lighter):
        assert 0 <= demand.neural <= 3
        assert 0 <= demand.metabolic <= 3
        assert set(demand.loads) == set(REGIONS)
        assert all(0 <= load <= 3 for load in demand.loads.values())
        assert 1 <= demand.effort[0] <= demand.effort[1] <= 10
        assert 5 <= demand.minutes[0] <= demand.minutes[1] <= 90
    assert set(u.counters) <= set(COUNTERS)
    assert set(u.lighter_counters or {}) <= set(COUNTERS)
    assert u.family in FAMILIES


@each_unit
def test_lighter_is_lighter(u: Unit) -> None:
    assert u.lighter.neural == max(0, u.demand.neural - 1)
    assert u.lighter.metabolic <= u.demand.metabolic
    for region in REGIONS:
        assert u.lighter.loads[region] <= max(0, u.demand.loads[region] - 1)
    assert u.lighter.effort[1] <= u.demand.effort[1]
    assert u.lighter.minutes[1] < u.demand.minutes[1]
    assert u.lighter_text


@each_unit
def test_amounts_rise_with_level_in_whole_increments(u: Unit) -> None:
    assert u.measure
    assert set(u.amounts) == set(LEVELS)
    previous = (0, 0)
    for level in LEVELS:
        found = u.amounts[level]
        assert found.low <= found.high
        assert found.low % u.increment == 0, "the low end is a whole number of increments"
        assert found.high - found.high % u.increment >= found.low
        assert previous[0] <= found.low
        assert previous[1] <= found.high
        previous = (found.low, found.high)
        if found.high == 0:
            continue
        eased = u.lighter_amount(level, found.high)
        assert eased > 0
        if not u.lighter_measure:
            assert eased <= found.high


@each_unit
def test_references_lead_somewhere(u: Unit) -> None:
    known = set(units())
    assert {name for name, _ in u.prepares} <= PREPARATION
    assert {*u.pairs_after, *u.avoid_with, *u.never_with} <= known
    for names, times, days in u.companions:
        assert set(names.split("|")) <= known
        assert 1 <= times <= days
    for other in u.avoid_with:
        assert u.id in unit(other).avoid_with, "a pair to avoid is told from both sides"
    for other in u.never_with:
        assert u.id in unit(other).never_with
    assert set(u.cautions) <= set(LIMIT_REGIONS)
    assert u.place_kinds
    assert set(u.place_kinds) <= set(PLACE_KINDS)


@each_unit
def test_place_in_the_day_and_words(u: Unit) -> None:
    assert u.order in ORDERS[u.family]
    assert u.source
    assert u.target
    assert u.preparation == (u.order == 0)
    if u.preparation:
        assert u.demand.neural <= 1
        assert not u.prepares
    if u.demand.neural >= 2:
        assert u.stop_rule, "every fast or jumping unit has its own stop rule"
        assert u.recovery
        assert u.hours_neural >= 24
    if u.family in ("strength", "tempo", "recovery", "general"):
        assert not u.prepares
    text = " ".join((u.name, u.purpose, u.lighter_text, u.stop_rule, u.recovery, u.target, u.limits_note))
    assert "_" not in text


# Figures of common practice in sprint and jump coaching, counted by hand from the coach's own tables.
AMOUNTS = [
    ("short-accelerations", "novice", 80, 120),
    ("short-accelerations", "advanced", 160, 240),
    ("long-accelerations", "developing", 150, 240),
    ("block-starts", "advanced", 8, 12),
    ("flying-sprints", "novice", 30, 60),
    ("flying-sprints", "developing", 60, 100),
    ("build-ups", "advanced", 300, 480),
    ("stick-runs", "developing", 6, 8),
    ("speed-endurance", "advanced", 300, 600),
    ("split-speed-endurance", "advanced", 600, 1600),
    ("special-endurance", "novice", 300, 450),
    ("long-special-endurance", "advanced", 700, 1400),
    ("intensive-tempo", "developing", 800, 1400),
    ("extensive-tempo", "advanced", 1200, 2400),
    ("easy-run", "novice", 8, 15),
    ("off-feet-conditioning", "advanced", 15, 30),
    ("full-run-ups", "advanced", 6, 10),
    ("relay-changeovers", "novice", 4, 6),
    ("take-off-drills", "developing", 30, 60),
    ("box-take-offs", "advanced", 10, 16),
    ("short-long-jumps", "developing", 10, 16),
    ("medium-long-jumps", "advanced", 8, 12),
    ("full-long-jumps", "novice", 3, 5),
    ("full-long-jumps", "advanced", 5, 8),
    ("triple-jump-phases", "developing", 40, 70),
    ("short-triple-jumps", "advanced", 10, 14),
    ("full-triple-jumps", "novice", 2, 4),
    ("full-high-jumps", "advanced", 10, 16),
    ("race-hurdles", "developing", 15, 30),
    ("throws-technique", "advanced", 20, 30),
    ("low-multi-jumps", "novice", 40, 80),
    ("extensive-bounds", "advanced", 80, 150),
    ("intensive-bounds", "developing", 24, 50),
    ("depth-jumps", "advanced", 25, 50),
    ("medicine-ball", "novice", 20, 40),
    ("run-up-pop-off", "developing", 3, 5),
    ("short-rest-runs", "developing", 120, 360),
    ("penultimate-drills", "developing", 20, 40),
]


@pytest.mark.parametrize(("name", "level", "low", "high"), AMOUNTS)
def test_amounts_of_common_practice(name: str, level: str, low: int, high: int) -> None:
    found = unit(name).amounts[level]  # type: ignore[index]
    assert (found.low, found.high) == (low, high)


# neural, metabolic, hamstring, calf-achilles, knee, low-back, foot, groin, hours neural, hours region
DEMANDS = {
    "flying-sprints": (3, 1, 3, 2, 1, 1, 2, 2, 48, 72),
    "special-endurance": (3, 3, 3, 2, 1, 1, 2, 2, 72, 72),
    "full-triple-jumps": (3, 1, 3, 3, 3, 3, 3, 2, 72, 96),
    "triple-jump-phases": (2, 1, 1, 3, 3, 2, 3, 1, 48, 48),
    "hurdle-rhythm": (2, 1, 2, 2, 1, 1, 2, 3, 24, 48),
    "heavy-strength": (2, 1, 2, 1, 2, 3, 0, 2, 48, 48),
    "depth-jumps": (3, 0, 1, 3, 3, 2, 2, 1, 72, 72),
    "extensive-tempo": (0, 2, 1, 1, 1, 0, 1, 1, 0, 24),
    "throws-technique": (1, 0, 0, 0, 1, 2, 0, 1, 12, 48),
    "robustness": (1, 0, 2, 2, 1, 1, 1, 2, 12, 48),
}


@pytest.mark.parametrize("name", DEMANDS)
def test_demands_of_common_practice(name: str) -> None:
    u = unit(name)
    loads = tuple(u.demand.loads[r] for r in REGIONS)
    found = (u.demand.neural, u.demand.metabolic, *loads, u.hours_neural, u.hours_region)
    assert found == DEMANDS[name]


def test_minutes_are_after_the_warm_up() -> None:
    assert unit("flying-sprints").demand.minutes == (50, 65)  # 75-90 with a warm-up of 25
    assert unit("heavy-strength").demand.minutes == (30, 50)  # 55-75
    assert unit("extensive-tempo").demand.minutes == (35, 50)  # stands as it is


# Haugen, Seiler, Sandbakk, Tønnessen 2019, Sports Medicine - Open 5:44, table of best practice, elite:
# most metres of a session, and the hours to the next hard session as a range.
HAUGEN = [
    ("short-accelerations", 300, (24, 48)),  # 24 h for less than a full acceleration session
    ("long-accelerations", 300, (48, 48)),
    ("resisted-accelerations", 200, (48, 48)),
    ("flying-sprints", 150, (48, 72)),
    ("speed-endurance", 900, (48, 72)),
    ("split-speed-endurance", 2000, (48, 72)),
]


@pytest.mark.parametrize(("name", "most", "hours"), HAUGEN)
def test_running_stays_inside_the_published_table(name: str, most: int, hours: tuple[int, int]) -> None:
    u = unit(name)
    assert u.measure == "metres"
    assert u.amounts["advanced"].high <= most
    assert u.amounts["novice"].high < u.amounts["advanced"].high
    assert hours[0] <= u.hours_neural <= hours[1]
    assert "Haugen" in u.source


def test_advanced_running_reaches_into_the_published_table() -> None:
    # the same table: least metres of a session of elite sprinters
    least = {
        "short-accelerations": 100, "long-accelerations": 100, "resisted-accelerations": 50,
        "flying-sprints": 50, "speed-endurance": 300, "split-speed-endurance": 600, "extensive-tempo": 1000,
    }  # fmt: skip
    for name, metres in least.items():
        assert unit(name).amounts["advanced"].low >= metres
    assert unit("extensive-tempo").hours_region == 24


def test_what_jumps_count_as() -> None:
    triple = unit("full-triple-jumps")
    assert triple.counters["take-offs"] == 300
    assert triple.take_off_share == 67  # two contacts of three on the hop leg
    assert unit("full-long-jumps").take_off_share == 100
    assert unit("full-run-ups").counters == {"run-ups": 100, "quick-metres": 3000}
    assert unit("block-starts").counters["fast-metres"] == 1500


def test_the_lighter_row_is_what_paper_prints() -> None:
    fly = unit("flying-sprints")
    assert fly.lighter_amount("advanced", 80) == 240  # 4 build-ups of 60 m
    assert fly.counted("lighter") == {"quick-metres": 100}
    assert fly.counted("full") == {"fast-metres": 100}
    assert unit("extensive-bounds").lighter_amount("novice", 30) == 30
    assert unit("short-accelerations").lighter_amount("novice", 90) == 40  # half, in whole tens
    jumps = unit("full-long-jumps")
    counted = {c: 4 * per // 100 for c, per in jumps.counted("lighter").items()}
    assert counted["run-ups"] == 4
    assert counted["short-jumps"] == 3  # and three pop-ups


def test_gates_of_age_and_training() -> None:
    assert (unit("depth-jumps").least_age, unit("depth-jumps").least_training_years) == (15, 2)
    assert unit("long-special-endurance").least_age == 15
    assert unit("medium-triple-jumps").least_age == 14
    assert unit("full-run-ups").harder_from == (6, 3)
    assert unit("short-accelerations").harder_from == (200, 3)


def test_limits_that_take_a_unit_out() -> None:
    assert unit("flying-sprints").removed_by("hamstring", 3)
    assert not unit("flying-sprints").removed_by("hamstring", 4)
    assert not unit("flying-sprints").removed_by("knee", 0)
    assert unit("build-ups").removed_by("hamstring", 2)
    assert not unit("build-ups").removed_by("hamstring", 3)
    assert unit("testing").removed_by("groin", 4)
    trial = unit("trial-long-jumps")  # of the right leg, where the left one is the take-off leg
    assert trial.removed_by("knee", 3, "right", "left") and trial.removed_by("knee", 3, "both", "left")
    assert not trial.removed_by("knee", 3, "left", "left") and trial.removed_by("knee", 2, "left", "left")
    assert trial.removed_by("low-back", 3, "left", "left")


def test_unknown_unit_offers_the_nearest() -> None:
    with pytest.raises(CatalogueError, match="flying-sprints"):
        unit("flying-sprint")


def test_a_broken_file_names_file_and_key(tmp_path: Path) -> None:
    source = Path(units_from.__code__.co_filename).parent / "data" / "units.toml"
    text = source.read_text(encoding="utf-8")
    text = text.replace('family = "top-speed"', 'family = "top speed"', 1)
    text = text.replace("effort = [6, 7]", "effort = [7, 6]", 1)
    text = text.replace('pairs_after = ["heavy-strength"]', 'pairs_after = ["heavy-lifting"]', 1)
    text = text.replace("[own-work]\n", "[own-work]\ncolour = 3\n")
    broken = tmp_path / "units.toml"
    broken.write_text(text, encoding="utf-8")
    with pytest.raises(CatalogueError) as caught:
        units_from(broken)
    told = "\n".join(caught.value.problems)
    assert len(caught.value.problems) == 4, "all problems at once"
    for part in ("flying-sprints.family", "long-accelerations.effort", "heavy-lifting", "own-work.colour"):
        assert part in told
    assert all(p.startswith("units.toml, ") for p in caught.value.problems)


def test_a_missing_or_unreadable_file_is_told(tmp_path: Path) -> None:
    with pytest.raises(CatalogueError, match=r"units\.toml"):
        units_from(tmp_path / "units.toml")
    (tmp_path / "bad.toml").write_text("[a\n", encoding="utf-8")
    with pytest.raises(CatalogueError, match=r"bad\.toml"):
        units_from(tmp_path / "bad.toml")


def test_a_coachs_own_unit_takes_what_it_leaves_out() -> None:
    row = {"id": "power-skips", "like": "low-multi-jumps", "neural": 2, "knee": 2, "amount_low": 30,
           "amount_high": 90, "place_kinds": "grass; track", "eyes": None, "shoes": ""}  # fmt: skip
    own = own_unit(row)
    assert own.name == "Power skips"
    assert own.demand.neural == 2
    assert own.lighter.neural == 1
    assert own.lighter.loads["knee"] == 1
    assert (own.amounts["novice"].low, own.amounts["advanced"].high) == (30, 90)
    assert own.place_kinds == ("grass", "track")
    assert own.counters == {"low-contacts": 100}
    assert own.shoes == unit("low-multi-jumps").shoes


def test_a_changed_unit_keeps_its_lighter_row() -> None:
    own = own_unit({"id": "flying-sprints", "advanced_high": 120})
    assert own.amounts["advanced"].high == 120
    assert own.lighter == unit("flying-sprints").lighter
    assert own.lighter_amount("advanced", 120) == 240


def test_an_own_unit_in_other_measure_counts_what_it_says() -> None:
    row = {"id": "hill-bounds", "like": "extensive-bounds", "measure": "runs", "increment": 1,
           "amount_low": 4, "amount_high": 8, "low-contacts": 18}  # fmt: skip
    own = own_unit(row)
    assert own.counters == {"low-contacts": 1800}
    assert own.lighter_amount("advanced", 8) == 4
    assert own.counted("lighter") == {"low-contacts": 1800}


def test_an_own_unit_tells_every_problem() -> None:
    with pytest.raises(CatalogueError) as caught:
        own_unit({"id": "x", "like": "easy-run", "neural": 4, "knees": 1, "amount_low": 9, "amount_high": 5,
                  "place_kinds": "moon"}, where="block.yaml, line 9")  # fmt: skip
    told = "\n".join(caught.value.problems)
    assert all(p.startswith("block.yaml, line 9") for p in caught.value.problems)
    for part in ("neural", "knees", "high", "moon"):
        assert part in told
    with pytest.raises(CatalogueError, match="like"):
        own_unit({"id": "x", "like": "no-such-unit"})


def test_a_lighter_row_that_is_another_exercise_has_a_name_of_its_own() -> None:
    hops = unit("depth-jumps")
    assert hops.called("full") == "High hurdle hops and depth jumps"
    assert hops.called("lighter") == "Low hurdle hops" and hops.called_short("lighter") == "low hurdle hops"
    assert unit("extensive-tempo").called("lighter") == unit("extensive-tempo").name
    for u in units().values():
        if u.lighter_measure:
            assert u.lighter_name, f"{u.id}: what is counted otherwise is called otherwise"
        assert bool(u.lighter_name) == bool(u.lighter_short) and len(u.lighter_short) <= 16
        assert u.lighter_name != u.name


def test_a_coachs_own_lighter_words_end_the_catalogues_name() -> None:
    own = own_unit({"id": "depth-jumps", "lighter_text": "10 small skips"})
    assert own.called("lighter") == own.name and own.called_short("lighter") == own.short
    assert own_unit({"id": "depth-jumps", "eyes": 2}).called("lighter") == "Low hurdle hops"
