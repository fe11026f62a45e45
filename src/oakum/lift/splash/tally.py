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
        slack = fresh <= 0.0
        self.slack += slack.sum(axis=0)
        rows = fresh if self.tail is None else np.concatenate([self.tail, fresh])
        before = rows[-len(fresh) - 1 : -1] if self.tail is not None else rows[:-1]
        after = fresh if self.tail is not None else rows[1:]
        self.snaps += ((before <= 0.0) & (after > 0.0)).sum(axis=0)
        self._raise(rows)
        self._lower(rows)
        self.tail = rows[-2:].copy()

    def _raise(self, rows: Array) -> None:
        """Raise the greatest of the members that may have gone over theirs; between steps little is added."""
        top = rows.max(axis=0)
        may = np.flatnonzero(top * (1.0 + _BETWEEN) > self.greatest)
        self.greatest[may] = np.maximum(self.greatest[may], _peak(rows[:, may]))

    def _lower(self, rows: Array) -> None:
        low, top = rows.min(axis=0), rows.max(axis=0)
        may = np.flatnonzero(low - _BETWEEN * top < self.least)
        self.least[may] = np.minimum(self.least[may], np.maximum(-_peak(-rows[:, may]), 0.0))

    def result(self) -> tuple[Array, Array, Array, NDArray[np.int64]]:
        """Return greatest, least, slack time in seconds and snaps, one a member."""
        return self.greatest, self.least, np.asarray(self.slack * self.step_s, dtype=np.float64), self.snaps


def _peak(rows: Array) -> Array:
    """Return the greatest value down each column, by a parabola through its neighbours where it has both."""
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
