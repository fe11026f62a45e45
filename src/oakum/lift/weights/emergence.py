"""Hook load while the body comes out of the water: m + m_trapped - rho V_submerged, level by level.

How much of each part is under water comes from the likeliest shape, cut at the level; how much the part
weighs and displaces comes from the draws. The level is the height of the body's lowest point above the
water: negative while it is below, 0 when it is just clear.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.ground.solids import Mesh, submerged
from oakum.lift.body.likely import PlacedPart, bounds_m
from oakum.lift.body.model import WaterFill
from oakum.lift.weights.drawn import Outline
from oakum.lift.weights.sums import Sums

Array = NDArray[np.float64]

_FINE = 4_000  # triangles above which a cut takes too long for a slider
_RUNGS = 401


@dataclass(frozen=True, slots=True, eq=False)
class Emergence:
    """The body ready to be cut: load (n,) = clear_kg - buoyed_kg @ share of each outline under water."""

    cuts: tuple[Callable[[Array], Array], ...]  # share of each outline below heights (k,)
    clear_kg: Array  # load just clear of the water (n,)
    buoyed_kg: Array  # what each outline takes off when it is under (n, g)
    volume_m3: Array  # of the likeliest shape, signed, for the share of the body under water (g,)
    lowest_m: float
    highest_m: float

    @property
    def height_m(self) -> float:
        """How far the body reaches up from its lowest point."""
        return self.highest_m - self.lowest_m

    def shares(self, levels: Array) -> Array:
        """Return the share of each outline under water (k, g) for levels (k,)."""
        water_line = self.lowest_m - np.atleast_1d(levels)
        return np.column_stack([cut(water_line) for cut in self.cuts])

    def loads_kg(self, shares: Array, draws: slice = slice(None)) -> Array:
        """Return the hook load (n, k), kg, for shares under water (k, g)."""
        return np.asarray(self.clear_kg[draws, None] - self.buoyed_kg[draws] @ shares.T)

    def under_water(self, shares: Array) -> Array:
        """Return the share of the body's volume that is under water (k,)."""
        return np.asarray(shares @ self.volume_m3 / self.volume_m3.sum())


def share_below(mesh: Mesh) -> Callable[[Array], Array]:
    """Return a function: heights (k,) -> share of the mesh's volume below each.

    A fine mesh is cut once at 400 heights and read between them, good to about 1e-5 of its volume.
    """
    full = mesh.volume_m3()
    if len(mesh.faces) <= _FINE:
        return lambda heights: submerged(mesh, heights).volume_m3 / full
    low, high = (float(corner[2]) for corner in mesh.bounds_m())
    ladder = np.linspace(low, high, _RUNGS)
    shares = submerged(mesh, ladder).volume_m3 / full
    return lambda heights: np.interp(heights, ladder, shares)


def emergence(sums: Sums, placed: tuple[PlacedPart, ...]) -> Emergence:
    """Return the body ready to be cut at any level."""
    meshes: dict[Outline, Mesh] = {(p.name, "solid"): p.mesh for p in placed}
    meshes |= {(p.name, "coat"): p.coat for p in placed if p.coat is not None}
    order = {outline: i for i, outline in enumerate(meshes)}
    n = sums.drawn.draws.n
    buoyed, volume = np.zeros((n, len(order))), np.zeros(len(order))
    shares = {w.term.name: w.share for w in sums.waters}
    density = sums.drawn.water_kg_m3
    for term in sums.drawn.terms:
        # Water in a hollow hangs on the hook only as far as it stands above the surface.
        part_of_it = shares[term.name] if isinstance(term.fill, WaterFill) else 1.0
        for outline, piece in term.pieces:
            buoyed[:, order[outline]] += density * piece * part_of_it
            if not isinstance(term.fill, WaterFill):
                volume[order[outline]] += float(np.mean(piece))
    low, high = bounds_m(placed)
    return Emergence(
        cuts=tuple(share_below(mesh) for mesh in meshes.values()),
        clear_kg=sums.mass_kg + sums.water_clear_kg,
        buoyed_kg=buoyed,
        volume_m3=volume,
        lowest_m=float(low[2]),
        highest_m=float(high[2]),
    )
