"""Who stands in whom: for every column, the rows (or the worked-out columns) in whose sum it stands.

Looked up once for a whole store; plain lists for one column at a time, arrays for many at once.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import chain

import numpy as np
from numpy.typing import NDArray

from planner.rules._board import Term

Whole = NDArray[np.int64]


class Incidence:
    """The owners of every column in ascending order, and with what coefficient it stands in each.

    `part` and `times` are the terms of all sums, one after the other: the column and its coefficient.
    """

    def __init__(self, sums: Sequence[Sequence[Term]], columns: int) -> None:
        """`sums` are the terms of owner 0, 1, 2 ...; none for an owner without a sum."""
        lengths = np.fromiter(map(len, sums), np.int64, len(sums))
        flat = np.fromiter(chain.from_iterable(chain.from_iterable(sums)), np.int64, 2 * int(lengths.sum()))
        self.part, self.times = flat[1::2].copy(), flat[::2].copy()
        self._owners = len(sums)
        self._with_terms = np.flatnonzero(lengths)
        self._begins = (np.cumsum(lengths) - lengths)[self._with_terms]
        order = np.argsort(self.part, kind="stable")
        self._first = np.searchsorted(self.part[order], np.arange(columns + 1))
        self._first_of: list[int] = self._first.tolist()
        self._owner = np.repeat(np.arange(len(sums)), lengths)[order]
        self._coefficient = self.times[order]

    def joined(self, how: np.ufunc, figures: Whole) -> Whole:
        """For every owner one figure a term, in the order of the terms, joined to one; 0 where there is none."""
        found = np.zeros(self._owners, np.int64)
        if len(self._begins):
            found[self._with_terms] = how.reduceat(figures, self._begins)
        return found

    def sums(self, values: Whole) -> Whole:
        """What every owner's sum comes to."""
        return self.joined(np.add, self.times * values[self.part])

    def of_one(self, column: int) -> tuple[list[int], list[int]]:
        """The owners of a column, and the coefficients beside them."""
        here = slice(*self._first_of[column : column + 2])
        return self._owner[here].tolist(), self._coefficient[here].tolist()

    def of(self, columns: Whole) -> tuple[Whole, Whole, Whole]:
        """All owners of these columns: place in `columns`, owner and coefficient of each."""
        first = self._first[columns]
        many = self._first[columns + 1] - first
        place = np.repeat(np.arange(len(columns)), many)
        where = np.arange(len(place)) + np.repeat(first - (np.cumsum(many) - many), many)
        return place, self._owner[where], self._coefficient[where]
