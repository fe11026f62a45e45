"""What each kind of reading should say, and its derivatives.

Each function takes the values it depends on, row by row (m, k), and constants (m, c), and gives what would be read
(m,) and its derivatives (m, k). Coordinates come as x, y, z of each mark in turn; further unknowns follow. Metres;
a bearing is in degrees.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Equation = Callable[[Array, Array], tuple[Array, Array]]

SHORTEST_M = 1e-9
"""Two marks nearer than this have no direction; the derivatives there are finite and meaningless."""


def tape(v: Array, c: Array) -> tuple[Array, Array]:
    """Slope distance (1 + s) D + z. v: a, b, scale, zero beyond what is known; c: known scale, known zero."""
    line = v[:, 3:6] - v[:, 0:3]
    distance = np.maximum(np.sqrt(np.einsum("ij,ij->i", line, line)), SHORTEST_M)
    gain = 1.0 + c[:, 0] + v[:, 6]
    d = np.empty_like(v)
    d[:, 3:6] = line * (gain / distance)[:, None]
    d[:, 0:3] = -d[:, 3:6]
    d[:, 6], d[:, 7] = distance, 1.0
    return gain * distance + c[:, 1] + v[:, 7], d


def depth(v: Array, c: Array) -> tuple[Array, Array]:
    """Depth on a gauge. v: z of the mark, water level beyond what is known, offset; c: known level, gauge above."""
    d = np.tile([-1.0, 1.0, 1.0], (len(v), 1))
    return c[:, 0] + v[:, 1] - v[:, 0] - c[:, 1] + v[:, 2], d


def level(v: Array, c: Array) -> tuple[Array, Array]:
    """How far b is above a. v: z of a, z of b."""
    return v[:, 1] - v[:, 0], np.tile([-1.0, 1.0], (len(v), 1))


def bearing(v: Array, c: Array) -> tuple[Array, Array]:
    """Bearing from a to b as read on the compass, degrees. v: xy of a, xy of b, turn in degrees; c: known turn.

    What is read is the bearing from site north less the turn (declination, east positive, and what turns true
    north to site north). It is not brought into 0 to 360: residuals are.
    """
    dx, dy = v[:, 2] - v[:, 0], v[:, 3] - v[:, 1]
    square = np.maximum(dx * dx + dy * dy, SHORTEST_M**2)
    d = np.empty_like(v)
    d[:, 2], d[:, 3] = np.degrees(dy / square), np.degrees(-dx / square)
    d[:, 0:2] = -d[:, 2:4]
    d[:, 4] = -1.0
    return np.degrees(np.arctan2(dx, dy)) - c[:, 0] - v[:, 4], d


def coordinate(v: Array, c: Array) -> tuple[Array, Array]:
    """One unknown read as itself: a fix, a weighted datum, what is known of a tape or gauge."""
    return v[:, 0].copy(), np.ones_like(v)


def along(v: Array, c: Array) -> tuple[Array, Array]:
    """How far a mark lies along a horizontal baseline. v: xy of the mark, of the line's start, of its end."""
    p, line = v[:, 0:2] - v[:, 2:4], v[:, 4:6] - v[:, 2:4]
    length = np.maximum(np.hypot(line[:, 0], line[:, 1]), SHORTEST_M)
    u = line / length[:, None]
    n = np.column_stack([-u[:, 1], u[:, 0]])
    t, o = np.einsum("ij,ij->i", p, u), np.einsum("ij,ij->i", p, n)
    d = np.empty_like(v)
    d[:, 0:2] = u
    d[:, 4:6] = n * (o / length)[:, None]
    d[:, 2:4] = -u - d[:, 4:6]
    return t, d


def left(v: Array, c: Array) -> tuple[Array, Array]:
    """How far a mark lies left of a horizontal baseline. v as for `along`."""
    p, line = v[:, 0:2] - v[:, 2:4], v[:, 4:6] - v[:, 2:4]
    length = np.maximum(np.hypot(line[:, 0], line[:, 1]), SHORTEST_M)
    u = line / length[:, None]
    n = np.column_stack([-u[:, 1], u[:, 0]])
    t, o = np.einsum("ij,ij->i", p, u), np.einsum("ij,ij->i", p, n)
    d = np.empty_like(v)
    d[:, 0:2] = n
    d[:, 4:6] = -n * (t / length)[:, None]
    d[:, 2:4] = -n - d[:, 4:6]
    return o, d


def tie(v: Array, c: Array) -> tuple[Array, Array]:
    """Slope distance from a chainage on a taut baseline. v: mark, line's start, end, scale, zero; c: known, chainage.

    c: known scale, known zero, chainage from the start of the line.
    """
    line = v[:, 6:9] - v[:, 3:6]
    length = np.maximum(np.sqrt(np.einsum("ij,ij->i", line, line)), SHORTEST_M)
    u = line / length[:, None]
    share = c[:, 2] / length
    arm = v[:, 0:3] - v[:, 3:6] - c[:, 2:3] * u
    distance = np.maximum(np.sqrt(np.einsum("ij,ij->i", arm, arm)), SHORTEST_M)
    gain = 1.0 + c[:, 0] + v[:, 9]
    e = arm * (gain / distance)[:, None]
    across = (e - u * np.einsum("ij,ij->i", e, u)[:, None]) * share[:, None]
    d = np.empty_like(v)
    d[:, 0:3], d[:, 3:6], d[:, 6:9] = e, across - e, -across
    d[:, 9], d[:, 10] = distance, 1.0
    return gain * distance + c[:, 1] + v[:, 10], d


EQUATIONS: dict[str, Equation] = {
    "tape": tape,
    "depth": depth,
    "level": level,
    "bearing": bearing,
    "coordinate": coordinate,
    "along": along,
    "left": left,
    "tie": tie,
}
