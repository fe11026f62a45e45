"""Where the hook must be over, under water and in air, and how far the body turns between.

Under water a body hangs with the hook over r_S = (m r_G - rho V r_B) / (m - rho V), not over its centre of
gravity; as it leaves the water that point moves to the centre of gravity with all the water it holds.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.spatial import ConvexHull

from oakum.ground.estimate import spread_of
from oakum.lift.body.likely import PlacedPart, bounds_m
from oakum.lift.body.placing import Dim, Point
from oakum.lift.weights.report import Centre, Hanging
from oakum.lift.weights.sums import Sums, total

Array = NDArray[np.float64]

FLOATS_BELOW = 0.05
"""Share of the mass below which the 5th percentile of the submerged mass means: may float or capsize."""

_COUNTED = 20_000  # draws looked at for that
_OUTSIDE = 0.05  # share of draws whose hanging point may lie beyond the parts


@dataclass(frozen=True, slots=True)
class Points:
    """Points over the draws (n, 3), metres, rigging left out; masses (n,) kg."""

    gravity_in_air: Array  # with trapped water
    gravity_submerged: Array  # without
    buoyancy: Array
    hanging: Array
    mass_kg: Array
    submerged_kg: Array


def points(sums: Sums) -> Points:
    """Return the centres of a summed body. Water that only part fills its hollow is taken at its middle."""
    drawn = sums.drawn
    solids = [t for t in sums.solids if t.role != "rigging"] or list(sums.solids)
    mass = drawn.full(total(t.mass_kg for t in solids))
    volume = drawn.full(total(t.volume_m3 for t in solids))
    weighed = _moments(sums, [(t.mass_kg, t.centre_m) for t in solids])
    displaced = _moments(sums, [(t.volume_m3, t.centre_m) for t in solids])
    water = _moments(sums, [(w.clear_kg, w.term.centre_m) for w in sums.waters])
    density = drawn.full(drawn.water_kg_m3)
    submerged = mass - density * volume
    held = sums.water_clear_kg
    small = np.where(np.abs(submerged) < 1e-9, 1e-9, submerged)
    return Points(
        gravity_in_air=(weighed + water) / (mass + held)[:, None],
        gravity_submerged=weighed / mass[:, None],
        buoyancy=displaced / volume[:, None],
        hanging=(weighed - density[:, None] * displaced) / small[:, None],
        mass_kg=mass,
        submerged_kg=submerged,
    )


def _moments(sums: Sums, rows: list[tuple[Dim, Point]]) -> Array:
    out = np.zeros((sums.drawn.draws.n, 3))
    for amount, centre in rows:
        for axis in range(3):
            out[:, axis] += amount * centre[axis]
    return out


def centre(name: str, cloud: Array, weights: Array | None) -> Centre:
    """Return a cloud of points (n, 3) as a centre."""
    x, y, z = (spread_of(cloud[:, axis], "m", weights) for axis in range(3))
    return Centre(name, x, y, z)


def centres(found: Points, weights: Array | None) -> tuple[Centre, ...]:
    """Return the centres a drawing shows."""
    return (
        centre("centre of gravity in air, with trapped water", found.gravity_in_air, weights),
        centre("centre of gravity under water", found.gravity_submerged, weights),
        centre("centre of buoyancy", found.buoyancy, weights),
    )


def may_float(mass_kg: Array, submerged_kg: Array, weights: Array | None) -> str | None:
    """Return why no tilt can be given, or None: too little weight under water against the mass."""
    sunk = spread_of(submerged_kg, "kg", weights)
    mass = spread_of(mass_kg, "kg", weights)
    if sunk.p5 >= FLOATS_BELOW * mass.best:
        return None
    return (
        f"may float or capsize: the submerged mass may be as little as {sunk.p5:,.0f} kg, less than 5 % of "
        f"the mass of {mass.best:,.0f} kg"
    )


def outside_parts(hanging: Array, placed: tuple[PlacedPart, ...], weights: Array | None) -> str | None:
    """Return why no tilt can be given, or None: the point to hang it by lies beyond the parts.

    Beyond means outside the outline of all parts seen from above, or above or below all of them.
    """
    low, high = bounds_m(placed, rigging=False)
    meshes = [p.coat or p.mesh for p in placed if p.role != "rigging"] or [p.mesh for p in placed]
    seen = np.concatenate([m.vertices[:, :2] for m in meshes])
    hull = ConvexHull(seen).equations
    slack = 1e-6 * float(np.max(high - low))
    hanging = hanging[:_COUNTED]
    weights = weights[:_COUNTED] if weights is not None else None
    within = np.all(hanging[:, :2] @ hull[:, :2].T + hull[:, 2] <= slack, axis=1)
    within &= (hanging[:, 2] >= low[2] - slack) & (hanging[:, 2] <= high[2] + slack)
    share = 1.0 - float(np.average(within, weights=weights))
    if share <= _OUTSIDE:
        return None
    return (
        f"may float or capsize: the hanging point under water lies outside the parts in {100 * share:.0f} % "
        "of the draws"
    )


def hang(
    found: Points,
    placed: tuple[PlacedPart, ...],
    hook_above_top_m: Array | float | None,
    weights: Array | None,
    refused: str | None,
) -> Hanging:
    """Return hanging points, swing and tilt. `refused` says why neither swing nor tilt can be given.

    Slung so that it hangs level under water, the hook over the hanging point, the body tilts in air by
    atan(e / h): e the swing, h the height of the hook over the centre of gravity in air.
    """
    submerged = centre("hanging point under water", found.hanging, weights)
    in_air = centre("hanging point in air", found.gravity_in_air, weights)
    if refused is not None:
        return Hanging(submerged, in_air, None, None, refused)
    offset = np.hypot(*(found.gravity_in_air - found.hanging)[:, :2].T)
    swing = spread_of(offset, "m", weights)
    if hook_above_top_m is None:
        return Hanging(submerged, in_air, swing, None, "hook height not known")
    top = float(bounds_m(placed, rigging=False)[1][2])
    height = top + hook_above_top_m - found.gravity_in_air[:, 2]
    tilt = np.degrees(np.arctan2(offset, height))
    return Hanging(submerged, in_air, swing, spread_of(tilt, "deg", weights), None)
