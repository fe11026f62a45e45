"""How a load hangs in one state: turned about its hook until the hanging point is plumb below it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from oakum.draw.outline import Chain, Outline, View, outline
from oakum.draw.parts import Shown, drawn_parts, shown_parts
from oakum.lift import Body
from oakum.lift.raising.plan import RigView
from oakum.lift.weights.report import Centre

Array = NDArray[np.float64]
Point3 = tuple[float, float, float]
RIGGING = "rigging"
_LEVEL_DEG = 0.02
_PEN = 4e-3
"""Steps of a turn's sines and cosines in which outlines are kept: 8 mm at 2 m from the middle, under a pixel."""


@dataclass(frozen=True, slots=True)
class Pose:
    """A turn about the hook: rows of the rotation matrix, and the point that stays."""

    rows: tuple[Point3, Point3, Point3]
    hook_m: Point3

    def at(self, points: Array) -> Array:
        """Return where points (..., 3) of the body's frame come to lie."""
        hook = np.asarray(self.hook_m)
        return np.asarray((np.asarray(points, dtype=np.float64) - hook) @ np.asarray(self.rows).T + hook)

    @property
    def is_level(self) -> bool:
        """Whether nothing is turned."""
        return self.rows == ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


def pose_of(view: RigView) -> Pose:
    """Return how the load of a view hangs: by its tilt, towards where its hanging point is off.

    Where no tilt is given, or the hanging point lies plumb below the hook, the load is drawn level.
    """
    hook, hanging = np.asarray(view.hook_m), np.asarray(view.hanging_m)
    side = (hook - hanging)[:2]
    away = float(np.hypot(*side))
    level = Pose(((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)), view.hook_m)
    if view.tilt_deg is None or view.tilt_deg < _LEVEL_DEG or away < 1e-6:
        return level
    ax, ay = float(side[1] / away), float(-side[0] / away)  # level axis, square to the offset
    cos, sin = float(np.cos(np.radians(view.tilt_deg))), float(np.sin(np.radians(view.tilt_deg)))
    rest = 1.0 - cos
    return Pose(
        (
            (cos + ax * ax * rest, ax * ay * rest, ay * sin),
            (ax * ay * rest, cos + ay * ay * rest, -ax * sin),
            (-ay * sin, ax * sin, cos),
        ),
        view.hook_m,
    )


@lru_cache(maxsize=16)
def posed_parts(body: Body, pose: Pose, look: View) -> tuple[tuple[Shown, Outline], ...]:
    """Return every piece with its outline as the load hangs; slings among the parts are drawn as legs instead.

    Outlines are turned in steps finer than a pen and moved to their place, so that a hook that rises under the
    same load does not ask for them again.
    """
    if pose.is_level:
        return tuple((piece, lines) for piece, lines in drawn_parts(body, look) if piece.role != RIGGING)
    steps = tuple(tuple(round(value / _PEN) for value in row) for row in pose.rows)
    hook = np.asarray(pose.hook_m)
    by = look.flat((hook - np.asarray(pose.rows) @ hook)[None, :])[0]
    return tuple(
        (Shown(piece.name, piece.role, pose.at(piece.vertices), piece.faces), _moved(lines, by))
        for piece, lines in zip(_own(body), _turned(body, steps, look), strict=True)
    )


@lru_cache(maxsize=16)
def _turned(body: Body, steps: tuple[tuple[int, ...], ...], look: View) -> tuple[Outline, ...]:
    """Return the outline of every piece turned about the origin; `steps` are the rows of the turn in pens."""
    rows = _PEN * np.asarray(steps, dtype=np.float64)
    return tuple(outline(piece.vertices @ rows.T, piece.faces, look) for piece in _own(body))


def _own(body: Body) -> tuple[Shown, ...]:
    return tuple(piece for piece in shown_parts(body) if piece.role != RIGGING)


def _moved(lines: Outline, by: Array) -> Outline:
    right, up = float(by[0]), float(by[1])

    def each(chains: tuple[Chain, ...]) -> tuple[Chain, ...]:
        return tuple(tuple((x + right, y + up) for x, y in chain) for chain in chains)

    ends = (lines.low, lines.high)
    (low, high) = each((ends,))[0]
    return Outline(each(lines.edges), each(lines.area), low, high)


def cloud(centre: Centre, pose: Pose, look: View) -> tuple[tuple[float, float], tuple[float, float], float]:
    """Return middle, half axes (metres) and turn (degrees, anticlockwise) of a centre's P5 to P95 ellipse."""
    spreads = (centre.x_m, centre.y_m, centre.z_m)
    middle = pose.at(np.array([(s.p5 + s.p95) / 2 for s in spreads]))
    half = np.diag([((s.p95 - s.p5) / 2) ** 2 for s in spreads])
    rows = np.asarray(pose.rows)
    flat = (rows @ half @ rows.T)[np.ix_((look.right, look.up), (look.right, look.up))]
    sizes, ways = np.linalg.eigh(flat)
    turn = float(np.degrees(np.arctan2(ways[1, 1], ways[0, 1])))
    small, large = (float(np.sqrt(max(v, 0.0))) for v in sizes)
    return (float(middle[look.right]), float(middle[look.up])), (large, small), turn
