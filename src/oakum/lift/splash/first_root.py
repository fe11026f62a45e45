"""The smallest value at which something first goes wrong: scan, then halve."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from oakum.lift.splash.errors import SplashError

Array = NDArray[np.float64]

_HALVINGS = 60


def first_crossing(
    excess: Callable[[Array], Array], low: float, high: float, points: int = 400, tolerance: float = 1e-7
) -> float | None:
    """Return the smallest x in [low, high] at which `excess` rises above 0; None where it stays at or below.

    `excess` takes (k,) values of x and returns (k,). It is looked at in `points` evenly spaced places, the
    first bracket is halved to `tolerance`; a rise and fall between two places would be missed. `low` itself
    is returned where it is above 0 there already. Raises `SplashError` for an empty range.
    """
    if not high > low:
        raise SplashError(f"a search needs a range; got {low:g} to {high:g}")
    x = np.linspace(low, high, max(points, 2))
    above = np.asarray(excess(x)) > 0.0
    if not above.any():
        return None
    first = int(np.argmax(above))
    if first == 0:
        return low
    left, right = float(x[first - 1]), float(x[first])
    for _ in range(_HALVINGS):
        if right - left <= tolerance:
            break
        middle = 0.5 * (left + right)
        if float(np.asarray(excess(np.array([middle])))[0]) > 0.0:
            right = middle
        else:
            left = middle
    return 0.5 * (left + right)
