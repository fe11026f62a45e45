"""Contours of a surface: lines of equal height along its triangles, never finer than the levels can tell."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor

from oakum.seabed.dig.errors import DigError
from oakum.seabed.dig.outline import Outline, Point
from oakum.seabed.dig.surface import Surface

FINEST_SD = 2.0
"""A contour interval is at least this many sd of a level: closer lines would draw noise (practice, no source)."""
MOST_CONTOURS = 200
_ROUND = (0.01, 0.02, 0.05, 0.1, 0.2, 0.25, 0.5, 1.0, 2.0, 5.0)


@dataclass(frozen=True, slots=True)
class Contour:
    """Lines of one height; `lines` are chains of places (x, y), closed where first and last are the same."""

    z_m: float
    lines: tuple[tuple[Point, ...], ...]


def contours(
    held: Surface, interval_m: float, *, sd_m: float | None, where: Outline | None = None
) -> tuple[Contour, ...]:
    """Return the contours at whole multiples of an interval, inside `where` if given.

    Raises `DigError` where `sd_m` is not known, or the interval is finer than 2 sd of a level.
    """
    if sd_m is None:
        raise DigError(
            "the sd of the levels is not known, so nothing says how fine contours may be; enter it"
        )
    if not interval_m > 0.0:
        raise DigError("the distance between contours is a height greater than nothing")
    if interval_m < FINEST_SD * sd_m * (1 - 1e-9):
        raise DigError(
            f"contours every {interval_m:g} m are finer than the levels can tell (sd {sd_m:g} m): lines closer than "
            f"2 sd draw the noise; choose {finest_interval_m(sd_m):g} m or more"
        )
    heights = [float(z) for z in held.z_m]
    first, last = ceil(min(heights) / interval_m - 1e-9), floor(max(heights) / interval_m + 1e-9)
    if last - first > MOST_CONTOURS:
        raise DigError(f"{last - first + 1:,} contours would be drawn; choose a greater distance")
    found = []
    for step in range(first, last + 1):
        z = step * interval_m
        pieces = _pieces(held, heights, z)
        if where is not None:
            pieces = [part for piece in pieces for part in _inside(piece, where)]
        if pieces:
            found.append(Contour(z, tuple(_chains(pieces))))
    return tuple(found)


def finest_interval_m(sd_m: float) -> float:
    """Return the finest round interval the levels allow."""
    return next((step for step in _ROUND if step >= FINEST_SD * sd_m * (1 - 1e-9)), ceil(FINEST_SD * sd_m))


def _pieces(held: Surface, heights: Sequence[float], z: float) -> list[tuple[Point, Point]]:
    """Cross every triangle; a corner at the very height counts as above, so that each is crossed twice or never."""
    found = []
    for corners in held.triangles:
        ends: list[Point] = []
        for k in range(3):
            i, j = int(corners[k]), int(corners[(k + 1) % 3])
            if (heights[i] >= z) != (heights[j] >= z):
                low, high = (
                    (i, j) if i < j else (j, i)
                )  # the same way from both sides, so that pieces meet exactly
                t = (z - heights[low]) / (heights[high] - heights[low])
                a, b = held.nodes[low], held.nodes[high]
                ends.append((float(a[0] + t * (b[0] - a[0])), float(a[1] + t * (b[1] - a[1]))))
        if len(ends) == 2 and ends[0] != ends[1]:
            found.append((ends[0], ends[1]))
    return found


def _inside(piece: tuple[Point, Point], where: Outline) -> list[tuple[Point, Point]]:
    """Cut a straight piece by the outline."""
    (ax, ay), (bx, by) = piece
    cuts = {0.0, 1.0}
    for (cx, cy), (dx, dy) in where.sides:
        cross = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx)
        if abs(cross) > 1e-15:
            t = ((cx - ax) * (dy - cy) - (cy - ay) * (dx - cx)) / cross
            if 0.0 < t < 1.0:
                cuts.add(t)
    marks = sorted(cuts)
    found = []
    for t, u in pairwise(marks):
        middle = 0.5 * (t + u)
        if u - t > 1e-12 and where.holds(ax + middle * (bx - ax), ay + middle * (by - ay)):
            start = piece[0] if t == 0.0 else (ax + t * (bx - ax), ay + t * (by - ay))
            end = piece[1] if u == 1.0 else (ax + u * (bx - ax), ay + u * (by - ay))
            found.append((start, end))
    return found


def _chains(pieces: Sequence[tuple[Point, Point]]) -> list[tuple[Point, ...]]:
    """Join pieces that share an end into chains."""
    at: dict[Point, list[int]] = {}
    for index, piece in enumerate(pieces):
        for end in piece:
            at.setdefault(end, []).append(index)
    used = [False] * len(pieces)
    found = []
    starts = sorted(
        range(len(pieces)), key=lambda i: min(len(at[end]) for end in pieces[i])
    )  # open ends first
    for start in starts:
        if used[start]:
            continue
        a, b = pieces[start]
        chain = [a, b] if len(at[a]) == 1 or len(at[b]) != 1 else [b, a]
        used[start] = True
        while True:
            onward = next((i for i in at[chain[-1]] if not used[i]), None)
            if onward is None:
                break
            used[onward] = True
            a, b = pieces[onward]
            chain.append(b if a == chain[-1] else a)
        found.append(tuple(chain))
    return found
