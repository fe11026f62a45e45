"""Covariances of a solution, in the frame of inner constraints where nothing holds it."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from oakum.seabed.network.adjust import Adjusted, Equations
from oakum.seabed.network.motions import Motions
from oakum.seabed.solver.normal import Factor

Array = NDArray[np.float64]
Ints = NDArray[np.int64]


class SiteCovariance:
    """Covariance of the whole state, from the sds of the readings.

    With pinned coordinates Q is taken to inner constraints over all marks that are not held: S Q S' with
    S = I - M (B'M)^-1 B', M the unnoticed motions and B their coordinates (S-transformation, Baarda 1973; memory,
    verify; tested against a pseudo-inverse). Redundancy does not depend on it.
    """

    def __init__(self, adjusted: Adjusted, equations: Equations, motions: Motions) -> None:
        if equations.factor is None:
            raise np.linalg.LinAlgError("something can still move: there is no covariance")
        self._factor: Factor = equations.factor
        self._pattern, self._inverse = equations.scheme.pattern, equations.inverse
        self._free = adjusted.free
        size = len(adjusted.state)
        self._n = 3 * len(adjusted.network.names)
        self._number = np.full(size, -1, dtype=np.int64)
        self._number[self._free] = np.arange(len(self._free))
        moves = motions.moves
        self._b = moves.copy()
        self._b[self._n :] = 0.0
        self._w = moves @ np.linalg.inv(self._b.T @ moves) if motions.count else moves
        self._qb = self._pinned(self._b)
        self._c = self._b.T @ self._qb

    def _pinned(self, right: Array) -> Array:
        out = np.zeros_like(right)
        if right.shape[1]:
            out[self._free] = self._factor.solve(right[self._free])
        return out

    def pinned_pairs(self, rows: Ints, columns: Ints) -> Array:
        """Entries for pairs that share a reading or a mark, with the pins held: enough for redundancy."""
        i, j = self._number[rows], self._number[columns]
        inside = (i >= 0) & (j >= 0)
        where = self._pattern.find(np.where(inside, i, 0), np.where(inside, j, 0))
        return np.asarray(np.where(inside, self._inverse[where], 0.0))

    def pairs(self, rows: Ints, columns: Ints) -> Array:
        """Entries for pairs that share a reading or a mark, under inner constraints where nothing holds the site."""
        plain = self.pinned_pairs(rows, columns)
        if self._w.shape[1] == 0:
            return plain
        wi, wj, qi, qj = self._w[rows], self._w[columns], self._qb[rows], self._qb[columns]
        crossed = np.einsum("...k,...k->...", wi, qj) + np.einsum("...k,...k->...", qi, wj)
        return np.asarray(plain - crossed + np.einsum("...k,kl,...l->...", wi, self._c, wj))

    def state_columns(self, right: Array) -> Array:
        """The covariance times a matrix (size of state, k)."""
        first = right - self._b @ (self._w.T @ right)
        second = self._pinned(first)
        return second - self._w @ (self._b.T @ second)

    def columns(self, right: Array) -> Array:
        """The covariance of the coordinates times a matrix (3 n, k)."""
        whole = np.zeros((len(self._number), right.shape[1]))
        whole[: self._n] = right
        return self.state_columns(whole)[: self._n]

    def mark_blocks(self) -> Array:
        """Covariance (n, 3, 3) of each mark, m2."""
        own = np.arange(self._n, dtype=np.int64).reshape(-1, 3)
        rows, columns = np.broadcast_arrays(own[:, :, None], own[:, None, :])
        return self.pairs(rows, columns)
