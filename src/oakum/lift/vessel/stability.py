"""Initial stability with a load at the boom head: heights, heel, freeboard, the greatest load for a heel.

Heights are above the keel, `y` from the centreline to the side of the lift, masses in kg (a load is the
apparent hook load, force / g: under water not the mass in air). All arguments may be floats or draws (n,).
Sources: any textbook of ship stability (memory, verify), checked against an exam item of the US Coast Guard.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from oakum.lift.vessel.errors import VesselError

Array = NDArray[np.float64]
Dim = float | Array

SMALL_ANGLE_DEG = 10.0
"""Up to here tan(heel) = moment / (D GM) is used; textbooks stop between 7 and 10 degrees (memory, verify)."""


def kg_with_load_m(displacement_kg: Dim, kg_m: Dim, load_kg: Dim, head_m: Dim) -> Dim:
    """Return KG with a load hanging from the head: it acts at the head as soon as it is off its support."""
    return (displacement_kg * kg_m + load_kg * head_m) / (displacement_kg + load_kg)


def free_surface_m(water_kg_m3: Dim, length_m: Dim, breadth_m: Dim, displacement_kg: Dim) -> Dim:
    """Return the virtual rise of G by a free surface l long and b broad: rho l b^3 / (12 D)."""
    return water_kg_m3 * length_m * breadth_m**3 / (12.0 * displacement_kg)


def heel_rad(moment_kg_m: Dim, displacement_kg: Dim, gm_m: Dim) -> Array:
    """Return the heel by tan(heel) = moment / (D GM). Small angles; `VesselError` where GM is not above 0."""
    _above_nothing(gm_m)
    return np.asarray(np.arctan(moment_kg_m / (displacement_kg * np.asarray(gm_m))), dtype=np.float64)


def wall_sided_heel_rad(moment_kg_m: Dim, displacement_kg: Dim, gm_m: Dim, bm_m: Dim) -> Array:
    """Return the heel of a wall-sided vessel: (GM + BM tan^2 / 2) tan = moment / D.

    Holds until the deck edge goes under or the bilge comes out, see `wall_sided_to_rad`. `VesselError` where GM
    is not above 0 or BM is negative.
    """
    _above_nothing(gm_m)
    gm, bm = np.asarray(gm_m, dtype=np.float64), np.asarray(bm_m, dtype=np.float64)
    if np.any(bm < 0.0):
        raise VesselError("BM, the height of M above B, cannot be negative: look it up in the stability book")
    arm = np.asarray(moment_kg_m / np.asarray(displacement_kg, dtype=np.float64))
    curved = np.maximum(bm, 1e-9 * gm)
    p, q = 2.0 * gm / curved, 2.0 * arm / curved
    slope = 2.0 * np.sqrt(p / 3.0) * np.sinh(np.arcsinh(1.5 * q / p * np.sqrt(3.0 / p)) / 3.0)
    return np.asarray(np.arctan(slope))


def righting_arm_m(gm_m: Dim, bm_m: Dim, heel: Dim) -> Array:
    """Return GZ of a wall-sided vessel at a heel in radians: (GM + BM tan^2 / 2) sin."""
    return np.asarray((gm_m + 0.5 * bm_m * np.tan(heel) ** 2) * np.sin(heel))


def wall_sided_to_rad(freeboard_m: Dim, draught_m: Dim, beam_m: Dim) -> Array:
    """Return the heel at which the deck edge goes under or the bilge comes out, whichever is first."""
    return np.asarray(np.arctan(np.minimum(freeboard_m, draught_m) / (0.5 * np.asarray(beam_m))))


def edge_drop_m(beam_m: Dim, heel: Dim) -> Array:
    """Return how far the low edge of the deck comes down by a heel in radians: (B / 2) tan."""
    return np.asarray(0.5 * np.asarray(beam_m) * np.tan(heel))


def sinkage_m(load_kg: Dim, water_kg_m3: Dim, waterplane_m2: Dim) -> Dim:
    """Return how much deeper the vessel lies: load / (rho A_wp)."""
    return load_kg / (water_kg_m3 * waterplane_m2)


def trim_rad(load_kg: Dim, x_m: Dim, displacement_kg: Dim, gm_long_m: Dim) -> Array:
    """Return the trim by a load `x_m` from the centre of flotation: tan(trim) = w x / (D GML)."""
    _above_nothing(gm_long_m)
    return np.asarray(np.arctan(load_kg * np.abs(x_m) / (displacement_kg * np.asarray(gm_long_m))))


def greatest_load_kg(
    limit_rad: float, displacement_kg: float, gm_m: float, km_m: float, y_m: float, head_m: float
) -> float:
    """Return the load at which the small-angle heel reaches a limit; infinite where no load does.

    w = tan(limit) D0 GM0 / (y + tan(limit) (h - KM)), with D0 and GM0 before the load, free surfaces off GM0.
    `VesselError` where GM0 is not above 0.
    """
    _above_nothing(gm_m)
    slope = math.tan(limit_rad)
    below = y_m + slope * (head_m - km_m)
    return slope * displacement_kg * gm_m / below if below > 0.0 else math.inf


def heeled_radius_m(radius_m: Dim, head_over_foot_m: Dim, heel: Dim) -> Array:
    """Return the level distance from boom foot to load line when the vessel heels towards the load.

    r cos(heel) + H sin(heel), H the height of the head over the foot: a heel always makes a high boom reach
    further.
    """
    return np.asarray(radius_m * np.cos(heel) + head_over_foot_m * np.sin(heel))


def lifting_threshold_kg_m(displacement_kg: Dim, gm_m: Dim, freeboard_m: Dim, beam_m: Dim) -> Dim:
    """Return the heeling moment over which the special rules for lifting apply: 0.67 D GM f / B.

    IS Code part B 2.9.1.2 as amended by MSC.415(97): scope and symbols read, the formula itself from memory;
    it is the heel at a third of the way to the deck edge (own calculation). D and GM with the load.
    """
    return 0.67 * displacement_kg * gm_m * freeboard_m / beam_m


def _above_nothing(gm_m: Dim) -> None:
    if not np.all(np.asarray(gm_m) > 0.0):
        least = float(np.min(np.asarray(gm_m)))
        raise VesselError(
            f"GM is {least:.2f} m: a vessel whose GM is not above 0 does not come back upright, and no heel is "
            "given. Lower weights, empty or press up half-full tanks, or take a smaller load"
        )
