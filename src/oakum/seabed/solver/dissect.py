"""Nested dissection: an order of the unknowns in which a sparse factor stays small, from places on the seabed."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array

Array = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class Block:
    """Groups eliminated together, after the blocks whose positions are `children`."""

    groups: Ints
    children: tuple[int, ...]


def dissect(places: Array, neighbours: csr_array, last: Ints, leaf: int = 24) -> tuple[Block, ...]:
    """Blocks of groups, children before parents, the last one the root.

    `places` (g, d) of the groups; `neighbours` (g, g) has an entry where two groups share a reading; `last` are
    groups that touch too many others to be cut by place (a tape's scale): they join the root. Each cut is across
    the longer side at the median; the separator is the side's rim.
    """
    blocks: list[Block] = []
    side = np.zeros(len(places), dtype=np.int8)
    free = np.ones(len(places), dtype=bool)
    free[last] = False

    def rim(ids: Ints, mine: int) -> Ints:
        """Groups of one side with a neighbour on the other."""
        own = ids[side[ids] == mine]
        rows = neighbours[own]
        other = side[rows.indices] == 3 - mine
        counted = np.add.reduceat(np.append(other, False), rows.indptr[:-1]) * (np.diff(rows.indptr) > 0)
        return np.asarray(own[counted > 0])

    def cut(ids: Ints, extra: Ints) -> int:
        if len(ids) <= leaf:
            blocks.append(Block(np.concatenate([ids, extra]), ()))
            return len(blocks) - 1
        spread = np.ptp(places[ids], axis=0)
        order = ids[np.argsort(places[ids, int(np.argmax(spread))], kind="stable")]
        half = len(order) // 2
        side[order[:half]], side[order[half:]] = 1, 2
        rims = rim(order, 1), rim(order, 2)
        separator = min(rims, key=len)
        side[separator] = 0
        halves = [part[side[part] > 0] for part in (order[:half], order[half:])]
        side[ids] = 0
        nothing = np.zeros(0, dtype=np.int64)
        children = tuple(cut(part, nothing) for part in halves if len(part))
        blocks.append(Block(np.concatenate([separator, extra]), children))
        return len(blocks) - 1

    cut(np.flatnonzero(free).astype(np.int64), np.asarray(last, dtype=np.int64))
    return tuple(blocks)
