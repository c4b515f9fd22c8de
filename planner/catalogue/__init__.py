"""What can be trained, and how much of it: units, phases, weekly figures, limits, as data with sources.

The figures stand in `data/*.toml`, each file with its meaning, units and source at the top. All of them
are defaults that a coach may change. Loading is pure and cached; nothing here reads a clock. An error names
file and key.
"""

from planner.catalogue._events import (
    EVENT_TYPES,
    Event,
    event,
    event_type,
    has_own_table,
    technical_families,
)
from planner.catalogue._keys import importance, key_families
from planner.catalogue._ladders import (
    Ladder,
    LadderRules,
    LighterForm,
    Rung,
    hurdle_spacing,
    ladder_rules,
    ladders,
    run_up_steps,
)
from planner.catalogue._limits import (
    GivesWay,
    ReturnStage,
    Substitution,
    amount_after_gap,
    asked_of_a_stage,
    below_minimum_factor,
    gives_way,
    limit_regions,
    load_on,
    needs_to_advance,
    return_stage,
    return_stages,
    return_test,
    return_to_speed,
    substitutes,
    substitution,
)
from planner.catalogue._main_units import main_units
from planner.catalogue._names import any_in_words, family_in_words, unit_in_words
from planner.catalogue._own import own_unit
from planner.catalogue._phases import (
    PHASES,
    SEASON_SHAPES,
    Easing,
    Phase,
    SeasonShape,
    Taper,
    competition_demand,
    competitions_close_together,
    default_pattern,
    easing,
    hours_after_competition,
    hours_after_long_trip,
    hours_to_neural_2_after_combined_events,
    last_date_floor,
    loading_pattern,
    loading_patterns,
    phases,
    season_shape,
    taper,
    weekends_running,
)
from planner.catalogue._read import CatalogueError
from planner.catalogue._readiness import Readiness, readiness
from planner.catalogue._units import LIMIT_REGIONS, PLACE_KINDS, unit, units, units_from
from planner.catalogue._weeks import (
    WeeklyCaps,
    WeeklyCounts,
    count_sets,
    weekly_caps,
    weekly_counts,
    weekly_counts_for,
    weekly_volumes,
)

__all__ = [
    "EVENT_TYPES", "LIMIT_REGIONS", "PHASES", "PLACE_KINDS", "SEASON_SHAPES", "CatalogueError", "Easing",
    "Event", "GivesWay", "Ladder", "LadderRules", "LighterForm", "Phase", "Readiness", "ReturnStage", "Rung",
    "SeasonShape", "Substitution", "Taper", "WeeklyCaps", "WeeklyCounts", "amount_after_gap", "any_in_words",
    "asked_of_a_stage", "below_minimum_factor", "competition_demand", "competitions_close_together", "count_sets",
    "default_pattern", "easing", "event", "event_type", "family_in_words", "gives_way", "has_own_table",
    "hours_after_competition", "hours_after_long_trip",
    "hours_to_neural_2_after_combined_events", "hurdle_spacing", "importance", "key_families",
    "ladder_rules", "ladders", "last_date_floor", "limit_regions", "load_on", "loading_pattern",
    "loading_patterns", "main_units", "needs_to_advance", "own_unit", "phases", "readiness", "return_stage",
    "return_stages", "return_test", "return_to_speed", "run_up_steps", "season_shape", "substitutes",
    "substitution", "taper", "technical_families", "unit", "unit_in_words", "units", "units_from",
    "weekends_running",
    "weekly_caps", "weekly_counts", "weekly_counts_for", "weekly_volumes",
]  # fmt: skip
