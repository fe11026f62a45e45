"""Normal equations on a pattern worked out once: which products of a Jacobian's entries add up where."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array

Array = NDArray[np.float64]
Ints = NDArray[np.int64]


class NormalPattern:
    """Where J'J has entries, from the structure of J; zeros that only happen to be zero count as entries.

    Every pair of unknowns that share a reading or a group is an entry, and so is the diagonal. `keys` are
    row * n + column, ascending; `rows` and `columns` the same apart.
    """

    def __init__(self, jacobian: csr_array, group_of: Ints | None = None) -> None:
        self.n = int(jacobian.shape[1])
        lengths = np.diff(jacobian.indptr)
        self._places: list[Ints] = []
        diagonal = np.arange(self.n, dtype=np.int64) * (self.n + 1)
        keys = [diagonal] if group_of is None else [diagonal, self._within(group_of)]
        own = sum(len(k) for k in keys)
        for length in np.unique(lengths[lengths > 0]):
            first = jacobian.indptr[:-1][lengths == length].astype(np.int64)
            places = first[:, None] + np.arange(length)
            columns = jacobian.indices[places].astype(np.int64)
            self._places.append(places)
            keys.append((columns[:, :, None] * self.n + columns[:, None, :]).ravel())
        self.keys, where = np.unique(np.concatenate(keys), return_inverse=True)
        self._where = where[own:]
        self.rows, self.columns = np.divmod(self.keys, self.n)
        self.diagonal = np.searchsorted(self.keys, diagonal)

    def _within(self, group_of: Ints) -> Ints:
        """Keys of all pairs inside each group."""
        order = np.argsort(group_of, kind="stable").astype(np.int64)
        _, first, counts = np.unique(group_of[order], return_index=True, return_counts=True)
        keys = []
        for count in np.unique(counts):
            members = order[first[counts == count][:, None] + np.arange(count)]
            keys.append((members[:, :, None] * self.n + members[:, None, :]).ravel())
        return np.concatenate(keys) if keys else np.zeros(0, dtype=np.int64)

    def normal(self, jacobian: csr_array) -> Array:
        """The entries of J'J in the order of `keys`, for a Jacobian of the same structure."""
        products = [
            (data[:, :, None] * data[:, None, :]).ravel()
            for data in (jacobian.data[places] for places in self._places)
        ]
        joined = np.concatenate(products) if products else np.zeros(0)
        return np.bincount(self._where, joined, minlength=len(self.keys)).astype(np.float64)

    def find(self, rows: Ints, columns: Ints) -> Ints:
        """Where these entries stand in `keys`; they must be entries."""
        return np.searchsorted(self.keys, rows * self.n + columns)
