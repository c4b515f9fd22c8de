"""Columns that several rules say to the Board in the same way. Only `constrain` uses this file."""

from __future__ import annotations

from datetime import date

from planner.domain.problem import Problem
from planner.rules._board import Board, Column, Term


def at_neural(board: Board, problem: Problem, athlete: str, day: date, least: int) -> Column:
    """0/1: does the day ask for neural demand of `least` or more? A competition day always does."""
    if problem.competition_on(athlete, day):
        return board.always
    return board.any_of(board.placed(p) for p in problem.known_on(athlete, day) if p.dose.neural >= least)


def day_neural(board: Board, problem: Problem, athlete: str, day: date) -> list[Term]:
    """The day's highest neural demand as a sum of three 0/1 columns: at least 1, at least 2, 3."""
    return [(1, at_neural(board, problem, athlete, day, least)) for least in (1, 2, 3)]


def busy(board: Board, problem: Problem, athlete: str, day: date) -> Column:
    """0/1: does anything stand on the day, a placement or a competition?"""
    if problem.competition_on(athlete, day):
        return board.always
    return board.any_of(board.placed(p) for p in problem.known_on(athlete, day))
