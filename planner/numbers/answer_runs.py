"""Answers about running and lifting: a sprint curve, targets, single lifts, wind."""

from __future__ import annotations

from collections.abc import Sequence
from typing import get_args

from planner.numbers.answer import Answer
from planner.numbers.errors import NoNumber
from planner.numbers.lines import band, kilograms, metres, rest_words, seconds
from planner.numbers.marks import Best
from planner.science.errors import OutOfReach
from planner.science.pace import hand_as_gates, rest_for, target_band
from planner.science.sprint import Free, Split, fit, speed_at_distance, time_at, time_doubt_s
from planner.science.strength import FORMULAS, best_single, load_at, percent_for
from planner.science.wind import WORTH, WindEvent, still_time_100m, worth

PERCENTS = (100, 98, 95, 92, 90, 85, 80, 75, 70)
CURVE_M = (10, 20, 30, 40, 50, 60)
FROM_SPLITS = "the splits of one run; another day differs by more than these errors say, and the curve never slows"
FIT_SOURCE = (
    "Furusawa, Hill, Parkinson 1927, Proceedings of the Royal Society B 102:29-42; Samozino and others 2016, "
    "Scandinavian Journal of Medicine and Science in Sports 26(6):648-658"
)


def sprint_fit(splits: Sequence[Split], free: str = "nothing", of: str = "") -> Answer:
    """The curve that fits the splits, its times and speeds, with errors; `of` says whose splits they are."""
    if free not in get_args(Free):
        raise NoNumber(f"--free: found '{free}', needed one of: {', '.join(get_args(Free))}. Maybe leave it out.")
    found = fit(splits, free=free)  # type: ignore[arg-type]
    run, far = found.sprint, max(s.metres for s in splits)
    rows = [("splits", of)] if of else []
    rows += [
        ("top speed", f"{run.top_mps:.2f} m/s, give or take {found.top_error_mps:.2f}"),
        ("first acceleration", f"{run.first_mps2:.2f} m/s per s, give or take {found.first_error_mps2:.2f}"),
        ("time constant", f"{run.tau_s:.2f} s"),
        ("rest of the fit", f"{found.residual_error_s:.3f} s"),
    ]
    if free == "time shift":
        rows.append(("time shift", f"{found.shift_s:.2f} s, give or take {found.free_error:.2f}"))
    if free == "flying distance":
        rows.append(("flying distance", f"{found.flying_m:.2f} m, give or take {found.free_error:.2f}"))
    curve = {}
    for m in (d for d in CURVE_M if d <= far * 1.25):
        time, doubt = time_at(run, m), time_doubt_s(found, m)
        speed = speed_at_distance(run, m)
        rows.append((f"{m} m", f"{time:.2f} s, give or take {doubt:.2f}; {speed:.2f} m/s there"))
        curve[str(m)] = round(time, 3)
    return Answer(
        "Sprint from splits", tuple(rows),
        "speed nears its top: top x (1 - exp(-time / time constant)); least squares on the times",
        FIT_SOURCE, FROM_SPLITS,
        {"top_mps": run.top_mps, "tau_s": run.tau_s, "residuals_s": list(found.residuals_s), "times_s": curve},
    )  # fmt: skip


def sprint_targets(metres_: int, best: Best, percent: tuple[int, int] | None = None) -> Answer:
    """Target times from a best over the same distance, start, surface and timing."""
    if best.value * 14 < metres_ * 100:
        raise OutOfReach(
            f"{seconds(best.value)} s over {metres_} m is faster than anybody runs, needed the best over this "
            "distance. Maybe it belongs to another distance."
        )
    wanted = [percent] if percent else [(p, p) for p in PERCENTS]
    rows = [("best", f"{seconds(best.value)} s ({best.words})")]
    data: dict[str, object] = {"best_hundredths": best.value, "metres": metres_}
    for low, high in wanted:
        quick, slow = target_band(best.value, low, high)
        said = f"{low} %" if low == high else f"{low}-{high} %"
        rest = rest_for(max(50, min(105, low)), min(500, max(10, metres_)))
        rows.append((said, f"{band(quick, slow, 'hundredths')}; rest {rest_words(rest.repetitions)}"))
        data[said] = [quick, slow]
    if best.hand:
        rows.append(("by gates", f"about {seconds(hand_as_gates(best.value))} s would have been shown"))
    return Answer(
        f"Targets over {metres_} m", tuple(rows),
        "target time = best time / share of speed; best from the same start, surface, shoes and timing",
        "derived; rests common practice, no source, where not Haugen and others 2019, Sports Medicine - Open 5:44",
        best.doubt or "a percentage of a mark on a good day; the day's first runs decide",
        data,
    )  # fmt: skip


