"""One piece of a beam between two nodes under a load that varies evenly: stiffness, end forces, exact curves.

Euler-Bernoulli: no shear deformation. Deflection w and loads q are counted down, a moment M that sags is above 0:
EI w'' = -M, M' = V, V' = -q.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.polynomial import Polynomial
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


def even_loads(length_m: float, start_n_m: float, end_n_m: float) -> Array:
    """Return the nodal loads (4,) of a load that varies evenly from start to end."""
    h, a, b = length_m, start_n_m, end_n_m
    return np.array(
        [
            h * (7.0 * a + 3.0 * b) / 20.0,
            h * h * (3.0 * a + 2.0 * b) / 60.0,
            h * (3.0 * a + 7.0 * b) / 20.0,
            -h * h * (2.0 * a + 3.0 * b) / 60.0,
        ]
    )


@dataclass(frozen=True, slots=True, eq=False)
class Piece:
    """A solved piece from `start_m`, `length_m` long: deflection (m), moment (N m), shear (N) as polynomials.

    The polynomials run over the distance from the start of the piece.
    """

    start_m: float
    length_m: float
    deflection: Polynomial
    moment: Polynomial
    shear: Polynomial

    def extremes(self, curve: Polynomial) -> list[tuple[float, float]]:
        """Return (place along the beam, value) at both ends and wherever the curve is level."""
        places = [0.0, self.length_m]
        slope = curve.deriv().trim(0.0)
        if slope.degree() > 0 or slope.coef[0] != 0.0:
            for root in np.asarray(slope.roots(), dtype=np.complex128).tolist():
                if abs(root.imag) < 1e-9 * self.length_m and 0.0 < root.real < self.length_m:
                    places.append(root.real)
        return [(self.start_m + x, float(curve(x))) for x in places]


def solved_piece(
    start_m: float, length_m: float, ei_nm2: float, load: tuple[float, float], moved: Array
) -> tuple[Piece, Array]:
    """Return the piece for its end movements (4,), and the forces on its ends (4,) in the sense of w and w'."""
    ends = stiffness(ei_nm2, length_m) @ moved - even_loads(length_m, *load)
    shear0, moment0 = -float(ends[0]), float(ends[1])
    first, slope = load[0], (load[1] - load[0]) / length_m
    shear = Polynomial([shear0, -first, -slope / 2.0])
    moment = Polynomial([moment0, shear0, -first / 2.0, -slope / 6.0])
    deflection = Polynomial([float(moved[0]), float(moved[1])]) - moment.integ(2) / ei_nm2
    return Piece(start_m, length_m, deflection, moment, shear), ends
