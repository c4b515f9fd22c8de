"""Published and derived figures for tapers and for the impulse-response model."""

from __future__ import annotations

import math

from planner.science import response as r
from planner.science import taper
from tests.science.published import Row, judge, parametrised

MORTON = "Morton, Fitz-Clarke, Banister 1990, Journal of Applied Physiology 69(3):1171-1177"
FITZ = "Fitz-Clarke, Morton, Banister 1991, Journal of Applied Physiology 71(3):1151-1158"
HELLARD = "Hellard P and others 2006, Journal of Sports Sciences 24(5):509-520"
CLOSED = f"derived from closed forms of {FITZ} (formulas and parameters from memory)"
A, B = r.CLASSIC, r.OFTEN_QUOTED
BLOCK = [1.0] * 28


def _effect(found: taper.Effect) -> tuple[float, float, float, bool]:
    return found.effect, found.low, found.high, found.from_memory


def _kind(of: str, kind: str) -> tuple[float, float, float, bool]:
    return _effect(next(e for e in taper.EFFECTS if e.of == of and e.kind == kind))


def _shares(tau: float) -> tuple[float, float]:
    shares = taper.little_by_little(14, tau)
    return taper.mean_share(shares), taper.cut_percent(shares)


def _after(shares: list[float]) -> float:
    return r.form(BLOCK + shares, A)[-1]


def _tapers(tau: float) -> tuple[float, float]:
    shares = taper.little_by_little(14, tau)
    return _after(shares), _after(taper.one_step(14, taper.mean_share(shares)))


def _best(response: r.Response, days: int) -> tuple[float, int]:
    loads = r.best_loads(response, [0.0] * days, [1.0] * days)
    off = loads[::-1].index(1.0)
    assert loads == [1.0] * (days - off) + [0.0] * off
    return r.form(loads, response)[-1], off


def _always(response: r.Response, days: int) -> float:
    return r.form([1.0] * days, response)[-1]


def _gap(response: r.Response) -> float:
    return r.helps_most_at_days(response) - r.lowers_within_days(response)


def _sums() -> tuple[float, float]:
    slow, quick = r.sums(BLOCK, A)
    return slow[-1], quick[-1]


def _double_sum(loads: list[float], response: r.Response) -> list[float]:
    return [
        sum(
            w * (response.gain * math.exp(-(n - i) / response.slow_days)
                 - response.tiring * math.exp(-(n - i) / response.quick_days))
            for i, w in enumerate(loads[:n])
        )
        for n in range(len(loads) + 1)
    ]  # fmt: skip


UNEVEN = [float((7 * day * day + 3 * day) % 11) for day in range(80)]

