"""What the arithmetic says when it is asked for what cannot be: one sentence, and what is needed."""

from __future__ import annotations

import math

from planner.domain.errors import Told


class OutOfReach(Told, ValueError):
    """A figure that no formula here can take. `str()` is what the coach reads: found, needed, 'Maybe ...'."""


def within(
    value: float, low: float, high: float, what: str, unit: str = "", maybe: str = ""
) -> float:
    """The value itself when it is a real number from `low` to `high`, both included.

    `what` names it in the plural or singular with its verb ('the wind is'), `unit` stands after each figure,
    `maybe` is the remedy. Raises OutOfReach otherwise, also for 'not a number' and the infinite.
    """
    if math.isfinite(value) and low <= value <= high:
        return value
    tail = f" {unit}" if unit else ""
    found = f"{_plain(value)}{tail}" if math.isfinite(value) else "not a number"
    needed = f"{low:g} to {high:g}{tail}" if math.isfinite(high) else f"{low:g}{tail} or more"
    remedy = f" Maybe {maybe}" if maybe else ""
    raise OutOfReach(f"{what} {found}, needed {needed}.{remedy}")


def _plain(value: float) -> str:
    """A figure without a power of ten, however large: this is read on paper."""
    said = f"{value:g}"
    return f"{value:.0f}" if "e+" in said else said


def above(value: float, low: float, what: str, unit: str = "", maybe: str = "") -> float:
    """The value itself when it is a real number greater than `low`; OutOfReach otherwise."""
    if math.isfinite(value) and value > low:
        return value
    tail = f" {unit}" if unit else ""
    found = f"{_plain(value)}{tail}" if math.isfinite(value) else "not a number"
    remedy = f" Maybe {maybe}" if maybe else ""
    raise OutOfReach(f"{what} {found}, needed more than {low:g}{tail}.{remedy}")
