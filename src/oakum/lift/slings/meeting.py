"""Where legs of given length meet: the hook, in the load's frame."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from oakum.lift.slings.errors import SlingError
from oakum.lift.slings.legs import Leg

Array = NDArray[np.float64]

_STEPS = 60


def meeting_point(legs: Sequence[Leg], attachments_m: Array) -> Array:
    """Return the hook (3,) where the legs meet.

    Two legs meet in the upright plane through their attachments, three in one point. Four that do not meet
    in one point are given the point that is least out of all lengths (least squares). Raises `SlingError`
    for a leg without length and for legs too short to meet.
    """
    lengths = []
    for leg in legs:
        if leg.length_m is None:
            raise SlingError(
                f'leg "{leg.name}": its length is not known; type it, or say where the hook hangs'
            )
        if not leg.length_m > 0.0:
            raise SlingError(
                f'leg "{leg.name}": its length must be greater than zero, got {leg.length_m:g} m'
            )
        lengths.append(leg.length_m)
    length = np.array(lengths)
    if len(legs) == 2:
        return _two(attachments_m, length)
    hook = three_spheres(attachments_m[:3], length[:3])
    return hook if len(legs) == 3 else _least_squares(attachments_m, length)


def three_spheres(centres_m: Array, radii_m: Array) -> Array:
    """Return the upper of the two points (3,) at `radii_m` (3,) from `centres_m` (3, 3). In closed form."""
    a, b, c = centres_m
    ex = (b - a) / np.linalg.norm(b - a)
    i = float(ex @ (c - a))
    ey = c - a - i * ex
    j = float(np.linalg.norm(ey))
    if j <= 1e-9 * np.linalg.norm(c - a):
        raise SlingError("the attachment points of three legs lie in a line; move one out of the line")
    ey /= j
    ez = np.cross(ex, ey)
    if ez[2] < 0.0:
        ez = -ez
    d = float(np.linalg.norm(b - a))
    x = (radii_m[0] ** 2 - radii_m[1] ** 2 + d**2) / (2.0 * d)
    y = (radii_m[0] ** 2 - radii_m[2] ** 2 + i**2 + j**2 - 2.0 * i * x) / (2.0 * j)
    height2 = radii_m[0] ** 2 - x**2 - y**2
    if height2 <= 0.0:
        raise SlingError("the legs are too short to meet; give longer legs")
    return np.asarray(a + x * ex + y * ey + np.sqrt(height2) * ez)


def _two(points: Array, length: Array) -> Array:
    span = float(np.linalg.norm(points[1] - points[0]))
    axis = (points[1] - points[0]) / span
    up = np.array([0.0, 0.0, 1.0]) - axis[2] * axis
    size = float(np.linalg.norm(up))
    along = (length[0] ** 2 - length[1] ** 2 + span**2) / (2.0 * span)
    height2 = length[0] ** 2 - along**2
    if size <= 1e-6 or height2 <= 0.0:
        raise SlingError("the two legs are too short to meet over the load; give longer legs")
    return np.asarray(points[0] + along * axis + np.sqrt(height2) * up / size)


def _least_squares(points: Array, length: Array) -> Array:
    """Return the point least out of four lengths, by Gauss and Newton from a point well above."""
    middle = points.mean(axis=0)
    away = float(np.mean(length**2 - np.sum((points - middle) ** 2, axis=1)))
    if away <= 0.0:
        raise SlingError("the four legs are too short to meet; give longer legs")
    hook = middle + np.array([0.0, 0.0, np.sqrt(away)])
    for _ in range(_STEPS):
        reach = hook - points
        now = np.linalg.norm(reach, axis=1)
        step = np.linalg.lstsq(reach / now[:, None], length - now, rcond=None)[0]
        hook = hook + step
        if np.linalg.norm(step) <= 1e-12 * float(length.max()):
            break
    if hook[2] <= points[:, 2].max():
        raise SlingError("the four legs are too short to meet above the load; give longer legs")
    return np.asarray(hook)
