"""The load is lost: the vessel rolls to the other side, as far as energy takes it."""

from __future__ import annotations

import numpy as np

from oakum.lift.vessel.errors import VesselError
from oakum.lift.vessel.stability import Array, Dim

_FURTHEST_RAD = np.radians(80.0)
_HALVINGS = 40  # of 80 degrees: to a billionth of a degree


def energy_m(gm_m: Dim, bm_m: Dim, arm_m: Dim, heel: Dim) -> Array:
    """Return the potential energy over the weight of a wall-sided vessel at a heel (radians), metres.

    The integral of (GM + BM tan^2 / 2) sin - arm cos: GM (1 - cos) + BM (sec + cos - 2) / 2 - arm sin. `arm_m` is
    the moment of weights off the centreline over the displacement, above 0 to the side of the lift.
    """
    cosine = np.cos(heel)
    return np.asarray(
        gm_m * (1.0 - cosine) + 0.5 * bm_m * (1.0 / cosine + cosine - 2.0) - arm_m * np.sin(heel)
    )


def first_roll_rad(heel_before: Dim, gm_m: Dim, bm_m: Dim = 0.0, arm_m: Dim = 0.0) -> Array:
    """Return how far (radians, above 0) the vessel rolls to the other side when the load is gone.

    `heel_before` (radians) is the heel with the load, GM and BM are without it. A bound: no damping, at rest at the
    moment of loss. Weights kept on the other side to hold the heel down (`arm_m` below 0) make it roll further.
    Infinite where it does not stop before 80 degrees. `VesselError` where GM is not above 0.
    """
    gm = np.asarray(gm_m, dtype=np.float64)
    if np.any(gm <= 0.0):
        raise VesselError("GM without the load is not above 0: how far it rolls back is not given")
    heel, gm, bm, arm = np.broadcast_arrays(
        np.asarray(heel_before, dtype=np.float64),
        gm,
        np.asarray(bm_m, dtype=np.float64),
        np.asarray(arm_m, dtype=np.float64),
    )
    start = energy_m(gm, bm, arm, heel)
    # on the far side of its new rest the energy grows, so the place where it is back at the start is unique
    near = np.minimum(np.arctan(arm / gm), heel)
    far = np.full(heel.shape, -_FURTHEST_RAD)
    never = energy_m(gm, bm, arm, far) < start
    for _ in range(_HALVINGS):
        middle = 0.5 * (near + far)
        beyond = energy_m(gm, bm, arm, middle) > start
        far, near = np.where(beyond, middle, far), np.where(beyond, near, middle)
    return np.asarray(np.where(never, np.inf, np.maximum(-0.5 * (near + far), 0.0)))
