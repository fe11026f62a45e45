"""Every mark solved alone, all others held where they are: is there another place that fits it?"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.seabed.network.adjust import CAP
from oakum.seabed.network.equations import EQUATIONS
from oakum.seabed.network.rows import Network

Array = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]

LIMIT = 2.5
"""Misses beyond so many sd count in proportion, not squared: a misread tape must not fold a mark over."""


@dataclass(frozen=True, slots=True, eq=False)
class Views:
    """A reading seen from one of its marks: `columns` below 3 n belong to that mark, the rest is held."""

    equation: str
    columns: Ints
    constants: Array
    read: Array
    sd: Array
    mark: Ints


class Alone:
    """All views of all readings; the marks are moved side by side, each against the others where they stand."""

    def __init__(self, network: Network, state: Array) -> None:
        self.n = len(network.names)
        self.held = network.held[: 3 * self.n].reshape(self.n, 3)
        self._tail = state
        shift = 3 * self.n
        self.views: list[Views] = []
        for g in network.groups:
            owner = np.where(g.columns < shift, g.columns // 3, -1)
            seen: list[Ints] = []
            for slot in range(owner.shape[1]):
                mark = owner[:, slot]
                new = mark >= 0
                for earlier in seen:
                    new &= earlier != mark
                seen.append(mark)
                if new.any():
                    mine = owner == mark[:, None]
                    columns = np.where(mine, g.columns, g.columns + shift)[new]
                    self.views.append(
                        Views(g.equation, columns, g.constants[new], g.read[new], g.sd[new], mark[new])
                    )

    def capped(self, places: Array) -> Array:
        """Sum of squares of each mark's readings (n,), each at most the cap's: what places are compared by."""
        state = np.concatenate([places.ravel(), self._tail])
        total = np.zeros(self.n)
        for v in self.views:
            r = self._gap(v, state)[0]
            total += np.bincount(v.mark, np.minimum(r * r, CAP * CAP), minlength=self.n)
        return total

    def _gap(self, v: Views, state: Array) -> tuple[Array, Array]:
        """Residuals over sd and derivatives of one set of views."""
        value, d = EQUATIONS[v.equation](state[v.columns], v.constants)
        r = value - v.read
        if v.equation == "bearing":
            r = (r + 180.0) % 360.0 - 180.0
        return r / v.sd, d

    def look(self, places: Array) -> tuple[Array, Array, Array]:
        """Loss (n,), squares up to the limit; normal matrices (n, 3, 3) and gradients (n, 3)."""
        state = np.concatenate([places.ravel(), self._tail])
        phi, normal, gradient = np.zeros(self.n), np.zeros((self.n, 3, 3)), np.zeros((self.n, 3))
        for v in self.views:
            r, d = self._gap(v, state)
            size = np.abs(r)
            far = size > LIMIT
            phi += np.bincount(v.mark, np.where(far, 2 * LIMIT * size - LIMIT**2, r * r), minlength=self.n)
            rows = np.zeros((len(r), 3))
            for slot in range(v.columns.shape[1]):
                own = np.flatnonzero(v.columns[:, slot] < 3 * self.n)
                rows[own, v.columns[own, slot] % 3] += d[own, slot]
            rows /= v.sd[:, None]
            rows[self.held[v.mark]] = 0.0
            root = np.sqrt(LIMIT / np.maximum(size, LIMIT))
            rows, r = rows * root[:, None], r * root
            np.add.at(gradient, v.mark, rows * r[:, None])
            np.add.at(normal, v.mark, rows[:, :, None] * rows[:, None, :])
        return phi, normal, gradient

    def solve(self, places: Array, most: int = 12) -> Array:
        """Where each mark's loss is least, begun from these places and damped mark by mark.

        A mark that has not settled after `most` steps is left where it got to; a second place is near its mirror
        image and is reached in a few.
        """
        damping = np.full(self.n, 1e-3)
        phi, normal, gradient = self.look(places)
        for _ in range(most):
            diagonal = np.einsum("nii->ni", normal)
            floor = np.where(diagonal > 0.0, damping[:, None] * diagonal, 1.0)
            step = -np.linalg.solve(normal + floor[:, :, None] * np.eye(3), gradient[:, :, None])[:, :, 0]
            new_phi, new_normal, new_gradient = self.look(places + step)
            better = new_phi <= phi
            places = np.where(better[:, None], places + step, places)
            damping = np.clip(np.where(better, damping / 5.0, damping * 8.0), 1e-12, 1e12)
            settled = np.abs(step).max(axis=1) < 1e-3
            phi = np.where(better, new_phi, phi)
            if settled.all():
                break
            normal = np.where(better[:, None, None], new_normal, normal)
            gradient = np.where(better[:, None], new_gradient, gradient)
        return places


def mirrored(network: Network, places: Array) -> tuple[Array, Array]:
    """Each mark reflected in the plane of its neighbours, and in the upright plane along them (n, 3) twice.

    nan where a mark has too few neighbours for a plane, or lies in it.
    """
    n = len(network.names)
    near: list[set[int]] = [set() for _ in range(n)]
    for g in network.groups:
        if g.equation in ("tape", "tie"):
            marks = (g.columns[:, :-2:3] // 3).tolist()
            for row in marks:
                for m in row:
                    near[m].update(row)
    flat = np.full((n, 3), np.nan)
    upright = np.full((n, 3), np.nan)
    for m in range(n):
        others = np.array(sorted(near[m] - {m}), dtype=np.int64)
        if len(others) >= 2:
            arms = places[others, :2] - places[others, :2].mean(axis=0)
            normal = np.linalg.svd(arms)[2][1]
            gap = float((places[m, :2] - places[others, :2].mean(axis=0)) @ normal)
            upright[m] = places[m]
            upright[m, :2] -= 2.0 * gap * normal
        if len(others) >= 3:
            arms3 = places[others] - places[others].mean(axis=0)
            normal3 = np.linalg.svd(arms3)[2][2]
            flat[m] = places[m] - 2.0 * float((places[m] - places[others].mean(axis=0)) @ normal3) * normal3
    return flat, upright
