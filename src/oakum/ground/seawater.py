"""Density of the water an object lies in: sea, fresh or measured.

Sea water by TEOS-10 through the gsw package: depth -> pressure (`p_from_z`, z negative down), Practical
Salinity -> Absolute Salinity (by place; the Baltic has its own branch), temperature -> Conservative
Temperature, then `rho`. IOC, SCOR and IAPSO, The international thermodynamic equation of seawater, 2010.
Practical Salinity, as instruments show it, has no unit and is not the salt content in g/kg.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

import gsw
import numpy as np
from numpy.typing import ArrayLike, NDArray

from oakum.ground.errors import OakumError
from oakum.ground.estimate import Estimate, exact, normal

LABEL = "density of the water"
_RANGES = {
    "salinity": (0.0, 42.0, ""),
    "temperature": (-2.0, 40.0, " °C"),
    "depth": (0.0, 200.0, " m"),
    "latitude": (-90.0, 90.0, "°"),
    "longitude": (-180.0, 360.0, "°"),
    "density": (990.0, 1060.0, " kg/m³"),
}
_NO_PLACE_LATITUDE_DEG = 45.0
_NO_PLACE_SD_KG_M3 = 0.05  # salt of another composition, greatest in the Baltic: 0.07 g/kg there
_SUPERCOOLED_C = 0.1


class WaterError(OakumError, ValueError):
    """Water that cannot be; the text says what was expected."""


def _within(name: str, values: ArrayLike) -> None:
    low, high, unit = _RANGES[name]
    numbers = np.atleast_1d(np.asarray(values, dtype=np.float64)).ravel()
    outside = numbers[~((numbers >= low) & (numbers <= high))]
    if outside.size:
        raise WaterError(f"the {name} must lie between {low:g} and {high:g}{unit}; got {outside[0]:g}{unit}")


def density_kg_m3(
    practical_salinity: ArrayLike,
    temperature_c: ArrayLike,
    depth_m: ArrayLike,
    latitude_deg: float | None = None,
    longitude_deg: float | None = None,
) -> float | NDArray[np.float64]:
    """Return the density of sea water, kg/m3, by TEOS-10.

    Practical Salinity 0 to 42 (no unit), in-situ temperature -2 to 40 degC, depth 0 to 200 m below the
    surface, position in degrees. Arrays broadcast. Without a position the salt is taken to have the reference
    composition, off by less than 0.01 kg/m3 in the open sea and by 0.06 in the Baltic.
    Raises `WaterError` outside the ranges, and where the water would be frozen.
    """
    _within("salinity", practical_salinity)
    _within("temperature", temperature_c)
    _within("depth", depth_m)
    if (latitude_deg is None) != (longitude_deg is None):
        raise WaterError("give latitude and longitude, or neither")
    sp = np.asarray(practical_salinity, dtype=np.float64)
    t = np.asarray(temperature_c, dtype=np.float64)
    z = -np.asarray(depth_m, dtype=np.float64)
    if latitude_deg is None or longitude_deg is None:
        p = gsw.p_from_z(z, _NO_PLACE_LATITUDE_DEG)
        sa = gsw.SR_from_SP(sp)
    else:
        _within("latitude", latitude_deg)
        _within("longitude", longitude_deg)
        p = gsw.p_from_z(z, latitude_deg)
        sa = gsw.SA_from_SP(sp, p, longitude_deg, latitude_deg)
    if np.any(t < gsw.t_freezing(sa, p, 0.0) - _SUPERCOOLED_C):
        raise WaterError("water this cold and this fresh is ice; check salinity and temperature")
    rho = np.asarray(gsw.rho(sa, gsw.CT_from_t(sa, t, p), p), dtype=np.float64)
    return float(rho) if rho.ndim == 0 else rho


@dataclass(frozen=True, slots=True)
class Water:
    """The water an object lies in.

    `density_kg_m3` is an estimate with the label "density of the water", so that all parts share its draw;
    `described` says what it rests on. Make one with `Water.sea`, `Water.fresh` or `Water.measured`.
    """

    kind: Literal["sea", "fresh", "measured"]
    density_kg_m3: Estimate
    described: str

    @classmethod
    def sea(
        cls,
        practical_salinity: float | Estimate,
        temperature_c: float | Estimate,
        depth_m: float,
        latitude_deg: float | None = None,
        longitude_deg: float | None = None,
    ) -> Water:
        """Return sea water.

        Salinity and temperature may be estimates; their spread is carried over to first order
        (0.77 kg/m3 a unit of salinity, 0.2 kg/m3 a degree) and the density becomes a normal estimate.
        """
        salinity, temperature = _estimate(practical_salinity), _estimate(temperature_c)
        for name, what in (("salinity", salinity), ("temperature", temperature)):
            _within(name, [what.quantile(0.001), what.quantile(0.999)])

        def rho(s: float, t: float) -> float:
            return float(density_kg_m3(s, t, depth_m, latitude_deg, longitude_deg))

        best = rho(salinity.mean, temperature.mean)
        by_salinity = _half_step(lambda s: rho(s, temperature.mean), salinity)
        by_temperature = _half_step(lambda t: rho(salinity.mean, t), temperature)
        no_place = _NO_PLACE_SD_KG_M3 if latitude_deg is None else 0.0
        sd = math.hypot(by_salinity, by_temperature, no_place)
        where = "position not given" if latitude_deg is None else "at its position"
        described = (
            f"sea water, salinity {_said(salinity)}, {_said(temperature)} °C, "
            f"{depth_m:g} m deep, {where} (TEOS-10)"
        )
        return cls("sea", _spread(best, sd), described)

    @classmethod
    def fresh(cls, temperature_c: float | Estimate, depth_m: float = 0.0) -> Water:
        """Return fresh water: salinity zero."""
        temperature = _estimate(temperature_c)
        _within("temperature", [temperature.quantile(0.001), temperature.quantile(0.999)])

        def rho(t: float) -> float:
            return float(density_kg_m3(0.0, t, depth_m, _NO_PLACE_LATITUDE_DEG, 0.0))

        sd = abs(_half_step(rho, temperature))
        described = f"fresh water, {_said(temperature)} °C (TEOS-10)"
        return cls("fresh", _spread(rho(temperature.mean), sd), described)

    @classmethod
    def measured(cls, density: Estimate) -> Water:
        """Return water whose density was measured, kg/m3, 990 to 1060."""
        _within("density", [density.quantile(0.001), density.quantile(0.999)])
        return cls("measured", density.labelled("" if density.is_exact else LABEL), "water, density measured")

    def words(self) -> str:
        """Say which water, with the density used."""
        density = self.density_kg_m3
        number = f"{density.best:,.1f}" + ("" if density.is_exact else f" ± {max(density.sd, 0.1):.1f}")
        return f"{self.described}: {number} kg/m³"


def _estimate(value: float | Estimate) -> Estimate:
    return value if isinstance(value, Estimate) else exact(value)


def _spread(best: float, sd: float) -> Estimate:
    return normal(best, sd, LABEL) if sd > 0.0 else exact(best)


def _said(value: Estimate) -> str:
    return f"{value.best:g}" if value.is_exact else f"{value.best:g} ± {value.sd:.2g}"


def _half_step(rho: Callable[[float], float], value: Estimate) -> float:
    """Return the change of the density over one sd of `value`: half of that from -1 to +1 sd."""
    if value.is_exact:
        return 0.0
    low, high = value.mean - value.sd, value.mean + value.sd
    return 0.5 * (rho(high) - rho(low))
