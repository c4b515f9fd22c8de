"""Numbers to train by: from a unit, its amount and the athlete's marks to lines that stand on paper."""

from planner.numbers.build import lines_for, numbers
from planner.numbers.errors import NoNumber
from planner.numbers.lines import Lines, Target
from planner.numbers.train_by import TrainBy, train_by

__all__ = ["Lines", "NoNumber", "Target", "TrainBy", "lines_for", "numbers", "train_by"]
