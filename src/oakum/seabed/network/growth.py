"""A start without coordinates: from a few marks outward, each placed from tapes to those that have a place."""

from __future__ import annotations

import heapq
from collections.abc import Callable
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from oakum.seabed.network.placing import candidates
from oakum.seabed.network.sights import Sights

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]
Refine = Callable[[Array, Bools], Array]

CLEAR_M = 0.2
"""A candidate is clear when the next one misses by this much more in all."""


class Growth:
    """Places found so far. `heights` (n,) are known beforehand, nan where not; `places` (n, 3) grow."""

    def __init__(self, sights: Sights, heights: Array) -> None:
        self.sights = sights
        self.heights = heights
        self.places = np.zeros((len(heights), 3))
        self.placed: Bools = np.zeros(len(heights), dtype=bool)
        self.miss = 0.0

    def put(self, mark: int, place: Array) -> None:
        """Give a mark its place."""
        self.places[mark] = place
        self.placed[mark] = True

    def anchors(self, mark: int) -> tuple[Array, Array]:
        """Places with distances to the mark: marks that have a place, chainages on lines that have."""
        found: list[tuple[Array, float]] = [
            (self.places[other], r) for other, r in self.sights.tapes.get(mark, ()) if self.placed[other]
        ]
        for a, b, at, r in self.sights.ties.get(mark, ()):
            if self.placed[a] and self.placed[b]:
                line = self.places[b] - self.places[a]
                found.append((self.places[a] + at * line / max(float(np.linalg.norm(line)), 1e-6), r))
        if not found:
            return np.zeros((0, 3)), np.zeros(0)
        return np.array([p for p, _ in found]), np.array([r for _, r in found])

    def by_offset(self, mark: int) -> Array | None:
        """The place an offset gives outright."""
        for a, b, along, left in self.sights.offsets.get(mark, ()):
            if self.placed[a] and self.placed[b] and np.isfinite(along) and np.isfinite(left):
                line = self.places[b, :2] - self.places[a, :2]
                u = line / max(float(np.hypot(*line)), 1e-6)
                level = self.places[a, :2] + along * u + left * np.array([-u[1], u[0]])
                z = self.heights[mark] if np.isfinite(self.heights[mark]) else self.places[[a, b], 2].mean()
                return np.array([level[0], level[1], z])
        return None

    def options(self, mark: int) -> list[tuple[float, Array]]:
        """Candidates for a mark, best first."""
        z = float(self.heights[mark])
        anchors, distances = self.anchors(mark)
        offset = self.by_offset(mark)
        if offset is not None:
            return [(0.0, offset)]
        return candidates(anchors, distances, z if np.isfinite(z) else None)

    def grow(self, most: int, refine: Refine | None = None) -> None:
        """Place marks until nothing more can be placed or `most` are.

        The mark with most anchors comes first. One whose two best candidates fit alike waits for more anchors; when
        nothing clear is left the best of the unclear ones is taken. `refine` adjusts what stands at each doubling.
        """
        heap: list[tuple[int, int]] = []
        unclear: set[int] = set()
        tried: dict[int, int] = {}

        def look(mark: int) -> None:
            for other in self.sights.waiting.get(mark, ()):
                if not self.placed[other]:
                    heapq.heappush(heap, (-self._count(other), other))

        for mark in np.flatnonzero(self.placed).tolist():
            look(mark)
        next_refine = 8
        while self.placed.sum() < most:
            forced = not heap
            if forced and not unclear:
                return
            mark = max(unclear, key=lambda m: (self._count(m), -m)) if forced else heapq.heappop(heap)[1]
            if self.placed[mark] or (not forced and tried.get(mark) == self._count(mark)):
                continue
            options = self.options(mark)
            tried[mark] = self._count(mark)
            clear = options and (len(options) == 1 or options[1][0] - options[0][0] > CLEAR_M)
            if not options or not (clear or forced):
                if options:
                    unclear.add(mark)
                elif forced:
                    unclear.discard(mark)
                continue
            self.put(mark, options[0][1])
            self.miss += options[0][0]
            unclear.discard(mark)
            look(mark)
            if refine is not None and self.placed.sum() >= next_refine:
                self.places = refine(self.places, self.placed)
                next_refine = 2 * int(self.placed.sum())

    def _count(self, mark: int) -> int:
        own = sum(1 for other, _ in self.sights.tapes.get(mark, ()) if self.placed[other])
        ties = sum(1 for a, b, *_ in self.sights.ties.get(mark, ()) if self.placed[a] and self.placed[b])
        offsets = sum(
            1 for a, b, *_ in self.sights.offsets.get(mark, ()) if self.placed[a] and self.placed[b]
        )
        return own + ties + 3 * offsets


def triangles(
    sights: Sights, heights: Array, most: int = 400
) -> list[tuple[float, tuple[int, int, int], Array]]:
    """Triangles of tapes to begin with: score, marks, places; well shaped and well tied ones first."""
    near: dict[int, dict[int, float]] = {a: dict(pairs) for a, pairs in sights.tapes.items()}
    found: list[tuple[float, tuple[int, int, int], Array]] = []
    for a in sorted(near, key=lambda m: (-len(near[m]), m)):
        for b, c in combinations(sorted(near[a]), 2):
            if c not in near[b] or (min(b, c) < a and len(found) > most // 2):
                continue
            sides = near[a][b], near[a][c], near[b][c]
            places = _laid_out((a, b, c), sides, heights)
            if places is None:
                continue
            area = 0.5 * abs(float(np.cross(places[1] - places[0], places[2] - places[0])[2]))
            shape = area / max(sides) ** 2
            common = len(near[a].keys() & near[b].keys() & near[c].keys())
            found.append((shape * min(common + 1, 6), (a, b, c), places))
        if len(found) > most:
            break
    return sorted(found, key=lambda item: (-item[0], item[1]))


def _laid_out(marks: tuple[int, int, int], sides: tuple[float, float, float], heights: Array) -> Array | None:
    """Three marks with a at the origin and b on x, at their heights where all three are known."""
    z = heights[list(marks)]
    z = z if np.isfinite(z).all() else np.zeros(3)
    ab, ac, bc = (
        np.sqrt(max(side**2 - float(z[i] - z[j]) ** 2, 0.0))
        for side, (i, j) in zip(sides, ((0, 1), (0, 2), (1, 2)), strict=True)
    )
    if min(ab, ac, bc) < 0.1:
        return None
    x = (ab**2 + ac**2 - bc**2) / (2.0 * ab)
    y = np.sqrt(max(ac**2 - x**2, 0.0))
    return np.array([[0.0, 0.0, z[0]], [ab, 0.0, z[1]], [x, y, z[2]]])
