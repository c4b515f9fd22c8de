"""Numbers to train by: from a unit, its amount and the athlete's marks to lines that stand on paper."""

from planner.numbers.build import lines_for, numbers
from planner.numbers.errors import NoNumber
from planner.numbers.lines import Lines, Target

__all__ = ["Lines", "NoNumber", "Target", "lines_for", "numbers"]
