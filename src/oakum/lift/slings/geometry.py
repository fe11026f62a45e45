"""Where the hook is, which way each leg runs, which way is up, and how far the load hangs out of level.

A load on one hook hangs so that the hook is vertically over its hanging point. In the load's own frame, up is
therefore the direction from hanging point to hook; the angle between it and z is the tilt, atan(e / h), with
e the offset of the hook from the hanging point in plan and h its height over it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.ground.estimate import weighted_quantile
from oakum.lift.slings.errors import SlingError
from oakum.lift.slings.legs import HookAt, HookByLengths, HookTrimmed, Load, Rig
from oakum.lift.slings.meeting import meeting_point

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]

_TINY = 1e-9
_FLAT = 1e-6
"""Greatest triple product of the directions of the legs; below it they lie in one plane."""


@dataclass(frozen=True, slots=True, eq=False)
class Geometry:
    """Directions over the draws; m is 1 where the hook is one point of the load, else n.

    `hook_m` (m, 3), `unit` (m, k, 3) from attachment to hook, `length_m` (m, k), `up` (n, 3), `sine` (n, k)
    of each leg's angle from the horizontal, `tilt_deg` (n,). Two legs let the load roll about the line of
    their attachments: `roll_deg` (n,) is how far, `overturns` (n,) where the hanging point is not below it.
    """

    attachments_m: Array
    hook_m: Array
    unit: Array
    length_m: Array
    up: Array
    sine: Array
    tilt_deg: Array
    roll_deg: Array | None = None
    overturns: Flags | None = None


def geometry(attachments_m: Array, hook_m: Array, hanging_m: Array) -> Geometry:
    """Return the geometry of legs from `attachments_m` (k, 3) to `hook_m` (3,) or (n, 3).

    `hanging_m` (n, 3) are the hanging points. Two legs are first rolled about the line of their attachments
    until hook, line and hanging point are in one plane. Raises `SlingError` for a hook below the load, for
    attachments in a line, on one point, or in one plane with the hook.
    """
    points = np.asarray(attachments_m, dtype=np.float64)
    hook = np.atleast_2d(np.asarray(hook_m, dtype=np.float64))
    hanging = np.atleast_2d(np.asarray(hanging_m, dtype=np.float64))
    _check_points(points)
    _check_above(points, hook, hanging)
    roll = overturns = None
    if len(points) == 2:
        hook, roll, overturns = _rolled(points, hook, hanging)
    reach = hook[:, None, :] - points
    length = np.linalg.norm(reach, axis=2)
    unit = reach / length[:, :, None]
    if len(points) > 2:
        _check_spread(unit)
    rise = hook - hanging
    up = rise / np.linalg.norm(rise, axis=1)[:, None]
    sine = up @ unit[0].T if len(unit) == 1 else np.einsum("nki,ni->nk", unit, up)
    tilt = np.degrees(np.arctan2(np.hypot(up[:, 0], up[:, 1]), up[:, 2]))
    return Geometry(points, hook, unit, length, up, sine, tilt, roll, overturns)


def attachments_of(rig: Rig) -> Array:
    """Return the attachment points of a rig's legs (k, 3), having counted the legs."""
    if not 2 <= len(rig.legs) <= 4:
        raise SlingError(f"a hook takes two, three or four legs here, got {len(rig.legs)}; use a spreader")
    names = [leg.name for leg in rig.legs]
    if len(set(names)) < len(names):
        raise SlingError("two legs have one name; give each its own, or nobody knows which is meant")
    points = np.array([leg.attachment_m for leg in rig.legs], dtype=np.float64)
    if not np.all(np.isfinite(points)):
        raise SlingError("every attachment point needs three finite coordinates")
    return points


def hook_of(rig: Rig, load: Load) -> Array:
    """Return the hook of a rig in the load's frame, (1, 3), or (n, 3) where the legs are trimmed to each draw."""
    points = attachments_of(rig)
    if isinstance(rig.hook, HookAt):
        return np.array([rig.hook.point_m], dtype=np.float64)
    if isinstance(rig.hook, HookByLengths):
        return meeting_point(rig.legs, points)[None, :]
    height = rig.hook.height_m
    if not height > 0.0:
        raise SlingError(f"the hook must be above the topmost attachment, got {height:g} m; give longer legs")
    top = float(points[:, 2].max()) + height
    if isinstance(rig.hook, HookTrimmed):
        return np.column_stack((load.hanging_m[:, :2], np.full(len(load.hanging_m), top)))
    return hook_over(load, top)[None, :]


