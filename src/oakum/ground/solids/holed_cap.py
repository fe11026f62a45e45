"""Filling a polygon with holes by triangles (bridges and ear clipping), and raising it to a prism."""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from oakum.ground.solids.dims import FloatArray, IntArray
from oakum.ground.solids.errors import SolidError
from oakum.ground.solids.mesh import Mesh


def extruded(rim: FloatArray, holes: list[FloatArray], height_m: float) -> Mesh:
    """Return the prism 0 <= z <= `height_m` over a polygon (n, 2) with holes, all counter-clockwise."""
    loops = [rim, *(hole[::-1] for hole in holes)]
    flat = np.vstack(loops)
    starts = np.cumsum([0, *(len(loop) for loop in loops)])
    rings = [np.arange(a, b) for a, b in pairwise(starts)]
    cap = filled(flat, rings)
    n = len(flat)
    here = np.concatenate(rings)
    after = np.concatenate([np.roll(ring, -1) for ring in rings])
    walls = (np.column_stack((here, after, after + n)), np.column_stack((here, after + n, here + n)))
    vertices = np.vstack(
        (np.column_stack((flat, np.zeros(n))), np.column_stack((flat, np.full(n, height_m))))
    )
    return Mesh(vertices, np.vstack((cap[:, ::-1], cap + n, *walls)))


def filled(flat: FloatArray, rings: list[IntArray]) -> IntArray:
    """Return triangles over points (n, 2): first ring the rim (counter-clockwise), then holes (clockwise)."""
    chain = list(rings[0])
    # From the right: a hole's rightmost corner then always sees the part already joined.
    holes = sorted(rings[1:], key=lambda ring: -float(flat[ring, 0].max()))
    for k, hole in enumerate(holes):
        chain = _bridged(flat, chain, hole, holes[k:])
    return _ears(flat, chain)


def _bridged(flat: FloatArray, chain: list[int], hole: IntArray, waiting: list[IntArray]) -> list[int]:
    """Return the chain with `hole` joined by a bridge, walked both ways, to the nearest corner it sees."""
    start = int(np.argmax(flat[hole, 0]))
    loop = [int(i) for i in np.roll(hole, -start)]
    origin = flat[loop[0]]
    order = np.argsort(((flat[chain] - origin) ** 2).sum(axis=1), kind="stable")
    starts = np.concatenate((chain, *waiting))
    ends = np.concatenate((np.roll(chain, -1), *(np.roll(ring, -1) for ring in waiting)))
    a, b = flat[starts], flat[ends]
    for at in order:
        position = int(at)
        if _sees(origin, flat[chain[position]], a, b) and _within(flat, chain, position, origin):
            return [*chain[: position + 1], *loop, loop[0], *chain[position:]]
    raise SolidError("a hole cannot be joined to the rim: the holes or the rim cross.")


def _sees(p: FloatArray, q: FloatArray, a: FloatArray, b: FloatArray) -> bool:
    """Does the segment p-q cross none of the segments a-b (k, 2) and pass through none of their ends?"""
    across = _turn(a, b, p) * _turn(a, b, q) < 0
    along = _turn(p, q, a) * _turn(p, q, b) < 0
    run = q - p
    share = (a - p) @ run / (run @ run)
    touched = (np.abs(_turn(p, q, a)) < 1e-9 * (run @ run)) & (share > 1e-9) & (share < 1 - 1e-9)
    return not bool((across & along | touched).any())


def _within(flat: FloatArray, chain: list[int], position: int, target: FloatArray) -> bool:
    """Does the bridge leave the chain's corner into its inside (a corner walked twice has two insides)?"""
    before, corner = flat[chain[position - 1]], flat[chain[position]]
    after = flat[chain[(position + 1) % len(chain)]]
    left_of_in = float(_turn(before, corner, target)) > 0
    left_of_out = float(_turn(corner, after, target)) > 0
    convex = float(_turn(before, corner, after)) > 0
    return left_of_in and left_of_out if convex else left_of_in or left_of_out


def _ears(flat: FloatArray, chain: list[int]) -> IntArray:
    """Return the triangles of a simple polygon, its bridges walked twice, by cutting off ears."""
    left = list(chain)
    flat_m2 = 1e-9 * float(np.ptp(flat, axis=0).max()) ** 2  # a sliver's normal would be rounding
    triangles: list[tuple[int, int, int]] = []
    i = misses = 0
    while len(left) > 3:
        i %= len(left)
        corner = (left[i - 1], left[i], left[(i + 1) % len(left)])
        if _is_ear(flat, corner, left, flat_m2):
            triangles.append(corner)
            del left[i]
            i, misses = i + 1, 0  # step on, so that ears are taken all round and slivers stay few
        else:
            i, misses = i + 1, misses + 1
            if misses > len(left):
                raise SolidError("a polygon with holes cannot be filled: its edges cross.")
    triangles.append((left[0], left[1], left[2]))
    return np.array(triangles, dtype=np.int64)


def _is_ear(flat: FloatArray, corner: tuple[int, int, int], chain: list[int], flat_m2: float) -> bool:
    a, b, c = flat[list(corner)]
    if _turn(a, b, c) <= flat_m2:
        return False
    others = flat[[k for k in chain if k not in corner]]
    inside = (_turn(a, b, others) >= 0) & (_turn(b, c, others) >= 0) & (_turn(c, a, others) >= 0)
    return not bool(inside.any())


def _turn(a: FloatArray, b: FloatArray, c: FloatArray) -> FloatArray:
    """Return twice the signed area of a-b-c, broadcast: positive when c lies left of a to b."""
    return np.asarray(
        (b[..., 0] - a[..., 0]) * (c[..., 1] - a[..., 1]) - (b[..., 1] - a[..., 1]) * (c[..., 0] - a[..., 0])
    )
