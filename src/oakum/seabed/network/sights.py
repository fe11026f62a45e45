"""What each mark can be placed from while the start grows: tapes, ties, offsets, seen from its side."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from oakum.seabed.network.rows import Network, Rows

Array = NDArray[np.float64]


@dataclass(slots=True)
class Sights:
    """Per mark: tapes (other mark, distance), ties (line start, end, chainage, distance), offsets.

    An offset is (line start, end, along or nan, left or nan).
    """

    tapes: dict[int, list[tuple[int, float]]] = field(default_factory=lambda: defaultdict(list))
    ties: dict[int, list[tuple[int, int, float, float]]] = field(default_factory=lambda: defaultdict(list))
    offsets: dict[int, list[tuple[int, int, float, float]]] = field(default_factory=lambda: defaultdict(list))
    waiting: dict[int, set[int]] = field(default_factory=lambda: defaultdict(set))

    def wait(self, mark: int, others: tuple[int, ...]) -> None:
        """Note that `mark` should be looked at again once one of the others is placed."""
        for other in others:
            self.waiting[other].add(mark)


def sights_of(network: Network) -> Sights:
    """Collect them from the rows; known errors of the tapes are taken off, unknown ones are small."""
    sights = Sights()
    for group in network.groups:
        first = group.columns[:, ::3] // 3
        if group.equation == "tape":
            for (a, b, *_), r in zip(first.tolist(), _distance(group).tolist(), strict=True):
                sights.tapes[a].append((b, r))
                sights.tapes[b].append((a, r))
                sights.wait(a, (b,))
                sights.wait(b, (a,))
        elif group.equation == "tie":
            lengths, at = _distance(group).tolist(), group.constants[:, 2].tolist()
            for (p, a, b, *_), r, t in zip(first.tolist(), lengths, at, strict=True):
                sights.ties[p].append((a, b, t, r))
                sights.wait(p, (a, b))
    _offsets(network, sights)
    return sights


def _distance(group: Rows) -> Array:
    return (group.read - group.constants[:, 1]) / (1.0 + group.constants[:, 0])


def _offsets(network: Network, sights: Sights) -> None:
    pairs: dict[tuple[str, int, int, int], list[float]] = defaultdict(lambda: [np.nan, np.nan])
    for group in network.groups:
        if group.equation in ("along", "left"):
            for label, row, value in zip(group.labels, group.columns, group.read, strict=True):
                key = (label.id, int(row[0]) // 3, int(row[2]) // 3, int(row[4]) // 3)
                pairs[key][0 if group.equation == "along" else 1] = float(value)
    for (_, p, a, b), (along, left) in pairs.items():
        sights.offsets[p].append((a, b, along, left))
        sights.wait(p, (a, b))
