"""Bands over draws for curves, and a handful of draws that stands for all of them."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from oakum.lift.weights.report import Curve

Array = NDArray[np.float64]

_PROBS = (0.05, 0.5, 0.95)


def picked(n: int, weights: Array | None, most: int) -> NDArray[np.intp]:
    """Return the indices of at most `most` draws out of `n` that count alike.

    Without weights the first ones, since draws come in no order; with weights (n,) evenly spaced over the
    summed weight, so that a draw of great weight comes several times (systematic resampling).
    """
    number = min(n, most)
    if weights is None:
        return np.arange(number)
    summed = np.cumsum(weights)
    evenly = (np.arange(number) + 0.5) / number * summed[-1]
    return np.asarray(np.searchsorted(summed, evenly), dtype=np.intp)


def band_curve(
    name: str,
    x: tuple[str, str],
    y: tuple[str, str],
    places: Array,
    values: Array,
    marks: tuple[tuple[float, str], ...] = (),
) -> Curve:
    """Return P5, median and P95 of draws (n, k) that count alike, at the places (k,), as a curve."""
    low, best, high = np.quantile(values, _PROBS, axis=0, method="hazen").tolist()
    return Curve(name, *x, *y, tuple(places.tolist()), tuple(low), tuple(best), tuple(high), marks)


def share_of(which: object, weights: Array | None = None) -> float:
    """Return the share of the draws (n,), true or false each, for which something holds."""
    return float(np.average(np.asarray(which, dtype=np.float64), weights=weights))