ROWS = [
    Row("3.1 volume cut 41-60 %", taper.BOSQUET_2007, lambda: _effect(taper.effect_of_cut(50)), (),
        (0.72, 0.72 - 0.36, 0.72 + 0.36, False), 1e-9),
    Row("3.1 two weeks", taper.BOSQUET_2007, lambda: _effect(taper.effect_of_days(14)), (),
        (0.59, 0.59 - 0.33, 0.59 + 0.33, False), 1e-9),
    Row("3.1 intensity kept", taper.BOSQUET_2007, _kind, ("intensity", "kept"),
        (0.33, 0.33 - 0.14, 0.33 + 0.14, False), 1e-9),
    Row("3.1 frequency kept", taper.BOSQUET_2007, _kind, ("frequency", "kept"),
        (0.35, 0.35 - 0.17, 0.35 + 0.17, False), 1e-9),
    *(Row(f"3.2 {of} {kind}", f"from memory: {taper.BOSQUET_2007}", _kind, (of, kind), (*figures, True))
      for of, kind, figures in (
          ("volume cut, %", "20 or less", (-0.02, -0.32, 0.27)),
              ("volume cut, %", "21-40", (0.27, 0.04, 0.49)),
          ("volume cut, %", "more than 60", (0.27, -0.03, 0.56)), ("days", "7 or fewer", (0.17, -0.05, 0.38)),
          ("days", "15-21", (0.28, -0.02, 0.59)), ("days", "22 or more", (0.31, -0.14, 0.75)),
          ("intensity", "lowered", (-0.02, -0.37, 0.33)), ("frequency", "lowered", (0.24, -0.03, 0.52)),
          ("form", "one step", (0.42, -0.11, 0.95)), ("form", "little by little", (0.30, 0.16, 0.45)))),
    Row("3.3 limits of a review", taper.MUJIKA_PADILLA_2003,
        lambda: (taper.REVIEW_MOST_VOLUME_CUT, taper.REVIEW_MOST_FREQUENCY_CUT, taper.REVIEW_DAYS,
        taper.REVIEW_GAIN_PERCENT), (), ((60, 90), 20, (4, 28), (0.5, 3.0, 6.0))),
    Row("3.4 endurance athletes", taper.WANG_2023,
        lambda: (taper.ENDURANCE_MOST_DAYS, taper.ENDURANCE_VOLUME_CUT), (), (21, (41, 60))),
    Row("3.5 simulated, no overload", taper.THOMAS_BUSSO_2005,
        lambda: taper.SIMULATED_STEP["without overload"], (), ((30.8, 11.8), (19.3, 2.3))),
    Row("3.5 simulated, after overload", taper.THOMAS_BUSSO_2005,
        lambda: taper.SIMULATED_STEP["after 28 days at +20 %"], (), ((39.3, 9.9), (28.0, 5.1))),
    Row("3.5 little by little beats one step only after overload", taper.THOMAS_BUSSO_2005,
        lambda: taper.SIMULATED_AFTER_OVERLOAD, (), {"little by little": (102.2, 1.7),
        "one step": (101.8, 1.5)}),
    Row("3.6 field trial", taper.BANISTER_1999, lambda: sorted(taper.FIELD_TRIAL_TAU_DAYS.values()), (),
        [4, 5, 8]),
    Row("3.7 tau 4", "derived", _shares, (4,), (0.2439, 75.6), 0.05),
    Row("3.7 tau 4, share", "derived", lambda: _shares(4)[0], (), 0.2439, 5e-5),
    Row("3.7 tau 5, share", "derived", lambda: _shares(5)[0], (), 0.3030, 5e-5),
    Row("3.7 tau 8, share", "derived", lambda: _shares(8)[0], (), 0.4432, 5e-5),
    Row("3.7 tau 8, cut", "derived", lambda: _shares(8)[1], (), 55.7, 0.05),
    *(Row(f"3.7 tau {tau}, without steps", "derived", taper.mean_share_running, (14, tau), share, 5e-5)
      for tau, share in ((4, 0.2771), (5, 0.3354), (8, 0.4721))),
    *(Row(f"3.9 tau {tau} against one step of the same total", f"derived from {MORTON}", _tapers, (tau,),
        both, 5e-5)
      for tau, both in ((4, (4.7692, 4.0681)), (5, (4.4757, 3.7309)), (8, (3.6728, 2.9310)))),
    Row("3.9 end of the block", "derived", _after, ([],), -3.9094, 5e-5),
    Row("3.9 42 days without a taper", "derived", _after, ([1.0] * 14,), -0.2450, 5e-5),
    Row("3.9 complete rest", "derived", _after, ([0.0] * 14,), 5.4594, 5e-5),
    Row("4.1 lowers within", CLOSED, r.lowers_within_days, (A,), 15.596, 5e-4),
    Row("4.1 helps most at", CLOSED, r.helps_most_at_days, (A,), 40.315, 5e-4),
    Row("4.1 published rounded results", f"{FITZ}: about 16 and 40 days, from memory",
        lambda: (round(r.lowers_within_days(A)), round(r.helps_most_at_days(A))), (), (16, 40)),
    Row("4.1 steady gain", "derived", r.steady_gain, (A,), 15.4907, 5e-5),
    Row("4.1 influence at 15 days", "derived", r.influence, (A, 15), -0.01923, 5e-6),
    Row("4.1 influence at 16 days", "derived", r.influence, (A, 16), 0.01248, 5e-6),
    Row("4.2 lowers within", CLOSED, r.lowers_within_days, (B,), 5.822, 5e-4),
    Row("4.2 helps most at", CLOSED, r.helps_most_at_days, (B,), 20.873, 5e-4),
    Row("4.2 steady gain", "derived", r.steady_gain, (B,), 28.4782, 5e-5),
    Row("4.2 influence at 5 days", "derived", r.influence, (B, 5), -0.09132, 5e-6),
    Row("4.2 influence at 6 days", "derived", r.influence, (B, 6), 0.01813, 5e-6),
    Row("4.5 distance of the two days, first set", "derived", _gap, (A,), 24.719, 5e-4),
    Row("4.5 distance of the two days, second set", "derived", _gap, (B,), 15.051, 5e-4),
    Row("4.5 whatever the gains", "derived", _gap, (r.Response(45, 15, 0.7, 3.1),), 24.719, 5e-4),
    Row("4.6 best of 56 days, first set",
        "derived from the sign of the influence; Ceddia, Bondell, Taylor 2025, arXiv 2505.20859",
        lambda: _best(A, 56)[0], (), 9.0871, 5e-5),
    Row("4.6 days off, first set", "derived", lambda: _best(A, 56)[1], (), 15),
    Row("4.6 always on, first set", "derived", _always, (A, 56), 3.3635, 5e-5),
    Row("4.6 best of 56 days, second set", "derived", lambda: _best(B, 56)[0], (), 19.5329, 5e-5),
    Row("4.6 days off, second set", "derived", lambda: _best(B, 56)[1], (), 5),
    Row("4.6 always on, second set", "derived", _always, (B, 56), 17.5427, 5e-5),
    Row("4.7 best of 28 days, first set", "derived", lambda: _best(A, 28)[0], (), 1.8142, 5e-5),
    Row("4.7 always on, first set", "derived", _always, (A, 28), -3.9094, 5e-5),
    Row("4.7 best of 28 days, second set", "derived", lambda: _best(B, 28)[0], (), 9.3990, 5e-5),
    Row("4.7 always on, second set", "derived", _always, (B, 28), 7.4089, 5e-5),
    Row("4.8 sums after 28 days", "derived", _sums, (), (20.61547, 12.26244), 5e-6),
    Row("4.8 rest to the peak", "derived", lambda: r.peak_after_rest(BLOCK, A)[0], (), 28.626, 5e-4),
    Row("4.8 height of the peak", "derived", lambda: r.peak_after_rest(BLOCK, A)[1], (), 7.27502, 5e-6),
    Row("4.9 recursion equals the double sum", "derived", r.form, (UNEVEN, A), _double_sum(UNEVEN, A), 1e-9),
    Row("4.10 how wide the band is", HELLARD, lambda: (r.SLOW_RANGE_DAYS, r.QUICK_RANGE_DAYS,
        r.LOWERS_RANGE_DAYS, r.HELPS_MOST_RANGE_DAYS), (), ((17, 38, 59), (6, 19, 32), (7, 19, 35),
        (25, 43, 61))),
    Row("4.10 the mean constants lower within the mean days", f"derived from {HELLARD}",
        lambda: r.lowers_within_days(r.Response(38, 19, 1, r.TIRING_RATIO)), (), 19.0, 1e-9),
]  # fmt: skip


