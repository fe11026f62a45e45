"""Linear waves: length for a period and depth, and how their motion dies away below the surface."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from oakum.ground.gravity import G_M_S2
from oakum.ground.waves.errors import WaveError, positive

Array = NDArray[np.float64]

_NEWTON_STEPS = 3  # from the start below, two steps are good to 2.5e-9 (own calculation)


def deep_length_m(period_s: ArrayLike, g_m_s2: float = G_M_S2) -> Array:
    """Return the length of a wave in deep water, m: g T^2 / 2 pi."""
    return np.asarray(g_m_s2 * np.square(np.asarray(period_s, dtype=np.float64)) / (2.0 * np.pi))


def wave_number_rad_m(omega_rad_s: ArrayLike, depth_m: float | None = None, g_m_s2: float = G_M_S2) -> Array:
    """Return k of omega^2 = g k tanh(k h), rad/m, for angular frequencies above nothing.

    `depth_m` None is deep water, k = omega^2 / g. Start by Fenton and McKee, On calculating the lengths of
    water waves, Coastal Engineering 14 (1990), within 1.7 % (read in its abstract); then three Newton steps.
    Raises `WaveError` for a frequency or depth that is not above nothing.
    """
    omega = np.asarray(omega_rad_s, dtype=np.float64)
    if not np.all(omega > 0.0) or not np.all(np.isfinite(omega)):
        raise WaveError("the frequency of a wave must be more than 0 rad/s")
    deep = np.square(omega) / g_m_s2
    if depth_m is None:
        return np.asarray(deep)
    positive("the depth of the water", depth_m, "m")
    shallow = omega * np.sqrt(depth_m / g_m_s2)
    kh = deep * depth_m / np.tanh(shallow**1.5) ** (2.0 / 3.0)
    for _ in range(_NEWTON_STEPS):
        tanh = np.tanh(kh)
        kh = kh - (kh * tanh - deep * depth_m) / (tanh + kh * (1.0 - tanh * tanh))
    return np.asarray(kh / depth_m)


def wave_length_m(period_s: ArrayLike, depth_m: float | None = None, g_m_s2: float = G_M_S2) -> Array:
    """Return the length of a wave, m, for its period and the depth of the water (None: deep)."""
    omega = 2.0 * np.pi / np.asarray(period_s, dtype=np.float64)
    return np.asarray(2.0 * np.pi / wave_number_rad_m(omega, depth_m, g_m_s2))


def decay(k_rad_m: ArrayLike, below_m: ArrayLike, depth_m: float | None = None) -> Array:
    """Return the vertical motion `below_m` under the mean level over that at the surface, 0 to 1.

    exp(-k d) in deep water, sinh(k (h - d)) / sinh(k h) in water of depth h. At and above the mean level it
    is 1, at the bed and below it 0.
    """
    k = np.asarray(k_rad_m, dtype=np.float64)
    below = np.maximum(np.asarray(below_m, dtype=np.float64), 0.0)
    if depth_m is None:
        return np.asarray(np.exp(-k * below))
    below = np.minimum(below, depth_m)
    # sinh a / sinh b without overflow: exp(a - b) (1 - exp(-2 a)) / (1 - exp(-2 b))
    up = -np.expm1(-2.0 * k * (depth_m - below))
    return np.asarray(np.exp(-k * below) * up / -np.expm1(-2.0 * k * depth_m))


def decay_slope_per_m(k_rad_m: ArrayLike, below_m: ArrayLike, depth_m: float | None = None) -> Array:
    """Return how `decay` changes with depth, 1/m: negative below the mean level, 0 above it and under the bed."""
    k = np.asarray(k_rad_m, dtype=np.float64)
    below = np.asarray(below_m, dtype=np.float64)
    if depth_m is None:
        return np.asarray(np.where(below > 0.0, -k * np.exp(-k * np.maximum(below, 0.0)), 0.0))
    inside = (below > 0.0) & (below < depth_m)
    below = np.clip(below, 0.0, depth_m)
    up = 1.0 + np.exp(-2.0 * k * (depth_m - below))
    return np.asarray(np.where(inside, -k * np.exp(-k * below) * up / -np.expm1(-2.0 * k * depth_m), 0.0))
