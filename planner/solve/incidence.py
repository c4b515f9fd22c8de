"""Who stands in whom: for every column, the rows (or the worked-out columns) in whose sum it stands.

Looked up once for a whole store; plain lists for one column at a time, arrays for many at once.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import chain, pairwise

import numpy as np
from numpy.typing import NDArray

from planner.rules._board import Term

Whole = NDArray[np.int64]


class Incidence:
    """The owners of every column in ascending order, and with what coefficient it stands in each."""

    def __init__(self, sums: Sequence[Sequence[Term]], columns: int) -> None:
        """`sums` are the terms of owner 0, 1, 2 ...; none for an owner without a sum."""
        lengths = np.fromiter((len(terms) for terms in sums), np.int64, len(sums))
        flat = np.fromiter(chain.from_iterable(chain.from_iterable(sums)), np.int64, 2 * int(lengths.sum()))
        column = flat[1::2]
        order = np.argsort(column, kind="stable")
        self._first = np.searchsorted(column[order], np.arange(columns + 1))
        self._owner = np.repeat(np.arange(len(sums)), lengths)[order]
        self._coefficient = flat[::2][order]

    def by_column(self) -> tuple[list[list[int]], list[list[int]]]:
        """For every column its owners, and the coefficients beside them."""
        first = self._first.tolist()
        owners, coefficients = self._owner.tolist(), self._coefficient.tolist()
        spans = list(pairwise(first))
        return [owners[a:b] for a, b in spans], [coefficients[a:b] for a, b in spans]

    def of(self, columns: Whole) -> tuple[Whole, Whole, Whole]:
        """All owners of these columns: place in `columns`, owner and coefficient of each."""
        first = self._first[columns]
        many = self._first[columns + 1] - first
        place = np.repeat(np.arange(len(columns)), many)
        where = np.arange(len(place)) + np.repeat(first - (np.cumsum(many) - many), many)
        return place, self._owner[where], self._coefficient[where]
