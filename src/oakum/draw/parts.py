"""The parts of a body as placed meshes at their likeliest measures, ready to be outlined."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.ground.solids import Placement, Solid
from oakum.lift.body import Body, Part
from oakum.lift.shapes import best_values, solid_of

Array = NDArray[np.float64]
FACETS = 36
_AXES = {"x": 0, "y": 1, "z": 2}


@dataclass(frozen=True, slots=True)
class Shown:
    """One placed piece: vertices (n, 3) in metres in the body's frame, triangles (m, 3)."""

    name: str
    role: str
    vertices: Array
    faces: NDArray[np.int64]


def shown_parts(body: Body) -> tuple[Shown, ...]:
    """Return every part, every repeat of it, and its coat of concretion where it has one."""
    pieces: list[Shown] = []
    for part in body.parts:
        solid = solid_of(part.shape, best_values(part.shape))
        pieces += _pieces(part, part.role, part.name, solid, 0.0)
        thickness = part.coat.thickness_m.best if part.coat else 0.0
        if part.coat and thickness > 0:
            ends = part.coat.over == "all"
            coated = solid.grown(thickness, ends=ends)
            lowered = thickness if ends and part.shape.kind != "mesh" else 0.0
            pieces += _pieces(part, "concretion", f"{part.name}, concretion", coated, lowered)
    return tuple(pieces)


def _pieces(part: Part, role: str, name: str, solid: Solid, lowered_m: float) -> list[Shown]:
    mesh = solid.to_mesh(FACETS)
    place = part.place
    placement = Placement(place.x_m.best, place.y_m.best, place.z_m.best, *place.turn_deg)
    own = np.asarray(mesh.vertices) - np.array([0.0, 0.0, lowered_m])
    placed = np.asarray(placement.apply(own))
    return [Shown(name, role, at, mesh.faces) for at in _repeated(part, placed)]


def _repeated(part: Part, placed: Array) -> list[Array]:
    """Return the vertices of every repeat: turned evenly round an axis of the body, or shifted along a step."""
    repeat = part.repeat
    if repeat is None:
        return [placed]
    if repeat.around is None:
        step = np.asarray(repeat.step_m or (0.0, 0.0, 0.0))
        return [placed + index * step for index in range(repeat.count)]
    axis = _AXES[repeat.around]
    one, two = (axis + 1) % 3, (axis + 2) % 3
    centre = np.asarray(repeat.centre_m)
    turned = []
    for index in range(repeat.count):
        angle = 2 * np.pi * index / repeat.count
        away = placed - centre
        at = away.copy()
        at[:, one] = np.cos(angle) * away[:, one] - np.sin(angle) * away[:, two]
        at[:, two] = np.sin(angle) * away[:, one] + np.cos(angle) * away[:, two]
        turned.append(at + centre)
    return turned
