"""The parts of a body as placed meshes at their likeliest measures, ready to be outlined."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from oakum.draw.outline import Outline, View, outline
from oakum.ground.solids import Mesh, Solid
from oakum.lift.body import Body, Part
from oakum.lift.placing import likely_frames
from oakum.lift.shapes import best_values, solid_of

Array = NDArray[np.float64]
FACETS = 36


@dataclass(frozen=True, slots=True, eq=False)
class Shown:
    """One placed piece: vertices (n, 3) in metres in the body's frame, triangles (m, 3)."""

    name: str
    role: str
    vertices: Array
    faces: NDArray[np.int64]


@lru_cache(maxsize=16)
def drawn_parts(body: Body, view: View) -> tuple[tuple[Shown, Outline], ...]:
    """Return every piece with its outline in a view; remembered: a moved water level changes neither."""
    return tuple((piece, outline(piece.vertices, piece.faces, view)) for piece in shown_parts(body))


def shown_parts(body: Body) -> tuple[Shown, ...]:
    """Return every part, every copy of it, and its coat of concretion where it has one."""
    pieces: list[Shown] = []
    for part in body.parts:
        solid = solid_of(part.shape, best_values(part.shape))
        pieces += _copies(part, part.role, part.name, solid, 0.0)
        if part.coat is not None and part.coat.thickness_m.best > 0:
            thickness, ends = part.coat.thickness_m.best, part.coat.over == "all"
            lowered = thickness if ends and not isinstance(solid, Mesh) else 0.0
            outside = solid.grown(thickness, ends=ends or isinstance(solid, Mesh))
            pieces += _copies(part, "concretion", f"{part.name}, concretion", outside, lowered)
    return tuple(pieces)


def _copies(part: Part, role: str, name: str, solid: Solid, lowered_m: float) -> list[Shown]:
    """Return the copies of one surface; a coat begins `lowered_m` below the part on the part's own axis."""
    mesh = solid.to_mesh(FACETS)
    own = mesh.vertices - (0.0, 0.0, lowered_m)
    frames = likely_frames(part)
    return [Shown(name, role, own @ rotation.T + origin, mesh.faces) for rotation, origin in frames]
