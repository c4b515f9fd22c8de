"""Words of effort, for athletes without the mark a number would need. Common practice, no source."""

from __future__ import annotations

# From this percent of own best speed on: what it feels like.
OF_SPEED: tuple[tuple[int, str], ...] = (
    (97, "as fast as in a race, and relaxed"),
    (93, "nearly flat out, never straining"),
    (88, "fast, with something left"),
    (83, "quick and controlled, effort 7 of 10"),
    (76, "even and hard, effort 6 of 10"),
    (60, "easy and even, effort 4 of 10: short sentences are possible"),
    (0, "very easy"),
)


def of_speed(percent: tuple[int, int]) -> str:
    """What a band of speed feels like, by its middle."""
    middle = sum(percent) / 2
    return next(said for least, said in OF_SPEED if middle >= least)
