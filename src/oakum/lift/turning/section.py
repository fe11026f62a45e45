"""The body seen from the side: outline, edge it turns on, weight and hanging point over the draws.

The side view has x to the right and y up, metres; the bed is level under the edge. Angles of turning are
degrees from the pose in which the body lies at the start, positive in the sense the turning is meant to go.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from oakum.lift.draw_bands import picked
from oakum.lift.turning.errors import TurningError

Array = NDArray[np.float64]

MOST_DRAWS = 2_000
"""Draws that a turning uses: its percentiles are good to about 3 % of the width."""

_TOUCH = 1e-6  # share of the body's size within which a point counts as on the bed
_LEAST_TURN_DEG = 0.01
OUTSIDE = 0.01
"""Share of the body's size by which a foot or a fastening may lie outside the outline as drawn."""


@dataclass(frozen=True, slots=True, eq=False)
class Section:
    """A body lying on the bed, seen along the edge it turns on.

    `outline` (k, 2) is its side view, at least three points in order; `edge` indexes the point of the
    outline it turns on, which lies on the bed with nothing of the body below it. `weight_n` (n,) are draws of
    the submerged weight, N; `hanging_m` (n, 2) or (2,) the point it acts at under water, in the side view;
    `weights` (n,) as a reading makes them, None: all alike. `clockwise` False turns from x towards y.
    Raises `TurningError`.
    """

    outline: tuple[tuple[float, float], ...]
    edge: int
    weight_n: Array
    hanging_m: Array
    clockwise: bool = False
    weights: Array | None = None

    def __post_init__(self) -> None:
        points = self.points
        if points.ndim != 2 or len(points) < 3 or points.shape[1] != 2 or not np.all(np.isfinite(points)):
            raise TurningError("the outline needs at least three points, each with x and y in metres")
        if not 0 <= self.edge < len(points):
            raise TurningError(
                f"the edge must be one of the {len(points)} points of the outline, counted from 0; got {self.edge}"
            )
        if polygon_area_m2(points) <= 1e-9 * self.size_m**2:
            raise TurningError("the outline encloses nothing; give its points in order round the body")
        lowest = float(points[:, 1].min())
        if points[self.edge, 1] - lowest > _TOUCH * self.size_m:
            raise TurningError(
                f"the body turns on a point {points[self.edge, 1] - lowest:.2f} m over its lowest one: "
                "the edge must lie on the bed"
            )
        if self.lands_deg() < _LEAST_TURN_DEG:
            raise TurningError(
                "the body lies on the bed on the far side of this edge too and cannot turn on it that way; "
                "take its outermost point on that side, or the other sense of turning"
            )
        if not (np.all(np.isfinite(self.weight_n)) and float(np.median(self.weight_n)) > 0.0):
            raise TurningError(
                "the body floats or its weight under water is not known; nothing has to be turned"
            )
        if self.arms_m.shape != (len(self.weight_n), 2):
            raise TurningError("there must be one hanging point a draw of the weight, or one for all")

    def few(self, most: int = MOST_DRAWS) -> Section:
        """Return at most so many draws that count alike and stand for all."""
        some = picked(len(self.weight_n), self.weights, most)
        hanging = self.arms_m[some] + self.edge_m
        return replace(self, weight_n=self.weight_n[some], hanging_m=hanging, weights=None)

    @property
    def points(self) -> Array:
        """The outline as an array (k, 2)."""
        return np.asarray(self.outline, dtype=np.float64)

    @property
    def size_m(self) -> float:
        """The greatest extent of the outline, m."""
        return float(np.ptp(self.points, axis=0).max())

    @property
    def edge_m(self) -> Array:
        """The edge as it lies, (2,)."""
        return np.asarray(self.points[self.edge])

    @property
    def arms_m(self) -> Array:
        """The hanging point (n, 2) as seen from the edge, at the start."""
        hanging = np.asarray(self.hanging_m, dtype=np.float64)
        if hanging.ndim == 1:
            hanging = np.broadcast_to(hanging, (len(self.weight_n), *hanging.shape))
        return np.asarray(hanging - self.edge_m)

    def from_edge(self, point_m: Sequence[float]) -> Array:
        """Return a point of the body as seen from the edge, (2,), at the start."""
        return np.asarray(point_m, dtype=np.float64) - self.edge_m

    def outside_m(self, point_m: Sequence[float]) -> float:
        """Return how far a point of the side view lies outside the outline, m; 0 inside and on it."""
        return outside_m(self.points, np.asarray(point_m, dtype=np.float64))

    def turned(self, arms_m: ArrayLike, angle_deg: ArrayLike) -> Array:
        """Return points (..., 2), as seen from the edge, after turning by angles (k,): shape (..., k, 2)."""
        angle = np.radians(np.asarray(angle_deg, dtype=np.float64)) * (-1.0 if self.clockwise else 1.0)
        arms = np.asarray(arms_m, dtype=np.float64)
        x, y = arms[..., 0, None], arms[..., 1, None]
        cos, sin = np.cos(angle), np.sin(angle)
        return np.stack([x * cos - y * sin, x * sin + y * cos], axis=-1)

    def lands_deg(self) -> float:
        """Return the angle at which another point of the outline comes down on the bed, at most 180."""
        arms = self.points - self.edge_m
        others = np.hypot(*arms.T) > _TOUCH * self.size_m
        at = np.degrees(np.arctan2(np.maximum(arms[others, 1], 0.0), arms[others, 0]))
        return float(np.min(at if self.clockwise else 180.0 - at))

    def balance_deg(self) -> Array:
        """Return the angle (n,) at which the hanging point is over the edge; beyond, it goes by itself.

        Negative where it already lies beyond.
        """
        arms = self.arms_m
        at = np.degrees(np.arctan2(arms[:, 1], arms[:, 0]))
        return np.asarray(at - 90.0 if self.clockwise else 90.0 - at)


def polygon_area_m2(points: Array) -> float:
    """Return the area of a polygon (k, 2), whichever way round it is given."""
    x, y = points.T
    return 0.5 * abs(float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))))


def outside_m(polygon: Array, point: Array) -> float:
    """Return how far a point (2,) lies outside a polygon (k, 2), 0 inside and on it."""
    start, end = polygon, np.roll(polygon, -1, axis=0)
    side = end - start
    rises = (start[:, 1] > point[1]) != (end[:, 1] > point[1])
    with np.errstate(divide="ignore", invalid="ignore"):
        crossing = start[:, 0] + (point[1] - start[:, 1]) / side[:, 1] * side[:, 0]
    if np.count_nonzero(rises & (crossing > point[0])) % 2:
        return 0.0
    length = np.maximum(np.einsum("ij,ij->i", side, side), 1e-300)
    along = np.clip(np.einsum("ij,ij->i", point - start, side) / length, 0.0, 1.0)
    return float(np.hypot(*(start + along[:, None] * side - point).T).min())
