"""Parts that stand in each other: their common volume would be weighed twice."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from oakum.ground.solids import Solid
from oakum.ground.solids.overlap import quadrature_points
from oakum.lift.body.likely_solid import likely_solid
from oakum.lift.body.model import Body, Part
from oakum.lift.body.placing import likely_frames

Array = NDArray[np.float64]
_POINTS = 1024


@dataclass(frozen=True, slots=True)
class Overlap:
    """Two parts and the share (0 to 1) of the smaller one that lies in both."""

    first: str
    second: str
    share: float
    allowed: float
    line: int

    def words(self) -> str:
        """Say which, how much, and what to do."""
        return (
            f'"{self.first}" and "{self.second}" overlap: {100 * self.share:.0f} % of the smaller lies in '
            f"both ({100 * self.allowed:.0f} % allowed). Put right a place or a measure, cut a hole, or write "
            f'overlap = "{np.ceil(100 * self.share) + 1:.0f} %" with one of them if it is meant'
        )


class _Standing:
    """A part where it stands, with evenly spread points in it that lie in none of its holes."""

    def __init__(self, part: Part, solid: Solid, holes: list[tuple[Part, Solid]]) -> None:
        self.part, self.solid, self.holes = part, solid, holes
        self.frames = likely_frames(part)
        each = max(64, _POINTS // len(self.frames))
        own = quadrature_points(solid, each)
        points = np.concatenate([own @ rotation.T + origin for rotation, origin in self.frames])
        self.points = points[~self._in_holes(points)]
        # Per point of the solid, so that a bored part still compares by its stuff.
        self.volume = float(solid.volume_m3()) * len(self.frames) * len(self.points) / len(points)
        self.low, self.high = points.min(axis=0), points.max(axis=0)

    def holds(self, points: Array) -> NDArray[np.bool_]:
        """Return whether each point (k, 3) lies in the stuff of the part."""
        return _inside(self.solid, self.frames, points) & ~self._in_holes(points)

    def _in_holes(self, points: Array) -> NDArray[np.bool_]:
        found = np.zeros(len(points), dtype=bool)
        for part, solid in self.holes:
            found |= _inside(solid, likely_frames(part), points)
        return found


def overlaps(body: Body) -> tuple[Overlap, ...]:
    """Return every pair of parts that share more than their tolerance, by their likeliest measures.

    A hole belongs to its parent and what stands in a hole does not overlap it. A hollow does not overlap the
    parts it is `less`. Coats and lumps are not compared. Shares are counted on about 1,000 points.
    """
    water = body.water.density_kg_m3.best
    solids = {p.name: likely_solid(p, water) for p in body.parts}
    holes = {p.name: [(h, solids[h.name]) for h in body.parts if h.hole_in == p.name] for p in body.parts}
    standing = [
        _Standing(p, solids[p.name], holes[p.name])
        for p in body.parts
        if p.hole_in is None and p.shape.kind != "lump"
    ]
    found = []
    for a, b in combinations(standing, 2):
        if b.part.name in a.part.less or a.part.name in b.part.less or _apart(a, b):
            continue
        small, other = (a, b) if a.volume <= b.volume else (b, a)
        share = float(other.holds(small.points).mean()) if len(small.points) else 0.0
        allowed = max(a.part.overlap_allowed, b.part.overlap_allowed)
        if share > allowed:
            found.append(Overlap(a.part.name, b.part.name, share, allowed, b.part.line))
    return tuple(found)


def share_inside(part: Part, hollow: Part, water_kg_m3: float) -> float:
    """Return the share (0 to 1) of a part's volume that stands in a hollow, by likeliest measures."""
    frames = likely_frames(part)
    own = quadrature_points(likely_solid(part, water_kg_m3), max(64, _POINTS // len(frames)))
    points = np.concatenate([own @ rotation.T + origin for rotation, origin in frames])
    inside = _inside(likely_solid(hollow, water_kg_m3), likely_frames(hollow), points)
    return float(inside.mean())


def _apart(a: _Standing, b: _Standing) -> bool:
    return bool(np.any(a.low >= b.high) or np.any(b.low >= a.high))


def _inside(solid: Solid, frames: list[tuple[Array, Array]], points: Array) -> NDArray[np.bool_]:
    found = np.zeros(len(points), dtype=bool)
    for rotation, origin in frames:
        found |= solid.contains((points - origin) @ rotation)
    return found
