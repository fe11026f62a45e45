"""Added mass of one piece, or of several together, by the table that fits its plan: disc, plate, ellipse, prism, bar.

All deep in the water and moving up and down; near the surface and the bed it is greater. What lies between the lines of
a table is read straight, and nothing beyond its ends.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, sqrt

from oakum.ground.solids import Barrel, Box, Cylinder, Frustum, HoledDisc, Mesh, Plank, Ring, Solid
from oakum.lift.body.placing import Array
from oakum.lift.seaway.shadow import Shadow, shadow
from oakum.lift.splash import (
    AddedMass,
    cylinder_across,
    disc,
    ellipse,
    perforated,
    plate,
    prism,
    with_height,
)

MOST_OPEN_PERCENT = 50.0
"""Where the table of perforated plans ends."""

_HARDLY_OPEN_PERCENT = 5.0  # so far a plan counts as closed
_LONGEST = 10.0  # length over width where plate and prism tables end
_RECTANGLE = 0.9  # of the rectangle round it: from here on an outline counts as a rectangle
_ROUND = 1.05  # long over broad of an ellipse that counts as a disc
_SQUARE = 1.5  # long over broad of a post that counts as a square prism
_LEVEL = 0.17  # sine of 10 degrees: so far out of level an axis still counts as lying


@dataclass(frozen=True, slots=True)
class Shaped:
    """What the shape of a piece says: its shadow, its added mass, whether a smooth round side lies below.

    `added` is None where the plan is open beyond the table and the piece has no other rule.
    """

    shadow: Shadow
    added: AddedMass | None
    round_bottom: bool = False


def shaped(solid: Solid, mesh: Mesh, turn: Array) -> Shaped:
    """Return what one piece says: its solid, its mesh as it hangs, the rotation (3, 3) that hung it so."""
    seen = shadow([mesh])
    height = float(mesh.vertices[:, 2].max() - mesh.vertices[:, 2].min())
    upright = abs(float(turn[2, 2]))
    if isinstance(solid, Cylinder | Frustum | Barrel) and upright < _LEVEL:
        return _lying(seen, height, smooth=not isinstance(solid, Barrel))
    if isinstance(solid, Ring) and upright > 1.0 - _LEVEL and seen.open_percent > MOST_OPEN_PERCENT:
        outer, inner = 0.5 * seen.long_m, sqrt(max(0.25 * seen.long_m**2 - seen.area_m2 / pi, 0.0))
        return Shaped(seen, strip(outer - inner, pi * (outer + inner), height))
    return Shaped(seen, outlined(seen, height, post=_is_post(solid, seen, height, turn)))


def outlined(seen: Shadow, height_m: float, *, post: bool = False) -> AddedMass | None:
    """Return the added mass by the outline of a plan, its height and how open it is; None beyond the table.

    A plan that fills nine tenths of the rectangle round it is a plate, any other an ellipse of its area.
    """
    if seen.open_percent > MOST_OPEN_PERCENT:
        return None
    ratio = seen.long_m / seen.broad_m
    side = sqrt(seen.hull_m2)
    if post and 1.0 <= height_m / side <= _LONGEST:
        return _opened(prism(side, height_m), seen)
    if ratio > _LONGEST:
        return strip(seen.hull_m2 / seen.long_m, seen.long_m, height_m)
    if seen.fills > _RECTANGLE:
        flat = plate(seen.broad_m, seen.hull_m2 / seen.broad_m)
    elif ratio < _ROUND:
        flat = disc(sqrt(seen.hull_m2 / pi))
    else:
        scale = sqrt(seen.hull_m2 / (0.25 * pi * seen.long_m * seen.broad_m))
        flat = ellipse(scale * seen.broad_m, scale * seen.long_m)
    return _opened(with_height(flat, seen.hull_m2, height_m), seen)


def _opened(closed: AddedMass, seen: Shadow) -> AddedMass:
    return perforated(closed, seen.open_percent) if seen.open_percent > _HARDLY_OPEN_PERCENT else closed


def strip(width_m: float, length_m: float, height_m: float) -> AddedMass:
    """Return a long flat strip's: pi/4 w^2 for each metre, raised for its height by its width.

    From ten widths on, where the plate table ends; a shorter one is a plate.
    """
    if length_m <= _LONGEST * width_m:
        return with_height(plate(width_m, length_m), width_m * length_m, height_m)
    flat = AddedMass(
        0.25 * pi * width_m**2 * length_m,
        f"strip {width_m:.3g} by {length_m:.3g} m, deep in the water",
    )
    return with_height(flat, width_m**2, height_m)


def _lying(seen: Shadow, height_m: float, *, smooth: bool) -> Shaped:
    width = seen.hull_m2 / seen.long_m
    if seen.long_m >= 5.0 * width:
        return Shaped(seen, cylinder_across(0.5 * width, seen.long_m), smooth)
    flat = plate(*sorted((width, seen.long_m)))
    return Shaped(seen, with_height(flat, seen.hull_m2, height_m), smooth)


def _is_post(solid: Solid, seen: Shadow, height_m: float, turn: Array) -> bool:
    """Whether a piece is a post: sides upright, its plan about as broad as long, higher than that."""
    if not isinstance(solid, Box | Plank | Cylinder | HoledDisc) or seen.long_m > _SQUARE * seen.broad_m:
        return False
    plumb = float(abs(turn[2]).max()) > 1.0 - 1e-3 if isinstance(solid, Box | Plank) else abs(turn[2, 2]) > 0.999
    return plumb and height_m >= sqrt(seen.hull_m2)
