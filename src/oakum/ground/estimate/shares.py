"""What drives the width: the share of the variance that each input explains on its own."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from oakum.ground.estimate.estimates import Array, EstimateError
from oakum.ground.estimate.weighted import checked_weights, effective_draws, weighted_quantile

_MOST_BINS = 64
_DRAWS_A_BIN = 50
_FOR_EDGES = 8192
_CELLS = 8192


@dataclass(frozen=True, slots=True)
class Driver:
    """An input and the share (0 to 1) of the result's variance that it explains alone."""

    label: str
    share: float


def drivers(
    values: ArrayLike, inputs: Mapping[str, ArrayLike], weights: ArrayLike | None = None
) -> tuple[Driver, ...]:
    """Return every input's first-order share of the variance of `values`, greatest first.

    The share is Var(E[y | x]) / Var(y), the first-order sensitivity index of Sobol'. The draws are sorted
    into bins of about equal weight by the input; the variance of the bin means, less what chance alone puts
    there, is the numerator. `values` and each input have shape (n,); `weights` likewise or None.

    Shares of independent inputs sum to 1 where the result is a sum, to less where inputs act together.
    After weighting by a reading the inputs are no longer independent and shares may sum to more than 1.
    Fewer than 200 effective draws are too few to tell: an `EstimateError` says so.
    """
    y = np.asarray(values, dtype=np.float64)
    w = checked_weights(weights, y.size)
    effective = float(y.size) if w is None else effective_draws(w)
    if effective < 200:
        raise EstimateError(f"{effective:.0f} effective draws are too few to say what drives the spread")
    share = _Shares(y, w, effective)
    found = [Driver(label, share.of(np.asarray(x, dtype=np.float64))) for label, x in inputs.items()]
    return tuple(sorted(found, key=lambda d: (-d.share, d.label)))


class _Shares:
    """What all inputs of one result have in common, computed once."""

    def __init__(self, y: Array, w: Array | None, effective: float) -> None:
        mean = float(y.mean() if w is None else np.average(y, weights=w))
        self.y = y - mean  # centred first: squares of large equal numbers lose their difference
        self.w = w
        self.wy = self.y if w is None else self.y * w
        self.wyy = self.wy * self.y
        self.ww = None if w is None else np.square(w)
        self.total = float(y.size if w is None else w.sum())
        spread = float(self.wyy.sum()) / self.total
        self.variance = spread * effective / (effective - 1.0)
        self.effective = effective
        self.still = spread <= (1e-12 * abs(mean)) ** 2
        bins = int(np.clip(effective // _DRAWS_A_BIN, 4, _MOST_BINS))
        self.probs = np.arange(1, bins) / bins

    def of(self, x: Array) -> float:
        if x.shape != self.y.shape:
            raise EstimateError(f"an input has shape {x.shape}, the result {self.y.shape}")
        edges = self._edges(x)
        if self.still or edges.size == 0:
            return 0.0
        bin_of = _bins(x, edges)
        k = edges.size + 1
        weight = np.bincount(bin_of, self.w, minlength=k)
        filled = weight > 0.0
        weight = weight[filled]
        squares = weight if self.ww is None else np.bincount(bin_of, self.ww, minlength=k)[filled]
        mean = np.bincount(bin_of, self.wy, minlength=k)[filled] / weight
        within = np.bincount(bin_of, self.wyy, minlength=k)[filled] / weight - np.square(mean)
        worth = np.square(weight) / squares  # effective draws in the bin
        part = weight / self.total
        between = float(np.sum(part * np.square(mean)))
        chance = float(np.sum(part * within / np.maximum(worth - 1.0, 1.0))) - self.variance / self.effective
        return float(np.clip((between - chance) / self.variance, 0.0, 1.0))

    def _edges(self, x: Array) -> Array:
        step = max(1, x.size // _FOR_EDGES)
        few: Array = x[::step]
        if self.w is None:
            edges = weighted_quantile(few, self.probs)
        else:
            some = self.w[::step]
            edges = weighted_quantile(few, self.probs, some if some.sum() > 0.0 else None)
        edges = np.unique(edges)
        above: Array = edges[edges > few.min()]
        return above


def _bins(x: Array, edges: Array) -> NDArray[np.intp]:
    """Return the bin of each value, by a table of equal cells: ten times faster than searching the edges.

    A value within one cell of an edge may fall on its other side. Bins need not be exact: any bins that rise
    with `x` give a valid share.
    """
    low, high = edges[0], edges[-1]
    if edges.size == 1:
        return np.asarray(x >= low, dtype=np.intp)
    scale = _CELLS / (high - low)
    cell = np.clip((x - low) * scale + 1.0, 0.0, _CELLS + 1.0).astype(np.intp)
    starts = low + np.arange(_CELLS + 1) / scale
    starts[-1] = high
    of_cell = np.append(np.intp(0), np.searchsorted(edges, starts, side="right"))
    bins: NDArray[np.intp] = of_cell[cell]
    return bins
