"""The likeliest shape of each part, placed: for overlaps, for the water line and for drawings."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.ground.solids import Mesh
from oakum.lift.body.likely_solid import likely_solid
from oakum.lift.body.model import Body, Part
from oakum.lift.body.placing import placed_mesh
from oakum.lift.weights.drawn import grown

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class PlacedPart:
    """One part as it most likely is, all copies in one mesh, in the body's frame; `coat` is its outside."""

    part: Part
    mesh: Mesh
    coat: Mesh | None

    @property
    def name(self) -> str:
        """The part's name."""
        return self.part.name

    @property
    def role(self) -> str:
        """What it is to the lift; a hole by what fills it."""
        if self.part.fill is None and self.part.hole_in is not None:
            return "open hole"
        return self.part.role


def placed_parts(body: Body, facets: int = 48) -> tuple[PlacedPart, ...]:
    """Return every part placed, hollows included; `facets` sides to a circle, of the circle's area."""
    water = body.water.density_kg_m3.best
    placed = []
    for part in body.parts:
        solid = likely_solid(part, water)
        coat = None
        if part.coat is not None:
            outside, below = grown(solid, part.coat, part.coat.thickness_m.best)
            coat = placed_mesh(part, outside.to_mesh(facets), float(below))
        placed.append(PlacedPart(part, placed_mesh(part, solid.to_mesh(facets)), coat))
    return tuple(placed)


def bounds_m(placed: tuple[PlacedPart, ...], *, rigging: bool = True) -> tuple[Array, Array]:
    """Return the lowest and highest corner (3,) of the body, coats included, metres."""
    meshes = [p.coat or p.mesh for p in placed if rigging or p.role != "rigging"] or [p.mesh for p in placed]
    return (
        np.min([m.vertices.min(axis=0) for m in meshes], axis=0),
        np.max([m.vertices.max(axis=0) for m in meshes], axis=0),
    )
