"""The likeliest shape of one part, in its own frame."""

from __future__ import annotations

from oakum.ground.solids import Mesh, Solid
from oakum.lift.body.model import Part
from oakum.lift.body.shapes import best_values, solid_of
from oakum.lift.body.stuff import likely_density


def likely_solid(part: Part, water_kg_m3: float) -> Solid:
    """Return the solid of the likeliest measures.

    The water matters only where a lump of waterlogged wood is given by its mass.
    """
    values = {k: float(v) for k, v in best_values(part.shape).items()}
    if "mass" in values:
        assert part.stuff is not None  # the body file sees to it
        values = {"volume": values["mass"] / likely_density(part.stuff, water_kg_m3)}
    solid = solid_of(part.shape, values)
    if isinstance(solid, Mesh) and "scale" in values:
        return solid.scaled(values["scale"])
    return solid


def shape_words(part: Part, water_kg_m3: float) -> str:
    """Say what shape a part has, by its likeliest measures."""
    lump = part.shape.kind == "lump"
    words = "lump, its shape not described" if lump else likely_solid(part, water_kg_m3).words()
    return words if part.count == 1 else f"{part.count} of: {words}"
