"""Real air at cylinder pressures: how much less a full cylinder gives than pressure times volume says."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from oakum.lift.bags.gas import BAR_PA

SOURCE = "compressibility factor of air at 300 K, table in Perry's Chemical Engineers' Handbook"
MARK = "memory, verify"

# absolute pressure in bar, factor
_TABLE = np.array(
    [
        (0, 1.0),
        (1, 0.9999),
        (5, 0.9987),
        (10, 0.9974),
        (20, 0.9950),
        (40, 0.9917),
        (60, 0.9901),
        (80, 0.9903),
        (100, 0.9930),
        (150, 1.0074),
        (200, 1.0326),
        (250, 1.0669),
        (300, 1.1089),
        (400, 1.2073),
        (500, 1.3163),
    ]
)


def compressibility(pressure_pa: ArrayLike) -> NDArray[np.float64]:
    """Return Z = p V / (n R T) of air at 300 K, absolute pressure 0 to 50 MPa, between table points.

    Colder air is a little below this at low pressure and alike near 30 MPa. Above the table the last value
    holds. See `gives_m3` for how the table is kept from ever adding air.

    >>> float(compressibility(30e6))
    1.1089
    """
    return np.asarray(np.interp(np.asarray(pressure_pa) / BAR_PA, *_TABLE.T), dtype=np.float64)


def gives_m3(volume_m3: float, from_pa: float, to_pa: float) -> float:
    """Return the free air, m3 at 1 bar, that a cylinder gives between two absolute pressures.

    The lesser of the ideal and the real gas: a table from memory may lower what a cylinder gives, never
    raise it. Nothing where it starts below where it ends.
    """
    if from_pa <= to_pa:
        return 0.0
    ideal = from_pa - to_pa
    real = from_pa / float(compressibility(from_pa)) - to_pa / float(compressibility(to_pa))
    return volume_m3 * min(ideal, real) / BAR_PA
