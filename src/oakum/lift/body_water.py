"""Reading the water a body lies in."""

from __future__ import annotations

from oakum.ground.estimate import Estimate, exact, uniform
from oakum.ground.seawater import density_kg_m3
from oakum.lift.body import BodyWater
from oakum.lift.body_cursor import Cursor

_LABEL = "density of the water"
_UNKNOWN = BodyWater("water not known, 1,000 to 1,030 kg/m³", uniform(1000.0, 1030.0, _LABEL), known=False)
_SEA = BodyWater("sea water, 1,020 to 1,030 kg/m³", uniform(1020.0, 1030.0, _LABEL))
_FRESH = BodyWater("fresh water, 997 to 1,001 kg/m³", uniform(997.0, 1001.0, _LABEL))


def read_water(table: Cursor) -> BodyWater:
    """Read `water`: "sea", "fresh", "not known", a density, or a table with salinity and temperature."""
    value = table.raw("water")
    if isinstance(value, dict):
        inner = table.table_of("water", "water")
        assert inner is not None
        found = _measured(inner)
        inner.finish()
        return found
    word = value.strip().lower() if isinstance(value, str) else ""
    if value is None or word == "not known":
        return _UNKNOWN
    if word == "sea":
        table.notes.questions.append(
            "salinity and temperature of the sea water are not known: 1,020 to 1,030 kg/m³ was taken; "
            "brackish water is lighter"
        )
        return _SEA
    if word == "fresh":
        return _FRESH
    if isinstance(value, str) and not any(c.isdigit() for c in value):
        table.problem("water", f'"{value}" is none of "sea", "fresh", "not known" or a density such as "1027 kg/m3"')
        return _UNKNOWN
    density = table.estimate("water", "density", label=_LABEL)
    return _of(density, "measured") if density is not None else _UNKNOWN


def _measured(table: Cursor) -> BodyWater:
    if table.has("density"):
        density = table.estimate("density", "density", label=_LABEL)
        return _of(density, "measured") if density is not None else _UNKNOWN
    salinity = table.estimate("salinity", "fraction", unit="%", needed=True, sign=True)
    temperature = table.estimate("temperature", "temperature", needed=True, sign=True)
    depth = table.estimate("depth", "length", needed=True)
    if salinity is None or temperature is None or depth is None:
        return _UNKNOWN
    if table.notes.bare_lengths and table.notes.bare_lengths[-1].startswith("water"):
        table.notes.bare_lengths.pop()  # a metre more or less of depth changes nothing here
    return _of(_from_salinity(100.0 * salinity.best, temperature, depth.best, 100.0 * salinity.sd), "computed")


def _from_salinity(salinity: float, temperature: Estimate, depth_m: float, salinity_sd: float) -> Estimate:
    """Return the density with the spread that the spreads of salinity and temperature give it, first order."""

    def at(practical: float, celsius: float) -> float:
        return float(density_kg_m3(practical, celsius, depth_m, _LATITUDE, _LONGITUDE))

    middle = at(salinity, temperature.best)
    by_salinity = (at(salinity + 0.5, temperature.best) - at(max(salinity - 0.5, 0.0), temperature.best)) * salinity_sd
    by_warmth = (at(salinity, temperature.best + 0.5) - at(salinity, temperature.best - 0.5)) * temperature.sd
    sd = float((by_salinity**2 + by_warmth**2) ** 0.5)
    if sd == 0.0:
        return exact(middle, _LABEL)
    return Estimate("normal", middle, sd, label=_LABEL)


_LATITUDE, _LONGITUDE = 50.0, -20.0
"""Open Atlantic: the density depends on the position by less than 0.1 kg/m3, and positions are kept private."""


def _of(density: Estimate, how: str) -> BodyWater:
    spread = f" ± {density.sd:,.1f}" if not density.is_exact else ""
    return BodyWater(f"{how} density {density.best:,.1f}{spread} kg/m³", density)
