"""A derrick: boom hinged at the mast's foot, held up by a topping lift from the mast head."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from oakum.lift.vessel.errors import VesselError
from oakum.lift.vessel.stability import Array, Dim


@dataclass(frozen=True, slots=True)
class Derrick:
    """Lengths in metres; the mast head stands `mast_m` above the boom's foot, plumb over it.

    `runner_parts`: how many parts of the runner carry the load where its hauling part runs down the boom, 0 where
    it does not run along the boom; None: not known. `topping_wll_kg` and `boom_bears_kg`: what the topping lift's
    tag and the boom's papers say, None: not known.
    """

    name: str
    boom_m: float
    mast_m: float
    runner_parts: int | None
    topping_wll_kg: float | None
    boom_bears_kg: float | None


@dataclass(frozen=True, slots=True, eq=False)
class DerrickForces:
    """Tip height over the foot in metres; thrust in the boom and pull of the topping lift, as the load is given."""

    tip_m: float
    thrust: Array
    topping: Array


def tip_height_m(boom_m: float, radius_m: float) -> float:
    """Return the height of the boom head over its foot: sqrt(l^2 - r^2). `VesselError` for an impossible radius."""
    if not 0.0 <= radius_m < boom_m:
        raise VesselError(
            f"a boom {boom_m:g} m long reaches less than that: a radius of {radius_m:g} m is outside it"
        )
    return float(np.sqrt(boom_m**2 - radius_m**2))


def derrick_forces(derrick: Derrick, radius_m: float, load: Dim, heel: Dim = 0.0) -> DerrickForces:
    """Return the forces under a load (kg or N, float or (n,)) at a radius read upright, in the same unit.

    Triangle of forces: thrust W l / hm, topping lift W s / hm with s = sqrt(r^2 + (hm - tip)^2). With a heel (radians,
    towards the load) the load pulls outboard as well: topping lift W s (r cos + tip sin) / (r hm). A hauling part along
    the boom adds W over the parts that carry. Friction of the blocks is not counted.
    """
    if not derrick.mast_m > 0.0:
        raise VesselError(f'derrick "{derrick.name}": its mast head must be above the foot of the boom')
    if not radius_m > 0.0:
        raise VesselError(f'derrick "{derrick.name}": its radius must be more than 0 m; got {radius_m:g} m')
    tip = tip_height_m(derrick.boom_m, radius_m)
    reach = float(np.hypot(radius_m, derrick.mast_m - tip))
    runner = 1.0 / derrick.runner_parts if derrick.runner_parts else 0.0
    load = np.asarray(load, dtype=np.float64)
    outboard = np.sin(heel) / radius_m
    pulled = load * (np.cos(heel) + tip * outboard) / derrick.mast_m
    thrust = derrick.boom_m * (pulled - load * outboard) + runner * load
    return DerrickForces(tip, np.asarray(thrust), np.asarray(reach * pulled))
