"""What the numbers say when the coach's figures cannot be used: one sentence, what is needed, 'Maybe ...'."""

from __future__ import annotations

from planner.domain.errors import Told


class NoNumber(Told, ValueError):
    """A figure is missing, belongs to something else, or two figures contradict each other."""
