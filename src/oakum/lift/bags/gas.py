"""Air under water: pressure with depth, Boyle's law, its density, and free air.

All functions take floats or arrays that broadcast. Depths are metres below the surface, positive down, of the
level where air and water meet inside the bag; pressures are absolute pascals.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from oakum.ground.gravity import G_M_S2
from oakum.lift.bags.errors import BagError

Array = NDArray[np.float64]

ATMOSPHERE_PA = 101_325.0
"""The standard atmosphere, Pa (10th CGPM 1954; memory, verify)."""

BAR_PA = 100_000.0
"""One bar, Pa. Free air at 1 bar takes 1.3 % more room than at 1 atmosphere."""

GAS_CONSTANT_AIR = 287.05
"""Specific gas constant of dry air, J/(kg K) (memory, verify)."""

_ZERO_C_K = 273.15


@dataclass(frozen=True, slots=True)
class Column:
    """The water over the bags, of one density and temperature, and the air pressure on top.

    `density_kg_m3` 990 to 1060, `temperature_c` -2 to 40, `air_pressure_pa` 85 to 110 kPa; the standard
    atmosphere unless it was read. Raises `BagError` outside.
    """

    density_kg_m3: float
    temperature_c: float
    air_pressure_pa: float = ATMOSPHERE_PA

    def __post_init__(self) -> None:
        for what, value, low, high, unit in (
            ("the density of the water", self.density_kg_m3, 990.0, 1060.0, "kg/m³"),
            ("the temperature of the water", self.temperature_c, -2.0, 40.0, "°C"),
            ("the air pressure", self.air_pressure_pa, 85_000.0, 110_000.0, "Pa"),
        ):
            if not low <= value <= high:
                raise BagError(
                    f"{what} must lie between {low:,g} and {high:,g} {unit}; got {value:,g} {unit}"
                )

    @property
    def pa_per_m(self) -> float:
        """How much the pressure grows with each metre, Pa/m."""
        return self.density_kg_m3 * G_M_S2


def absolute_pa(depth_m: ArrayLike, column: Column) -> Array:
    """Return the absolute pressure at a depth, p = p_air + rho g z; depth 0 to 200 m.

    >>> round(float(absolute_pa(20.0, Column(1027.0, 10.0))))
    302754
    """
    depth = np.asarray(depth_m, dtype=np.float64)
    if not np.all((depth >= 0.0) & (depth <= 200.0)):
        wrong = depth[~((depth >= 0.0) & (depth <= 200.0))].flat[0]
        raise BagError(f"a bag works between 0 and 200 m below the surface; got {wrong:g} m")
    return np.asarray(column.air_pressure_pa + column.pa_per_m * depth)


def boyle_m3(volume_m3: ArrayLike, from_pa: ArrayLike, to_pa: ArrayLike) -> Array:
    """Return the volume the same air takes at another pressure and the same temperature (Boyle)."""
    return np.asarray(np.asarray(volume_m3) * np.asarray(from_pa) / np.asarray(to_pa), dtype=np.float64)


def air_density_kg_m3(pressure_pa: ArrayLike, temperature_c: float) -> Array:
    """Return the density of dry air as an ideal gas, p / (R T); good to 1 % below 2 MPa."""
    return np.asarray(pressure_pa, dtype=np.float64) / (GAS_CONSTANT_AIR * (temperature_c + _ZERO_C_K))


def lift_kg_per_m3(depth_m: ArrayLike, column: Column) -> Array:
    """Return what a cubic metre of air lifts at a depth, rho_water - rho_air, kg/m3."""
    air = air_density_kg_m3(absolute_pa(depth_m, column), column.temperature_c)
    return np.asarray(column.density_kg_m3 - air)


def free_air_m3(volume_m3: ArrayLike, depth_m: ArrayLike, column: Column, at_pa: float) -> Array:
    """Return the room this much air at depth takes at the pressure `at_pa`, same temperature.

    `at_pa` is `ATMOSPHERE_PA` or `BAR_PA`: say which beside every figure.
    """
    return boyle_m3(volume_m3, absolute_pa(depth_m, column), at_pa)