def strength(half_kg: int, repetitions: int, percent: tuple[int, int] | None = None) -> Answer:
    """The best single lift as a range, and loads for the bar at percentages of its middle."""
    found = best_single(half_kg / 2, repetitions)
    rows = [("lifted", f"{kilograms(half_kg)} kg x {repetitions}")]
    if repetitions > 1:
        rows.append(("best single", f"{found.low_kg:.1f}-{found.high_kg:.1f} kg, middle {found.middle_kg:.1f}"))
    middle = round(found.middle_kg * 2)
    loads = {}
    for share in range(percent[0], percent[1] + 1, 5) if percent else range(95, 60, -5):
        load = load_at(middle, share)
        loads[str(share)] = load / 2
        rows.append((f"{share} %", f"{kilograms(load)} kg"))
    usual = percent_for(repetitions)
    rows.append((f"{repetitions} repetitions", f"usually worth {usual} % of the best single"))
    return Answer(
        "Best single lift and loads", tuple(rows),
        f"the middle of {len(FORMULAS)} published formulas; loads rounded to 2.5 kg, half-way down",
        "; ".join(FORMULAS) + "; full references stand with the formulas",
        "formulas part by nearly 10 kg at ten repetitions of 100 kg; they differ by lift and athlete; "
        "novices do not "
        "test a maximum",
        {"low_kg": found.low_kg, "middle_kg": found.middle_kg, "high_kg": found.high_kg, "loads_kg": loads},
    )  # fmt: skip


def wind(event: str, mark: int, unit: str, wind_mps: float, altitude_m: float = 0.0) -> Answer:
    """What a wind was worth. `mark` in hundredths of a second or centimetres."""
    running = unit == "hundredths"
    if event not in WORTH and "hurdles" not in event:
        raise NoNumber(
            f"no wind figures are published for '{event}', needed one of: {', '.join(sorted(WORTH))}. "
            "Maybe mind the spelling."
        )
    if event in ("long jump", "triple jump") and running:
        raise NoNumber(
            f"a time for the {event}, needed a length such as 6.35 m. Maybe the mark is another "
            f"event's."
        )
    if event not in ("long jump", "triple jump") and not running:
        raise NoNumber(
            f"a length for the {event}, needed a time such as 11.92 s. Maybe the mark is another "
            f"event's."
        )
    named: WindEvent = "hurdles" if "hurdles" in event else event  # type: ignore[assignment]
    gain = worth(named, wind_mps, mark / 100 if named == "100 m" else None)
    sign = "gave" if gain >= 0 else "took"
    rows = [("mark", f"{seconds(mark)} s" if running else f"{metres(mark)} m"), ("wind", f"{wind_mps:+.1f} m/s"),
            ("the wind " + sign, f"{abs(gain):.2f} {'s' if running else 'm'}")]  # fmt: skip
    still = mark / 100 + gain if running else mark / 100 - gain
    rows.append(("in still air about", f"{still:.2f} {'s' if running else 'm'}"))
    data: dict[str, object] = {"gain": gain, "still": still, "unit": "s" if running else "m"}
    if named == "100 m":
        other = still_time_100m(mark / 100, wind_mps, altitude_m)
        rows.append(("by another model", f"{other:.2f} s" + (f" at {altitude_m:g} m" if altitude_m else "")))
        data["still_other_s"] = other
    return Answer(
        f"Wind, {event}", tuple(rows),
        "a straight and a squared term of the wind, fitted to 150,169 results; another model from air drag",
        "Moinat, Fabius, Emanuel 2018, European Journal of Sport Science 18(9):1185-1190; Mureika 2001, arXiv "
        "physics/0006057",
        "estimates: models part by some 0.015 s at +2.0 m/s; no corrected mark is official",
        data,
    )  # fmt: skip
