"""The covariance behind a solution, asked for as needed: columns, blocks between marks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Ints = NDArray[np.int64]


class Covariance(Protocol):
    """A covariance of all coordinates that is never written out in full."""

    def columns(self, right: Array) -> Array:
        """The covariance times a matrix: (3 n, k) -> (3 n, k), coordinates mark by mark."""
        ...


@dataclass(frozen=True, slots=True, eq=False)
class Handle:
    """Names and places of the solved marks with their full covariance; what further questions are asked of."""

    names: tuple[str, ...]
    places_m: Array
    covariance: Covariance
    taped: frozenset[tuple[str, str]]

    def index(self, name: str) -> int:
        """The row of a mark; KeyError where it is not solved."""
        try:
            return self.names.index(name)
        except ValueError:
            raise KeyError(name) from None

    def columns_of(self, marks: Ints) -> Array:
        """Covariance of every coordinate with those of these marks: (3 n, 3 k)."""
        right = np.zeros((3 * len(self.names), 3 * len(marks)))
        rows = (3 * marks[:, None] + np.arange(3)).ravel()
        right[rows, np.arange(len(rows))] = 1.0
        return self.covariance.columns(right)

    def between(self, a: str, b: str) -> Array:
        """Covariance (3, 3) in m2 of the vector from a to b."""
        i, j = self.index(a), self.index(b)
        columns = self.columns_of(np.array([i, j], dtype=np.int64))
        ii, jj = columns[3 * i : 3 * i + 3, :3], columns[3 * j : 3 * j + 3, 3:]
        ij = columns[3 * i : 3 * i + 3, 3:]
        return np.asarray(ii + jj - ij - ij.T)
