"""One piece of a beam between two nodes under a load that varies evenly: stiffness, end forces, exact curves.

Euler-Bernoulli: no shear deformation. Deflection w and loads q are counted down, a moment M that sags is above 0:
EI w'' = -M, M' = V, V' = -q.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def stiffness(ei_nm2: float, length_m: float) -> Array:
    """Return the matrix (4, 4) from (w, w') at both ends to the forces and moments there."""
    h = length_m
    return (
        ei_nm2
        / h**3
        * np.array(
            [
                [12.0, 6.0 * h, -12.0, 6.0 * h],
                [6.0 * h, 4.0 * h * h, -6.0 * h, 2.0 * h * h],
                [-12.0, -6.0 * h, 12.0, -6.0 * h],
                [6.0 * h, 2.0 * h * h, -6.0 * h, 4.0 * h * h],
            ]
        )
    )


def shapes(length_m: float, x_m: float) -> tuple[Array, Array]:
    """Return the four cubic shapes of a piece at a distance from its start, and their slopes."""
    h, r = length_m, x_m / length_m
    value = [
        1.0 - 3.0 * r**2 + 2.0 * r**3,
        h * r * (1.0 - r) ** 2,
        r**2 * (3.0 - 2.0 * r),
        h * r**2 * (r - 1.0),
    ]
    slope = [6.0 * (r * r - r) / h, (1.0 - r) * (1.0 - 3.0 * r), 6.0 * (r - r * r) / h, r * (3.0 * r - 2.0)]
    return np.array(value), np.array(slope)


_GAUSS = ((-math.sqrt(0.6), 5.0 / 9.0), (0.0, 8.0 / 9.0), (math.sqrt(0.6), 5.0 / 9.0))
"""Places and weights of three Gauss points on -1 to 1."""


def spread_on(length_m: float, from_m: float, to_m: float, start_n_m: float, end_n_m: float) -> Array:
    """Return the nodal loads (4,) of a load that varies evenly over a part of a piece: three Gauss points are exact."""
    middle, half = 0.5 * (from_m + to_m), 0.5 * (to_m - from_m)
    total = np.zeros(4)
    for place, weight in _GAUSS:
        load = 0.5 * (start_n_m + end_n_m) + 0.5 * (end_n_m - start_n_m) * place
        total += half * weight * load * shapes(length_m, middle + half * place)[0]
    return total


Curve = tuple[float, ...]
"""Coefficients of a polynomial over the distance from the start of a piece, constant first."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A solved piece from `start_m`, `length_m` long: deflection (m), moment (N m), shear (N)."""

    start_m: float
    length_m: float
    deflection: Curve
    moment: Curve
    shear: Curve

    def extremes(self, curve: Curve) -> list[tuple[float, float]]:
        """Return (place along the beam, value) at both ends and wherever the curve is level."""
        slope = [k * c for k, c in enumerate(curve)][1:]
        places = [0.0, self.length_m, *(x for x in _roots(slope) if 0.0 < x < self.length_m)]
        return [(self.start_m + x, value_at(curve, x)) for x in places]


def value_at(curve: Curve, x_m: float) -> float:
    """Return the value of a curve at a distance from the start of its piece (Horner)."""
    total = 0.0
    for c in reversed(curve):
        total = total * x_m + c
    return total


def _roots(curve: list[float]) -> list[float]:
    """Return the real roots of a polynomial, constant first; none of a constant."""
    while curve and curve[-1] == 0.0:
        curve = curve[:-1]
    if len(curve) < 2:
        return []
    if len(curve) == 2:
        return [-curve[0] / curve[1]]
    if len(curve) == 3:
        c, b, a = curve
        under = b * b - 4.0 * a * c
        if under < 0.0:
            return []
        half = -0.5 * (b + math.copysign(math.sqrt(under), b))
        return [x for x in (half / a, c / half if half else 0.0) if math.isfinite(x)]
    found: list[complex] = np.roots(curve[::-1]).tolist()
    return [x.real for x in map(complex, found) if abs(x.imag) < 1e-9 * max(1.0, abs(x))]


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of a piece under one even load: from its start, N/m at both ends; `point_n`, `turn_nm` at its start."""

    from_m: float
    to_m: float
    start_n_m: float
    end_n_m: float
    point_n: float = 0.0
    turn_nm: float = 0.0


def nodal_loads(length_m: float, stretches: list[Stretch]) -> Array:
    """Return the loads (4,) that move the ends of a piece as its stretches do."""
    total = np.zeros(4)
    for part in stretches:
        value, slope = shapes(length_m, part.from_m)
        total += part.point_n * value + part.turn_nm * slope
        if part.start_n_m or part.end_n_m:
            total += spread_on(length_m, part.from_m, part.to_m, part.start_n_m, part.end_n_m)
    return total


def solved_pieces(
    start_m: float, length_m: float, ei_nm2: float, stretches: list[Stretch], moved: Array
) -> tuple[list[Piece], Array]:
    """Return a piece's curves, stretch by stretch, for its end movements (4,), and the forces on its ends (4,).

    The ends move exactly as for the whole load; between them deflection, slope, moment and shear are carried on
    from the left, so that loads may lie as near to each other as they like.
    """
    ends = stiffness(ei_nm2, length_m) @ moved - nodal_loads(length_m, stretches)
    v, m, w, turn = -float(ends[0]), float(ends[1]), float(moved[0]), float(moved[1])
    found = []
    for part in stretches:
        v, m = v - part.point_n, m + part.turn_nm
        long, q = part.to_m - part.from_m, part.start_n_m
        slope = (part.end_n_m - q) / long if long > 0.0 else 0.0
        bend = tuple(-c / ei_nm2 for c in (m / 2.0, v / 6.0, -q / 24.0, -slope / 120.0))
        deflection: Curve = (w, turn, *bend)
        moment, shear = (m, v, -q / 2.0, -slope / 6.0), (v, -q, -slope / 2.0)
        found.append(Piece(start_m + part.from_m, long, deflection, moment, shear))
        turn = value_at(tuple(k * c for k, c in enumerate(deflection))[1:], long)
        w, m, v = value_at(deflection, long), value_at(moment, long), value_at(shear, long)
    return found, ends
