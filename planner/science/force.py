"""Horizontal force against speed from a fitted sprint, with air drag.

Source: Samozino P, Rabita G, Dorel S, Slawinski J, Peyrot N, Saez de Villarreal E, Morin JB 2016, A simple
method for measuring power, force, velocity properties, and mechanical effectiveness in sprint running,
Scandinavian Journal of Medicine and Science in Sports 26(6):648-658 (drag formula from memory). Estimates
from a model, not measurements of force.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from planner.science.errors import within
from planner.science.sprint import Sprint


@dataclass(frozen=True)
class Body:
    """Mass in kilograms and height in metres. Never printed on a shared sheet."""

    mass_kg: float
    height_m: float

    def __post_init__(self) -> None:
        within(self.mass_kg, 20, 250, "the mass is", "kg", "pounds were meant.")
        within(self.height_m, 1, 2.5, "the height is", "m", "centimetres were meant.")


def frontal_area_m2(body: Body) -> float:
    """Area that meets the air, in square metres: 0.2025 x height^0.725 x mass^0.425 x 0.266."""
    return 0.2025 * math.pow(body.height_m, 0.725) * math.pow(body.mass_kg, 0.425) * 0.266


def air_density_kg_m3(celsius: float = 25.0, mmhg: float = 760.0) -> float:
    """Density of air in kilograms per cubic metre: 1.293 x (pressure / 760) x 273 / (273 + temperature)."""
    within(celsius, -40, 60, "the air is", "°C")
    within(mmhg, 400, 820, "the air pressure is", "mmHg", "hectopascals were meant: times 0.75.")
    return 1.293 * (mmhg / 760) * 273 / (273 + celsius)


def drag_per_speed_squared(body: Body, celsius: float = 25.0, mmhg: float = 760.0) -> float:
    """The drag constant in newtons per (metre per second) squared: 0.5 x density x area x 0.9."""
    return 0.5 * air_density_kg_m3(celsius, mmhg) * frontal_area_m2(body) * 0.9


def drag_n(body: Body, speed_mps: float, celsius: float = 25.0, mmhg: float = 760.0) -> float:
    """Air drag in newtons at a speed in still air."""
    within(speed_mps, 0, 14, "the speed is", "m/s")
    return drag_per_speed_squared(body, celsius, mmhg) * speed_mps**2


@dataclass(frozen=True)
class ForceSpeed:
    """Straight line from the force at no speed (N) to the speed at no force (m/s)."""

    force_n: float
    speed_mps: float
    mass_kg: float

    @property
    def power_w(self) -> float:
        """Highest power on the line, in watts: force x speed / 4."""
        return self.force_n * self.speed_mps / 4

    @property
    def slope_per_kg(self) -> float:
        """Newtons per kilogram lost for each metre per second more."""
        return -self.force_n / self.mass_kg / self.speed_mps


def force_speed(sprint: Sprint, body: Body, celsius: float = 25.0, mmhg: float = 760.0) -> ForceSpeed:
    """Force at the start and the speed at which force would be nothing.

    Force is mass x acceleration + drag, and acceleration falls in a straight line with speed, so the speed of
    no force solves drag x v^2 - (mass x first / top) x v + mass x first = 0; derived.
    """
    force = body.mass_kg * sprint.first_mps2
    drag = drag_per_speed_squared(body, celsius, mmhg)
    slope = force / sprint.top_mps
    under = within(slope**2 - 4 * drag * force, 0, math.inf, "the room left by air drag is")
    return ForceSpeed(force, 2 * force / (slope + math.sqrt(under)), body.mass_kg)
