"""What a line bears that goes slack and comes taut again."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def fall_speed_m_s(weight_n: ArrayLike, drag_m2: ArrayLike, density_kg_m3: float) -> Array:
    """Return the speed at which drag carries a weight in water, m/s: sqrt(2 W / (rho C_D A)).

    `drag_m2` is drag coefficient times area. inf where nothing drags, 0 where nothing weighs.
    """
    weight = np.maximum(np.asarray(weight_n, dtype=np.float64), 0.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        speed = np.sqrt(2.0 * weight / (density_kg_m3 * np.asarray(drag_m2, dtype=np.float64)))
    return np.asarray(np.where(weight > 0.0, speed, 0.0))


def snap_speed_m_s(fall_m_s: ArrayLike, relative_m_s: ArrayLike) -> Array:
    """Return the speed at which a slack line comes taut, m/s: v_ff + C v_r.

    C = 1 for v_ff < 0.2 v_r, cos(pi (v_ff / v_r - 0.2)) to 0.7, then 0; `fall_m_s` is v_ff, `relative_m_s`
    v_r, the hoist's speed and the tip's against the water. DNV-RP-H103, 4.7 (memory, verify).
    """
    fall = np.asarray(fall_m_s, dtype=np.float64)
    relative = np.asarray(relative_m_s, dtype=np.float64)
    with np.errstate(divide="ignore", invalid="ignore"):
        ratio = np.where(relative > 0.0, fall / relative, np.inf)
    share = np.where(ratio < 0.2, 1.0, np.where(ratio < 0.7, np.cos(np.pi * (np.minimum(ratio, 0.7) - 0.2)), 0.0))
    return np.asarray(fall + share * relative)


def snap_force_n(speed_m_s: ArrayLike, stiffness_n_m: float, moving_kg: ArrayLike) -> Array:
    """Return the snap force without the weight, N: v sqrt(K (M + A)). DNV-RP-H103, 4.7 (memory, verify)."""
    return np.asarray(np.asarray(speed_m_s) * np.sqrt(stiffness_n_m * np.asarray(moving_kg, dtype=np.float64)))


def snap_peak_n(
    weight_n: ArrayLike, speed_m_s: ArrayLike, stiffness_n_m: float, moving_kg: ArrayLike
) -> Array:
    """Return the exact peak of one mass falling into a slack spring, N: W + sqrt(W^2 + v^2 K (M + A)).

    W is the net weight on the line, v the speed when it comes taut. Without damping, so never exceeded by
    this one motion (energy; own calculation). It rises with K, M + A, v and W.
    """
    weight = np.maximum(np.asarray(weight_n, dtype=np.float64), 0.0)
    return np.asarray(weight + np.hypot(weight, snap_force_n(speed_m_s, stiffness_n_m, moving_kg)))
