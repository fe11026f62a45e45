"""Steps by orthogonal factors of a dense Jacobian: for small or badly conditioned problems."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import lapack
from scipy.sparse import csr_array

Array = NDArray[np.float64]


class OrthogonalSteps:
    """QR of the Jacobian stacked on the damping: no squaring of its condition number."""

    def __init__(self) -> None:
        self._jacobian: Array = np.zeros((0, 0))
        self._residual: Array = np.zeros(0)

    def set(self, jacobian: Array | csr_array, residual: Array, keep: bool = False) -> None:
        """Reduce the Jacobian to its triangle, once for every damping tried here."""
        dense = jacobian if isinstance(jacobian, np.ndarray) else jacobian.toarray()
        q, self._jacobian = np.linalg.qr(dense)
        self._residual = q.T @ residual

    def step(self, damping: Array) -> Array:
        """The damped step; raises LinAlgError where a column has neither readings nor damping."""
        stacked = np.vstack([self._jacobian, np.diag(np.sqrt(damping))])
        q, triangle = np.linalg.qr(stacked)
        right = -(q[: len(self._residual)].T @ self._residual)
        step, info = lapack.dtrtrs(triangle, right)
        if info != 0 or not np.all(np.isfinite(step)):
            raise np.linalg.LinAlgError("nothing fixes one of the unknowns")
        return np.asarray(step)
