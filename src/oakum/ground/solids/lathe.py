"""Turning a profile about the z axis into a closed mesh of equal slice area."""

from __future__ import annotations

import math

import numpy as np

from oakum.ground.solids.dims import FloatArray, IntArray
from oakum.ground.solids.errors import SolidError
from oakum.ground.solids.mesh import Mesh


def equal_area_factor(facets: int) -> float:
    """Return corner radius / circle radius of the polygon of the circle's area (1.0014 at 48 sides)."""
    if facets < 8:
        raise SolidError(f"a round solid needs at least 8 facets, got {facets}.")
    step = 2 * math.pi / facets
    return math.sqrt(step / math.sin(step))


def polygon(radius_m: float, facets: int, x_m: float = 0.0, y_m: float = 0.0) -> FloatArray:
    """Return the corners (facets, 2) of the equal-area polygon of a circle, counter-clockwise, m."""
    angle = (np.arange(facets) + 0.5) * (2 * math.pi / facets)
    r = radius_m * equal_area_factor(facets)
    return np.column_stack((x_m + r * np.cos(angle), y_m + r * np.sin(angle)))


def turned_solid(radii_m: FloatArray, heights_m: FloatArray, facets: int) -> Mesh:
    """Return the mesh of a profile (k,) of radii > 0 at rising heights, closed by a flat base and top."""
    vertices = _rings(radii_m, heights_m, facets)
    count = len(radii_m)
    base, top = len(vertices), len(vertices) + 1
    axis = np.array([[0.0, 0.0, heights_m[0]], [0.0, 0.0, heights_m[-1]]])
    here = np.arange(facets)
    after = (here + 1) % facets
    last = (count - 1) * facets
    caps = (
        np.column_stack((np.full(facets, base), after, here)),
        np.column_stack((np.full(facets, top), last + here, last + after)),
    )
    sides = [_band(k, k + 1, facets) for k in range(count - 1)]
    return Mesh(np.vstack((vertices, axis)), np.vstack((*caps, *sides)))


def turned_loop(radii_m: FloatArray, heights_m: FloatArray, facets: int) -> Mesh:
    """Return the mesh of a closed profile (k,) clear of the axis, going up outside and down inside."""
    count = len(radii_m)
    bands = [_band(k, (k + 1) % count, facets) for k in range(count)]
    return Mesh(_rings(radii_m, heights_m, facets), np.vstack(bands))


def _rings(radii_m: FloatArray, heights_m: FloatArray, facets: int) -> FloatArray:
    circle = polygon(1.0, facets)
    xy = np.asarray(radii_m)[:, None, None] * circle
    z = np.broadcast_to(np.asarray(heights_m)[:, None, None], (len(radii_m), facets, 1))
    return np.concatenate((xy, z), axis=2).reshape(-1, 3)


def _band(lower: int, upper: int, facets: int) -> IntArray:
    """Return the triangles between two rings of vertices, outward when going up the outside."""
    here = np.arange(facets)
    after = (here + 1) % facets
    a, b = lower * facets + here, lower * facets + after
    c, d = upper * facets + here, upper * facets + after
    return np.vstack((np.column_stack((a, b, d)), np.column_stack((a, d, c))))
