"""What the solver is given: residuals and their derivatives, both divided by the sd of the reading."""

from __future__ import annotations

from typing import Protocol

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array

Array = NDArray[np.float64]
Ints = NDArray[np.int64]


class Problem(Protocol):
    """Any least-squares problem: minimise the sum of squares of `residual(x)`."""

    def residual(self, x: Array) -> Array:
        """Computed minus read over sd: (m,)."""
        ...

    def jacobian(self, x: Array) -> Array | csr_array:
        """Derivatives of the residuals: (m, n), dense or sparse; a sparse one keeps its structure for every x."""
        ...


class Steps(Protocol):
    """How the linear problem of one step is solved."""

    def set(self, jacobian: Array | csr_array, residual: Array, keep: bool = False) -> None:
        """Take the derivatives and residuals (already weighted) at the present place.

        With `keep` the place has hardly changed: an old factor may serve once more with the new gradient.
        """
        ...

    def step(self, damping: Array) -> Array:
        """The x that minimises |J x + r|2 + |sqrt(damping) x|2; raises LinAlgError where there is none."""
        ...
