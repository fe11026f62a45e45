"""A sparse Cholesky factor by dense fronts, and the entries of the inverse that lie on the pattern.

The fronts follow a nested dissection (George 1973; multifrontal method of Duff and Reid 1983; inverse on the
pattern by Takahashi 1973: memory, verify; tested against the dense inverse).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import blas, lapack

from oakum.seabed.solver.dissect import Block
from oakum.seabed.solver.pattern import NormalPattern

Array = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class Front:
    """Pivots `first` up to `last` in the new order with their later neighbours `border`.

    `take` are positions in the pattern whose entries go to `put` (flat) of the front, `children` come with the
    places of their borders in this front.
    """

    first: int
    last: int
    border: Ints
    take: Ints
    put: Ints
    children: tuple[tuple[int, Ints], ...]

    @property
    def size(self) -> int:
        """Rows of the front."""
        return self.last - self.first + len(self.border)


class Plan:
    """The fronts for one pattern and order: worked out once, used for every factor."""

    def __init__(self, pattern: NormalPattern, group_of: Ints, blocks: tuple[Block, ...]) -> None:
        self.pattern = pattern
        by_group = np.argsort(group_of, kind="stable")
        groups = max((int(b.groups.max(initial=-1)) for b in blocks), default=-1) + 2
        starts = np.searchsorted(group_of[by_group], np.arange(groups))
        members = [
            np.concatenate([by_group[starts[g] : starts[g + 1]] for g in b.groups] or [np.zeros(0, np.int64)])
            for b in blocks
        ]
        self.order = np.concatenate(members).astype(np.int64)
        self.rank = np.empty_like(self.order)
        self.rank[self.order] = np.arange(len(self.order))
        ends = np.cumsum([len(m) for m in members])
        rows, columns = self.rank[pattern.rows], self.rank[pattern.columns]
        lower = np.flatnonzero(rows >= columns)
        lower = lower[np.lexsort((rows[lower], columns[lower]))]
        low_rows, low_columns = rows[lower], columns[lower]
        fronts: list[Front] = []
        for block, members_here, last in zip(blocks, members, ends, strict=True):
            first = int(last) - len(members_here)
            a, b = np.searchsorted(low_columns, [first, int(last)])
            mine = low_rows[a:b]
            borders = [fronts[c].border for c in block.children]
            later = np.unique(np.concatenate([mine, *borders])) if len(mine) or borders else mine
            border = later[later >= last]
            index = np.concatenate([np.arange(first, last), border])
            put = np.searchsorted(index, mine) * len(index) + (low_columns[a:b] - first)
            children = tuple((c, np.searchsorted(index, fronts[c].border)) for c in block.children)
            fronts.append(Front(first, int(last), border, lower[a:b], put, children))
        self.fronts = tuple(fronts)
        self.mirrored = pattern.find(pattern.columns, pattern.rows)


class FrontFactor:
    """The factor L of N = L L'; raises LinAlgError where N is not positive definite."""

    def __init__(self, plan: Plan, normal: Array) -> None:
        self.plan = plan
        self.parts: list[tuple[Array, Array]] = []
        rest: dict[int, Array] = {}
        for position, front in enumerate(plan.fronts):
            matrix = np.zeros((front.size, front.size))
            matrix.ravel()[front.put] = normal[front.take]
            for child, places in front.children:
                matrix[np.ix_(places, places)] += rest.pop(child)
            p = front.last - front.first
            corner, info = lapack.dpotrf(matrix[:p, :p], lower=1, clean=1)
            if info != 0:
                raise np.linalg.LinAlgError("the normal equations are not positive definite")
            below = blas.dtrsm(1.0, corner, matrix[p:, :p], side=1, lower=1, trans_a=1)
            rest[position] = matrix[p:, p:] - below @ below.T
            self.parts.append((corner, below))

    def solve(self, right: Array) -> Array:
        """N^-1 times a vector or a matrix of columns."""
        flat = right.ndim == 1
        x = np.array(right.reshape(len(right), -1)[self.plan.order])
        for front, (corner, below) in zip(self.plan.fronts, self.parts, strict=True):
            own = slice(front.first, front.last)
            x[own] = blas.dtrsm(1.0, corner, x[own], lower=1)
            x[front.border] -= below @ x[own]
        for front, (corner, below) in zip(reversed(self.plan.fronts), reversed(self.parts), strict=True):
            own = slice(front.first, front.last)
            x[own] = blas.dtrsm(1.0, corner, x[own] - below.T @ x[front.border], lower=1, trans_a=1)
        out = np.empty_like(x)
        out[self.plan.order] = x
        return out[:, 0] if flat else out

    def inverse(self) -> Array:
        """Entries of N^-1 in the order of the pattern's keys: every pair that shares a reading, and the diagonal."""
        fronts = self.plan.fronts
        data = np.zeros(len(self.plan.pattern.keys))
        known: dict[int, Array] = {len(fronts) - 1: np.zeros((0, 0))}
        for position in range(len(fronts) - 1, -1, -1):
            front, (corner, below) = fronts[position], self.parts[position]
            border = known.pop(position)
            p = front.last - front.first
            half = blas.dtrsm(1.0, corner, below, side=1, lower=1)
            full = np.empty((front.size, front.size))
            full[p:, p:] = border
            full[p:, :p] = -border @ half
            full[:p, p:] = full[p:, :p].T
            own, _ = lapack.dpotri(corner, lower=1)
            own = np.tril(own) + np.tril(own, -1).T
            full[:p, :p] = own - half.T @ full[p:, :p]
            data[front.take] = full.ravel()[front.put]
            for child, places in front.children:
                known[child] = full[np.ix_(places, places)]
        mirrored = self.plan.mirrored
        lower = self.plan.rank[self.plan.pattern.rows] >= self.plan.rank[self.plan.pattern.columns]
        return np.where(lower, data, data[mirrored])
