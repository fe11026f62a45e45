"""Sums over draws that may carry weights, as after a reading has made some of them likelier."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from oakum.ground.estimate.estimates import Array, EstimateError


def checked_weights(weights: ArrayLike | None, n: int) -> Array | None:
    """Return weights as an array of shape (n,), or None where every draw counts alike."""
    if weights is None:
        return None
    w = np.asarray(weights, dtype=np.float64)
    if w.shape != (n,):
        raise EstimateError(f"there must be one weight a draw: {n} draws, weights of shape {w.shape}")
    if not np.all(np.isfinite(w)) or np.any(w < 0.0) or w.sum() <= 0.0:
        raise EstimateError("weights must be finite, not negative, and not all zero")
    return w


def weighted_quantile(values: ArrayLike, probs: ArrayLike, weights: ArrayLike | None = None) -> Array:
    """Return the quantiles of draws at the shares `probs` (0 to 1), in the shape of `probs`.

    Each draw stands at the middle of its own share of the weight (Hazen's plotting position); between
    draws the quantile is interpolated, beyond the outermost ones it stays there.
    """
    v = np.asarray(values, dtype=np.float64)
    p = np.asarray(probs, dtype=np.float64)
    w = checked_weights(weights, v.size)
    if w is None:
        return np.asarray(np.quantile(v, p, method="hazen"), dtype=np.float64)
    v, w = v[w > 0.0], w[w > 0.0]
    order = np.argsort(v)
    v, w = v[order], w[order]
    middle = (np.cumsum(w) - 0.5 * w) / w.sum()
    return np.asarray(np.interp(p, middle, v), dtype=np.float64)


def effective_draws(weights: ArrayLike) -> float:
    """Return how many equally weighted draws the weights are worth: (sum w)^2 / sum w^2 (Kish)."""
    w = np.asarray(weights, dtype=np.float64)
    checked_weights(w, w.size)
    w = w / w.max()
    return float(w.sum() ** 2 / np.square(w).sum())


def weighted_mean_sd(values: ArrayLike, weights: ArrayLike | None = None) -> tuple[float, float]:
    """Return mean and standard deviation of draws, weighted where weights are given."""
    v = np.asarray(values, dtype=np.float64)
    w = checked_weights(weights, v.size)
    if w is None:
        return float(v.mean()), float(v.std())
    mean = float(np.average(v, weights=w))
    return mean, float(np.sqrt(np.average(np.square(v - mean), weights=w)))