def hook_over(load: Load, level_m: float) -> Array:
    """Return the point (3,) at `level_m` over the likely hanging point of a load: the median in x and in y."""
    x, y = (float(weighted_quantile(load.hanging_m[:, a], 0.5, load.use_weights)) for a in (0, 1))
    return np.array([x, y, level_m])


def _check_points(points: Array) -> None:
    size = float(np.ptp(points, axis=0).max())
    for i in range(len(points)):
        for j in range(i):
            if np.linalg.norm(points[i] - points[j]) <= max(_FLAT * size, _TINY):
                raise SlingError(
                    f"legs {j + 1} and {i + 1} share one attachment point; give each leg its own point"
                )
    spread = np.linalg.svd(points - points.mean(axis=0), compute_uv=False)
    if len(points) > 2 and spread[1] <= 1e-4 * spread[0]:
        raise SlingError(
            f"the attachment points of the {len(points)} legs lie in a line: the load would roll about it; "
            "move one out of the line, or use two legs"
        )


def _check_above(points: Array, hook: Array, hanging: Array) -> None:
    lowest = float(hook[:, 2].min())
    top = float(points[:, 2].max())
    if lowest <= top:
        raise SlingError(
            f"the hook is below the load: at {lowest:.2f} m, its topmost attachment at {top:.2f} m; "
            "raise the hook or give longer legs"
        )
    if np.any(hook[:, 2] <= hanging[:, 2]):
        raise SlingError(
            f"the hook at {lowest:.2f} m is not above the hanging point, which may lie at "
            f"{float(hanging[:, 2].max()):.2f} m: the load would turn over; raise the hook"
        )


def _check_spread(unit: Array) -> None:
    """Refuse directions (m, k, 3) of which no three span space: their greatest triple product says so."""
    a, b, c = (unit[:, i] for i in range(3))
    bc = np.cross(b, c)
    most = np.abs(np.sum(a * bc, axis=1))
    if unit.shape[1] == 4:
        d = unit[:, 3]
        others = (
            np.sum(d * bc, axis=1),
            np.sum(d * np.cross(a, b), axis=1),
            np.sum(d * np.cross(a, c), axis=1),
        )
        most = np.max(np.abs((most, *others)), axis=0)
    if np.any(most <= _FLAT):
        raise SlingError(
            "attachment points and hook lie in one plane: the load would swing out of it; move one attachment "
            "point or the hook out of the plane"
        )


def _rolled(points: Array, hook: Array, hanging: Array) -> tuple[Array, Array, Flags]:
    """Return hook (n, 3) with the load rolled about the line of two attachments, roll in degrees, overturns."""
    start = points[0]
    axis = (points[1] - start) / np.linalg.norm(points[1] - start)
    if abs(axis[2]) > 1.0 - _FLAT:
        raise SlingError("the two attachment points are one above the other; they cannot hold the load level")
    up = np.array([0.0, 0.0, 1.0]) - axis[2] * axis
    up /= np.linalg.norm(up)
    along_hook = (hook - start) @ axis
    height = np.linalg.norm(hook - start - along_hook[:, None] * axis, axis=1)
    if np.any(height <= _TINY):
        raise SlingError("the hook lies on the line of the two attachment points; raise it")
    away = hanging - start
    away = away - (away @ axis)[:, None] * axis
    depth = np.linalg.norm(away, axis=1)
    below = -(away @ up)
    side = np.abs(away @ np.cross(axis, up))
    overturns = below <= _TINY
    away = np.where((depth <= _TINY)[:, None], -up, away / np.maximum(depth, _TINY)[:, None])
    rolled = start + along_hook[:, None] * axis - height[:, None] * away
    return rolled, np.degrees(np.arctan2(side, below)), overturns
