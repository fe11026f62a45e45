"""Trapped water running out through holes or an open floor.

Orifice flow Q = C_d A sqrt(2 g h) from a hollow of even plan area (any hydraulics text; memory, verify). A
hollow of another shape is taken as a prism of the same height and volume.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from oakum.ground.gravity import G_M_S2

Array = NDArray[np.float64]
Dim = float | Array

DISCHARGE = (0.60, 0.62)
"""Range of C_d for a sharp-edged hole (memory, verify; about 0.8 for a short tube)."""

MOST_OPEN = 0.5
"""Holes clog with sand and bedding: never more than half of the opening is counted (practice, no source)."""


def rate_sqrt_m_per_s(plan_m2: Dim, opening_m2: Dim, discharge: Dim = 0.61, g_m_s2: float = G_M_S2) -> Dim:
    """Return how fast the square root of the head falls, m^0.5/s: (C_d A_o / A_t) sqrt(g/2).

    `plan_m2` > 0 is the plan area of the hollow, `opening_m2` >= 0 what is open in it.
    """
    rate: Dim = discharge * opening_m2 / plan_m2 * (g_m_s2 / 2.0) ** 0.5
    return rate


def head_after_m(head_m: Dim, rate: Dim, time_s: Dim) -> Dim:
    """Return the head above the holes after a time, m, zero once empty; `rate` by `rate_sqrt_m_per_s`."""
    return np.square(np.maximum(np.sqrt(head_m) - rate * np.asarray(time_s), 0.0))


def time_between_s(head_m: float, later_head_m: float, rate: float) -> float:
    """Return the time in which the head falls to a lower one, s; inf where nothing is open."""
    if not 0.0 <= later_head_m <= head_m:
        raise ValueError("the later head must lie between zero and the first")
    return (head_m**0.5 - later_head_m**0.5) / rate if rate > 0 else np.inf


def steady_head_m(
    hoist_m_s: Dim, plan_m2: Dim, opening_m2: Dim, discharge: Dim = 0.61, g_m_s2: float = G_M_S2
) -> Dim:
    """Return the head that stays while the body is hoisted out at a steady speed, m.

    The opening then lets out what the rising hollow lifts: h = (v A_t / (C_d A_o))^2 / 2 g. Infinite where
    nothing is open; the wall of the hollow caps it.
    """
    opening = np.asarray(opening_m2, dtype=np.float64)
    with np.errstate(divide="ignore"):
        return np.square(hoist_m_s * plan_m2 / (discharge * opening)) / (2.0 * g_m_s2)