@parametrised(ROWS)
def test_row(row: Row) -> None:
    judge(row)


def test_little_by_little_stands_above_one_step_in_the_linear_model() -> None:
    """Row 3.9 as an order: rest > tau 4 > tau 5 > tau 8, each above one step with the same total."""
    curves = [_tapers(tau) for tau in (4, 5, 8)]
    assert [pair[0] for pair in curves] == sorted((pair[0] for pair in curves), reverse=True)
    assert all(progressive > step for progressive, step in curves)
    assert _after([0.0] * 14) > curves[0][0] > _after([1.0] * 14) > _after([])


def test_influence_changes_sign_where_the_closed_form_says() -> None:
    for response in (A, B):
        at = r.lowers_within_days(response)
        assert r.influence(response, at - 0.01) < 0 < r.influence(response, at + 0.01)
        top = r.helps_most_at_days(response)
        assert r.influence(response, top) > max(r.influence(response, top - 1),
            r.influence(response, top + 1))


def test_the_band_contains_its_own_middle_and_shows_doubt() -> None:
    band = r.shape([1.0] * 28 + [0.2] * 14)
    assert len(band) == 43
    assert all(-1 <= day.low <= day.middle <= day.high <= 1 for day in band)
    assert max(day.high - day.low for day in band) > 0.5
    assert all(day == r.Shape(0, 0, 0) for day in r.shape([0.0] * 5))


def test_the_band_is_made_of_eight_published_sets() -> None:
    """Two often quoted sets, and those pairs of Hellard's constants in which training helps at all."""
    assert r.BAND[:2] == (A, B)
    made = {(one.slow_days, one.quick_days) for one in r.BAND[2:]}
    assert made == {(17, 6), (38, 6), (38, 19), (59, 6), (59, 19), (59, 32)}
    assert all((one.gain, one.tiring) == (1.0, r.TIRING_RATIO) for one in r.BAND[2:])
    assert all(r.steady_gain(one) > 0 for one in r.BAND)


def test_lower_bounds_may_fill_a_week_or_the_total_exactly() -> None:
    assert r.best_loads(A, [0.5] * 7, [1.0] * 7, week_total=3.5) == [0.5] * 7
    assert r.best_loads(A, [0.5] * 7, [1.0] * 7, total=3.5) == [0.5] * 7
    assert r.best_loads(A, [0.1] * 7, [1.0] * 7, total=0.7) == [0.1] * 7
