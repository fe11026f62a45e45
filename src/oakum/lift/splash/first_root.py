"""The smallest value at which something first goes wrong: scan, then narrow down."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from oakum.lift.splash.errors import SplashError

Array = NDArray[np.float64]

_BLOCK = 20
_PIECES = 16


def first_crossing(
    excess: Callable[[Array], Array], low: float, high: float, points: int = 400, tolerance: float = 1e-7
) -> float | None:
    """Return the smallest x in [low, high] at which `excess` rises above 0; None where it stays at or below.

    `excess` takes (k,) values of x and returns (k,). It is looked at in `points` evenly spaced places from `low` on
    until it is above 0, and the bracket is cut in pieces down to `tolerance`; a rise and fall between two places would
    be missed. `low` itself is returned where it is above 0 there already. Raises `SplashError` for an empty range.
    """
    if not high > low:
        raise SplashError(f"a search needs a range; got {low:g} to {high:g}")
    places = np.linspace(low, high, max(points, 2))
    first = _first_above(excess, places)
    if first is None or first == 0:
        return None if first is None else low
    left, right = float(places[first - 1]), float(places[first])
    while right - left > max(tolerance, 4.0 * np.spacing(abs(right))):
        cuts = np.linspace(left, right, _PIECES + 1)
        above = np.append(np.asarray(excess(cuts[1:-1])) > 0.0, True)
        at = int(np.argmax(above))
        left, right = float(cuts[at]), float(cuts[at + 1])
    return 0.5 * (left + right)


def _first_above(excess: Callable[[Array], Array], places: Array) -> int | None:
    """Return the first place above 0, looked at in blocks, so that what lies beyond it is not asked."""
    for begin in range(0, len(places), _BLOCK):
        above = np.asarray(excess(places[begin : begin + _BLOCK])) > 0.0
        if above.any():
            return begin + int(np.argmax(above))
    return None
