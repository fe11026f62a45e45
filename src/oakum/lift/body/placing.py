"""Putting a part where it lies, once or several times."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from oakum.ground.solids import Mesh, Placement
from oakum.lift.body.model import Part, Repeat, Vector

Array = NDArray[np.float64]
Dim = float | Array
Point = tuple[Dim, Dim, Dim]


def turning(part: Part) -> Array:
    """Return the rotation matrix (3, 3) of a part's own turn."""
    return _turning(part.place.turn_deg)


@lru_cache(maxsize=256)
def _turning(turn_deg: Vector) -> Array:
    about_x, about_y, about_z = turn_deg
    placed = Placement(0.0, 0.0, 0.0, turn_x_deg=about_x, turn_y_deg=about_y, turn_z_deg=about_z)
    matrix = np.asarray(placed.matrix(), dtype=np.float64)[:3, :3]
    matrix.flags.writeable = False
    return matrix


@dataclass(frozen=True, slots=True)
class Copies:
    """Where the copies of a repeated part go: point -> rotation @ point + shift, metres."""

    rotations: Array  # (count, 3, 3)
    shifts: Array  # (count, 3)

    @property
    def count(self) -> int:
        """How many copies there are."""
        return len(self.rotations)

    def middle(self, point: Point, scale: Dim = 1.0) -> Point:
        """Return the mean place of all copies of a point; `scale` stretches the shifts likewise."""
        rotation, shift = self.rotations.mean(axis=0), self.shifts.mean(axis=0)
        return turned(rotation, point, (shift[0] * scale, shift[1] * scale, shift[2] * scale))


def copies(repeat: Repeat | None) -> Copies:
    """Return the places of the copies: round an axis at even angles, or along a step."""
    if repeat is None:
        return Copies(np.eye(3)[None], np.zeros((1, 3)))
    steps = np.arange(repeat.count)
    if repeat.around is None:
        step = np.array(repeat.step_m or (0.0, 0.0, 0.0))
        return Copies(np.tile(np.eye(3), (repeat.count, 1, 1)), steps[:, None] * step)
    rotations = np.stack([about(repeat.around, 2.0 * np.pi * k / repeat.count) for k in steps])
    centre = np.array(repeat.centre_m)
    return Copies(rotations, centre - rotations @ centre)


def about(axis: str, angle_rad: float) -> Array:
    """Return the rotation matrix about "x", "y" or "z", counter-clockwise seen from the axis' tip."""
    c, s = (0.0 if abs(v) < 1e-15 else float(v) for v in (np.cos(angle_rad), np.sin(angle_rad)))
    first, second = {"x": (1, 2), "y": (2, 0), "z": (0, 1)}[axis]
    matrix = np.eye(3)
    matrix[first, first] = matrix[second, second] = c
    matrix[first, second], matrix[second, first] = -s, s
    return matrix


def turned(rotation: Array, point: Point, shift: Point = (0.0, 0.0, 0.0)) -> Point:
    """Return rotation @ point + shift for a point whose coordinates are floats or draws (n,)."""
    x, y, z = (
        sum((rotation[i, j] * point[j] for j in range(3) if abs(rotation[i, j]) > 1e-15), shift[i])
        for i in range(3)
    )
    return x, y, z


def likely_place(part: Part) -> Array:
    """Return the likeliest place (3,) of the origin of the part's own frame, metres."""
    return np.array([part.place.x_m.best, part.place.y_m.best, part.place.z_m.best])


def likely_frames(part: Part) -> list[tuple[Array, Array]]:
    """Return the rotation (3, 3) and origin (3,) of every copy's own frame in the body's frame."""
    own, origin, spread_out = turning(part), likely_place(part), copies(part.repeat)
    return [(r @ own, r @ origin + s) for r, s in zip(spread_out.rotations, spread_out.shifts, strict=True)]


def placed_mesh(part: Part, mesh: Mesh, lower_m: float = 0.0) -> Mesh:
    """Return the mesh of a part, all copies in one, in the body's frame.

    `lower_m` moves it down its own axis first: the outside of a coat begins below the part's base.
    """
    own = mesh.vertices - (0.0, 0.0, lower_m)
    frames = likely_frames(part)
    vertices = [own @ rotation.T + origin for rotation, origin in frames]
    if len(frames) == 1:
        return mesh.with_vertices(vertices[0])
    faces = [mesh.faces + k * len(own) for k in range(len(frames))]
    return Mesh(np.concatenate(vertices), np.concatenate(faces))
