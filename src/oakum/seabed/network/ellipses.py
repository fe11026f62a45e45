"""Ellipses and ellipsoids that hold a point with a stated probability, from a covariance."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import chdtri
from scipy.stats import f as f_distribution

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Ellipse:
    """Half axes in m and the bearing of the longer one, degrees clockwise from site north, 0 to 180."""

    major_m: float
    minor_m: float
    bearing_deg: float
    inside: float

    @property
    def angle_deg(self) -> float:
        """The same direction counted anticlockwise from x, 0 to 180, as drawings and textbooks have it."""
        return (90.0 - self.bearing_deg) % 180.0


@dataclass(frozen=True, slots=True)
class Ellipsoid:
    """Half axes in m, longest first, and their directions as unit rows (x, y, z)."""

    axes_m: tuple[float, float, float]
    directions: tuple[tuple[float, float, float], ...]
    inside: float


def factor(dimensions: int, inside: float, freedom: int | None = None) -> float:
    """What a half axis of one sd is multiplied by to hold the point with probability `inside`.

    sqrt of the chi-square quantile (known sd), or with `freedom` sqrt(m F(inside; m, freedom)) where the variance
    factor was estimated from that many spare readings. 2-D 95 %: 2.448; 3-D 95 %: 2.795; one axis 1.960.
    """
    if freedom is None:
        return math.sqrt(float(chdtri(dimensions, 1.0 - inside)))
    return math.sqrt(dimensions * float(f_distribution.ppf(inside, dimensions, freedom)))


def ellipse(cov_m2: Array, inside: float = 0.95) -> Ellipse:
    """The ellipse of a (2, 2) covariance."""
    values, vectors = np.linalg.eigh(cov_m2)
    k = factor(2, inside)
    minor, major = (k * math.sqrt(max(float(v), 0.0)) for v in values)
    bearing = math.degrees(math.atan2(float(vectors[0, 1]), float(vectors[1, 1]))) % 180.0
    return Ellipse(major, minor, bearing, inside)


def ellipsoid(cov_m2: Array, inside: float = 0.95) -> Ellipsoid:
    """The ellipsoid of a (3, 3) covariance."""
    values, vectors = np.linalg.eigh(cov_m2)
    k = factor(3, inside)
    a, b, c = (k * math.sqrt(max(float(v), 0.0)) for v in values[::-1])
    rows = tuple((float(v[0]), float(v[1]), float(v[2])) for v in vectors.T[::-1])
    return Ellipsoid((a, b, c), rows, inside)
