"""Percentiles over the draws that count, and numbers as they are said."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from oakum.ground.estimate import Spread, spread_of, weighted_quantile

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]


def weighed_p95(values: Array, weights: Array | None) -> float:
    """Return the 95th percentile of draws (n,)."""
    return float(weighted_quantile(values, 0.95, weights))


class Counted:
    """Sums up draws, leaving out those in which a leg would push."""

    def __init__(self, feasible: Flags, weights: Array | None) -> None:
        self._some = None if feasible.all() else feasible
        self._weights = weights if weights is None or self._some is None else weights[self._some]

    def spread(self, values: Array, unit: str) -> Spread:
        """Return the spread of draws, (n,) or (1,)."""
        return spread_of(*self._of(values, unit))

    def p95(self, values: Array) -> float:
        """Return the 95th percentile of draws, (n,) or (1,)."""
        v, _, weights = self._of(values, "")
        return weighed_p95(v, weights)

    def best(self, values: Array) -> float:
        """Return the median of draws, (n,) or (1,)."""
        v, _, weights = self._of(values, "")
        return float(weighted_quantile(v, 0.5, weights))

    def _of(self, values: Array, unit: str) -> tuple[Array, str, Array | None]:
        if len(values) == 1:
            return values, unit, None
        return (values if self._some is None else values[self._some]), unit, self._weights
