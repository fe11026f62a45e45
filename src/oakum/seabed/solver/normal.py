"""Steps and covariances from normal equations: dense for a few hundred unknowns, by fronts for more."""

from __future__ import annotations

from typing import Protocol

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import blas, lapack
from scipy.sparse import csr_array

from oakum.seabed.solver.dissect import dissect
from oakum.seabed.solver.fronts import FrontFactor, Plan
from oakum.seabed.solver.pattern import NormalPattern

Array = NDArray[np.float64]
Ints = NDArray[np.int64]

DENSE = 150
"""Unknowns up to which one dense factor is quicker than fronts."""


class Factor(Protocol):
    """A factor of the normal equations."""

    def solve(self, right: Array) -> Array:
        """N^-1 times a vector or columns."""
        ...

    def inverse(self) -> Array:
        """Entries of N^-1 on the pattern, in the order of its keys."""
        ...


class DenseFactor:
    """One dense Cholesky factor; the plain way that the fronts are tested against."""

    def __init__(self, pattern: NormalPattern, normal: Array) -> None:
        self.pattern = pattern
        full = np.zeros((pattern.n, pattern.n))
        full[pattern.rows, pattern.columns] = normal
        self.corner, info = lapack.dpotrf(full, lower=1, clean=1)
        if info != 0:
            raise np.linalg.LinAlgError("the normal equations are not positive definite")

    def solve(self, right: Array) -> Array:
        """N^-1 times a vector or columns."""
        columns = right.reshape(len(right), -1)
        half = blas.dtrsm(1.0, self.corner, columns, lower=1)
        full = blas.dtrsm(1.0, self.corner, half, lower=1, trans_a=1)
        return np.asarray(full[:, 0] if right.ndim == 1 else full)

    def inverse(self) -> Array:
        """Entries of N^-1 on the pattern, from the whole inverse."""
        full, _ = lapack.dpotri(self.corner, lower=1)
        rows, columns = self.pattern.rows, self.pattern.columns
        return np.asarray(full[np.maximum(rows, columns), np.minimum(rows, columns)])


class Scheme:
    """How the normal equations of one structure are factored.

    `group_of` (n,) is the group of each unknown, `places` (g, d) where the groups lie (rows of nan: they touch too
    many others to be cut by place). Without places everything is dense.
    """

    def __init__(
        self,
        jacobian: csr_array,
        group_of: Ints | None = None,
        places: Array | None = None,
        dense: int = DENSE,
    ) -> None:
        self.pattern = NormalPattern(jacobian, group_of)
        self._plan: Plan | None = None
        if group_of is not None and places is not None and self.pattern.n > dense:
            groups = len(places)
            links = np.unique(group_of[self.pattern.rows] * groups + group_of[self.pattern.columns])
            rows, columns = np.divmod(links, groups)
            graph = csr_array((np.ones(len(rows), dtype=np.int8), (rows, columns)), shape=(groups, groups))
            far = ~np.isfinite(places).all(axis=1)
            used = np.unique(group_of)
            empty = np.setdiff1d(np.arange(groups), used)
            blocks = dissect(np.nan_to_num(places), graph, np.union1d(np.flatnonzero(far), empty))
            self._plan = Plan(self.pattern, group_of, blocks)

    def factor(self, normal: Array) -> Factor:
        """Factor these entries; LinAlgError where they are not positive definite."""
        if self._plan is None:
            return DenseFactor(self.pattern, normal)
        return FrontFactor(self._plan, normal)


class NormalSteps:
    """Damped steps from normal equations; the scheme is made for the first Jacobian and kept."""

    def __init__(self, group_of: Ints | None = None, places: Array | None = None) -> None:
        self._group_of, self._places = group_of, places
        self.scheme: Scheme | None = None
        self.normal: Array = np.zeros(0)
        self._gradient: Array = np.zeros(0)
        self._factor: Factor | None = None
        self._kept = False

    def set(self, jacobian: Array | csr_array, residual: Array, keep: bool = False) -> None:
        """Form the normal equations; with `keep` only the gradient, if there is a factor."""
        sparse = csr_array(jacobian) if isinstance(jacobian, np.ndarray) else jacobian
        if self.scheme is None:
            self.scheme = Scheme(sparse, self._group_of, self._places)
        self._gradient = np.asarray(sparse.T @ residual)
        self._kept = keep and self._factor is not None
        if not self._kept:
            self.normal = self.scheme.pattern.normal(sparse)

    def step(self, damping: Array) -> Array:
        """The damped step; with a kept factor the damping is that of the factor."""
        if self.scheme is None:
            raise np.linalg.LinAlgError("no Jacobian was set")
        if not self._kept or self._factor is None:
            damped = self.normal.copy()
            damped[self.scheme.pattern.diagonal] += damping
            self._factor = self.scheme.factor(damped)
        return -self._factor.solve(self._gradient)
