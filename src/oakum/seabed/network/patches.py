"""Small patches grown from triangles of tapes: where growth begins, and what is joined on where it is stuck."""

from __future__ import annotations

import math
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from oakum.seabed.network.fit import rigid
from oakum.seabed.network.growth import Growth
from oakum.seabed.network.sights import Sights

Array = NDArray[np.float64]
Ints = NDArray[np.int64]
Triangle = tuple[int, int, int]

PATCH = 24
"""Marks a patch grows to."""

TRIES = 60
"""Triangles looked at each time growth is stuck."""

JOINS_M = 0.3
"""Marks common to a patch and the rest must agree within this."""


def triangles(sights: Sights, heights: Array) -> list[tuple[float, Triangle, Array]]:
    """Triangles of tapes with their places: score, marks, places; well shaped and well tied ones first."""
    near: dict[int, dict[int, float]] = {a: dict(pairs) for a, pairs in sights.tapes.items()}
    found: list[tuple[float, Triangle, Array]] = []
    for a in sorted(near):
        for b, c in combinations(sorted(m for m in near[a] if m > a), 2):
            if c not in near[b]:
                continue
            placed = _laid_out((a, b, c), (near[a][b], near[a][c], near[b][c]), heights)
            if placed is not None:
                shape, places = placed
                common = len(near[a].keys() & near[b].keys() & near[c].keys())
                found.append((shape * min(common + 1, 6), (a, b, c), places))
    return sorted(found, key=lambda item: (-item[0], item[1]))


def _laid_out(
    marks: Triangle, sides: tuple[float, float, float], heights: Array
) -> tuple[float, Array] | None:
    """Three marks with a at the origin and b on x, at their heights where all three are known; area over side2."""
    z = [float(heights[m]) for m in marks]
    if not all(math.isfinite(v) for v in z):
        z = [0.0, 0.0, 0.0]
    rises = (z[1] - z[0], z[2] - z[0], z[2] - z[1])
    ab, ac, bc = (math.sqrt(max(s * s - r * r, 0.0)) for s, r in zip(sides, rises, strict=True))
    if min(ab, ac, bc) < 0.1:
        return None
    x = (ab**2 + ac**2 - bc**2) / (2.0 * ab)
    y = math.sqrt(max(ac**2 - x**2, 0.0))
    return 0.5 * ab * y / max(sides) ** 2, np.array([[0.0, 0.0, z[0]], [ab, 0.0, z[1]], [x, y, z[2]]])


class Patches:
    """Patches, each grown once from its triangle without a guess, and joined where enough marks are common."""

    def __init__(self, sights: Sights, heights: Array) -> None:
        self.sights, self.heights = sights, heights
        self.seeds = triangles(sights, heights)
        self._grown: dict[int, Growth] = {}

    def patch(self, number: int) -> Growth:
        """The patch of this triangle."""
        if number not in self._grown:
            _, marks, places = self.seeds[number]
            growth = Growth(self.sights, self.heights)
            for mark, place in zip(marks, places, strict=True):
                growth.put(mark, place)
            growth.grow(min(PATCH, len(self.heights)), bold=False)
            self._grown[number] = growth
        return self._grown[number]

    def join(self, stuck: Growth) -> list[tuple[int, tuple[float, Array]]]:
        """Marks of the patch that joins best: its common marks agree, and its mirror image does not."""
        best: tuple[float, list[tuple[int, tuple[float, Array]]]] = (0.0, [])
        looked = 0
        for number, (_, marks, _) in enumerate(self.seeds):
            if all(stuck.placed[m] for m in marks) or not any(stuck.placed[m] for m in marks):
                continue
            looked += 1
            if looked > TRIES:
                break
            patch = self.patch(number)
            common = np.flatnonzero(patch.placed & stuck.placed)
            new = np.flatnonzero(patch.placed & ~stuck.placed)
            if len(common) >= 4 and len(new):
                fitted = self._fitted(patch, stuck, common)
                if fitted is not None and fitted[1] * len(new) > best[0]:
                    places = patch.places @ fitted[0][0].T + fitted[0][1]
                    if self._contradicted(stuck, places, new):
                        continue
                    best = (fitted[1] * len(new), [(int(m), (0.0, places[m])) for m in new])
        return best[1]

    def _contradicted(self, stuck: Growth, places: Array, new: Ints) -> bool:
        """Whether more than a third of the tapes from the new marks to what stands miss by far."""
        gaps = [
            abs(float(np.linalg.norm(places[mark] - stuck.places[other])) - r)
            for mark in new.tolist()
            for other, r in self.sights.tapes.get(mark, ())
            if stuck.placed[other]
        ]
        return sum(gap > JOINS_M for gap in gaps) > len(gaps) / 3

    def _fitted(self, patch: Growth, stuck: Growth, common: Ints) -> tuple[tuple[Array, Array], float] | None:
        """The turn and shift of a patch, and how much clearer it is than its mirror image."""
        level = bool(np.isfinite(self.heights).any())
        fits: list[tuple[float, tuple[Array, Array]]] = []
        for mirror in (False, True):
            if level:
                turn2, shift2 = rigid(patch.places[common, :2], stuck.places[common, :2], mirror=mirror)
                turn, shift = np.eye(3), np.zeros(3)
                turn[:2, :2], shift[:2] = turn2, shift2
                gaps = patch.places[common] @ turn.T + shift - stuck.places[common]
                worst = float(np.sort(np.linalg.norm(gaps[:, :2], axis=1))[-1 - len(common) // 8])
            else:
                turn, shift = rigid(patch.places[common], stuck.places[common], mirror=mirror)
                gaps = patch.places[common] @ turn.T + shift - stuck.places[common]
                worst = float(np.sort(np.linalg.norm(gaps, axis=1))[-1 - len(common) // 8])
            fits.append((worst, (turn, shift)))
        (near, best), (far, _) = sorted(fits, key=lambda f: f[0])
        if near > JOINS_M or far < 3.0 * near + 0.2:
            return None
        return best, min(far - near, 2.0)
