"""Greatest and least force, slack time and snaps of many lines, counted block by block."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

_BETWEEN = 0.01  # more than a force can rise between two steps of a fiftieth of its period


class Tally:
    """Counts from `from_s` on. A greatest or least force between two steps is read from a parabola."""

    def __init__(self, members: int, step_s: float, from_s: float) -> None:
        self.step_s, self.from_s = step_s, from_s
        self.greatest: Array = np.full(members, -np.inf)
        self.least: Array = np.full(members, np.inf)
        self.slack: NDArray[np.int64] = np.zeros(members, dtype=np.int64)
        self.snaps: NDArray[np.int64] = np.zeros(members, dtype=np.int64)
        self.tail: Array | None = None

    def add(self, forces: Array, start_s: float) -> None:
        """Count a block of forces (k, n) that begins at `start_s` and follows the one before."""
        skip = int(np.clip(np.ceil((self.from_s - start_s) / self.step_s - 1e-6), 0, len(forces)))
        fresh = forces[skip:]
        if len(fresh) == 0:
            return
        if self.tail is not None:
            # The last step of the block before, now that it has a neighbour on both sides.
            self._extremes(np.concatenate([self.tail, fresh[:2]]))
        self._extremes(fresh)
        self._slack(fresh)
        self.tail = np.concatenate([fresh[-2:]] if len(fresh) > 1 or self.tail is None else [self.tail, fresh])[-2:]

    def result(self) -> tuple[Array, Array, Array, NDArray[np.int64]]:
        """Return greatest, least, slack time in seconds and snaps, one a member."""
        slack = np.asarray(self.slack * self.step_s, dtype=np.float64)
        return self.greatest, self.least, slack, self.snaps

    def _extremes(self, rows: Array) -> None:
        """Take in the members that may have gone beyond theirs; between steps little is added."""
        top, low = rows.max(axis=0), rows.min(axis=0)
        may = np.flatnonzero(top * (1.0 + _BETWEEN) > self.greatest)
        self.greatest[may] = np.maximum(self.greatest[may], _peak(rows[:, may]))
        may = np.flatnonzero((low - _BETWEEN * top < self.least) & (self.least > 0.0))
        self.least[may] = np.minimum(self.least[may], np.maximum(-_peak(-rows[:, may]), 0.0))

    def _slack(self, fresh: Array) -> None:
        """Count steps without force, and steps at which a line pulls that did not at the one before."""
        before = fresh[:1] if self.tail is None else self.tail[-1:]
        some = np.flatnonzero((fresh.min(axis=0) <= 0.0) | (before[0] <= 0.0))
        if len(some) == 0:
            return
        loose = np.concatenate([before[:, some], fresh[:, some]]) <= 0.0
        self.slack[some] += loose[1:].sum(axis=0)
        self.snaps[some] += (loose[:-1] & ~loose[1:]).sum(axis=0)


def _peak(rows: Array) -> Array:
    """Return the greatest value down each column, by a parabola through its neighbours where it has both."""
    if rows.shape[1] == 0:
        return np.empty(0)
    at = np.argmax(rows, axis=0)
    column = np.arange(rows.shape[1])
    top = rows[at, column]
    if len(rows) < 3:
        return np.asarray(top)
    inside = (at > 0) & (at < len(rows) - 1)
    middle = np.clip(at, 1, len(rows) - 2)
    left, right = rows[middle - 1, column], rows[middle + 1, column]
    bend = left - 2.0 * top + right
    with np.errstate(divide="ignore", invalid="ignore"):
        rise = -np.square(right - left) / (8.0 * bend)
    return np.asarray(np.where(inside & (bend < 0.0), top + rise, top))
