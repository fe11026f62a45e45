"""A start without coordinates: from a few marks outward, each placed from tapes to those that have a place."""

from __future__ import annotations

import heapq
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from oakum.seabed.network.placing import candidates
from oakum.seabed.network.sights import Sights

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]
Refine = Callable[[Array, Bools], tuple[Array, Bools]]

Join = Callable[["Growth"], list[tuple[int, tuple[float, Array]]]]

CLEAR_M = 0.2
"""A candidate is clear when the next one misses by this much more in all than three times its own misses."""

FITS_M = 0.1
"""A candidate that misses by more than this a tape waits: a tape is misread, or an anchor is in the wrong place."""

AHEAD, WIDE = 8, 8
"""So many further marks are placed, from so many unclear ones, to see which of two places bears them."""


def no_patch(growth: Growth) -> list[tuple[int, tuple[float, Array]]]:
    """Nothing to join."""
    return []


class Growth:
    """Places found so far. `heights` (n,) are known beforehand, nan where not; `places` (n, 3) grow."""

    def __init__(self, sights: Sights, heights: Array, join: Join = no_patch) -> None:
        self.sights = sights
        self.join = join
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

    def grow(
        self, most: int, refine: Refine | None = None, bold: bool = True, around: int | None = None
    ) -> None:
        """Place marks until nothing more can be placed or `most` are.

        The mark with most anchors comes first. One whose two best candidates fit alike waits for more anchors; when
        nothing clear is left two waiting marks with a tape between them settle each other; else `join` may bring a
        patch grown elsewhere; only then, and if `bold`, an unclear one is tried both ways. With `around` growth begins
        there only. `refine` adjusts what stands now and then, and takes out what does not fit.
        """
        heap: list[tuple[int, int]] = []
        unclear: dict[int, list[tuple[float, Array]]] = {}
        tried: dict[int, int] = {}
        dropped: dict[int, int] = {}
        for mark in np.flatnonzero(self.placed).tolist() if around is None else [around]:
            self._look(mark, heap)
        next_refine = 8
        while self.placed.sum() < most:
            chosen: list[tuple[int, tuple[float, Array]]] = []
            if heap:
                mark = heapq.heappop(heap)[1]
                count = self._count(mark)
                if self.placed[mark] or tried.get(mark) == count:
                    continue
                tried[mark] = count
                options = self.options(mark)
                if options and _clear(options, count):
                    chosen = [(mark, options[0])]
                elif options:
                    unclear[mark] = options
            elif unclear:
                chosen = self._together(unclear) or self.join(self)
                if not chosen and bold:
                    chosen = self._boldest(unclear)
                if not chosen:
                    return
            else:
                return
            for mark, (miss, place) in chosen:
                self.put(mark, place)
                self.miss += miss
                unclear.pop(mark, None)
            for mark, _ in chosen:
                self._look(mark, heap)
            if refine is not None and self.placed.sum() >= min(next_refine, most):
                before = self.placed
                self.places, self.placed = refine(self.places, self.placed)
                for mark in np.flatnonzero(before & ~self.placed).tolist():
                    dropped[mark] = dropped.get(mark, 0) + 1
                    if dropped[mark] < 3:
                        heapq.heappush(heap, (-self._count(mark), mark))
                tried.clear()
                unclear = {m: options for m in unclear if (options := self.options(m))}
                standing = int(self.placed.sum())
                next_refine = min(int(1.4 * standing) + 1, standing + 20)

    def _look(self, mark: int, heap: list[tuple[int, int]]) -> None:
        for other in self.sights.waiting.get(mark, ()):
            if not self.placed[other]:
                heapq.heappush(heap, (-self._count(other), other))

    def _together(
        self, unclear: dict[int, list[tuple[float, Array]]]
    ) -> list[tuple[int, tuple[float, Array]]]:
        """The two waiting marks whose tape to each other tells best where both lie; none where no tape does."""
        best: tuple[float, list[tuple[int, tuple[float, Array]]]] = (CLEAR_M, [])
        for u in sorted(unclear):
            for v, r in self.sights.tapes.get(u, ()):
                if v <= u or v not in unclear:
                    continue
                ways = sorted(
                    (a[0] + b[0] + min(abs(float(np.linalg.norm(a[1] - b[1])) - r), 1.0), i, j)
                    for i, a in enumerate(unclear[u])
                    for j, b in enumerate(unclear[v])
                )
                if len(ways) > 1 and ways[0][0] < CLEAR_M and ways[1][0] - 3.0 * ways[0][0] > best[0]:
                    _, i, j = ways[0]
                    best = (ways[1][0] - 3.0 * ways[0][0], [(u, unclear[u][i]), (v, unclear[v][j])])
        return best[1]

    def _boldest(
        self, unclear: dict[int, list[tuple[float, Array]]]
    ) -> list[tuple[int, tuple[float, Array]]]:
        """The waiting mark that is least unclear; where all are, the one whose places bear further marks unlike."""
        fitting = {m: o for m, o in unclear.items() if o[0][0] < FITS_M * max(self._count(m), 2)} or unclear
        margins = {m: o[1][0] - o[0][0] if len(o) > 1 else CLEAR_M for m, o in fitting.items()}
        mark = max(fitting, key=lambda m: (margins[m], self._count(m), -m))
        if margins[mark] > 0.5 * CLEAR_M:
            return [(mark, unclear[mark][0])]
        best: tuple[float, int, int] = (-1.0, mark, 0)
        for mark in sorted(fitting, key=lambda m: (-self._count(m), m))[:WIDE]:
            scores = [self._bears(mark, option) for option in unclear[mark]]
            gap = abs(scores[0] - scores[-1])
            best = max(best, (gap, mark, int(np.argmin(scores))), key=lambda t: t[0])
        _, mark, option = best
        return [(mark, unclear[mark][option])]

    def _bears(self, mark: int, option: tuple[float, Array]) -> float:
        """Misses of a few more marks placed from here, less what each placed mark is worth: low is good."""
        trial = Growth(self.sights, self.heights)
        trial.places, trial.placed, trial.miss = self.places.copy(), self.placed.copy(), option[0]
        trial.put(mark, option[1])
        before = int(trial.placed.sum())
        trial.grow(before + AHEAD, bold=False, around=mark)
        return trial.miss - 0.3 * (int(trial.placed.sum()) - before)

    def _count(self, mark: int) -> int:
        own = sum(1 for other, _ in self.sights.tapes.get(mark, ()) if self.placed[other])
        ties = sum(1 for a, b, *_ in self.sights.ties.get(mark, ()) if self.placed[a] and self.placed[b])
        offsets = sum(
            1 for a, b, *_ in self.sights.offsets.get(mark, ()) if self.placed[a] and self.placed[b]
        )
        return own + ties + 3 * offsets


def _clear(options: list[tuple[float, Array]], count: int) -> bool:
    """Whether the best candidate fits, and clearly better than the next."""
    alone = len(options) == 1 or options[1][0] > 3.0 * options[0][0] + CLEAR_M
    return alone and options[0][0] < FITS_M * max(count, 2)
