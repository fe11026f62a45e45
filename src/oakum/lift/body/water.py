"""Reading the water a body lies in."""

from __future__ import annotations

import math
from dataclasses import replace

from oakum.ground.errors import OakumError
from oakum.ground.estimate import Estimate, uniform
from oakum.ground.seawater import LABEL, Water
from oakum.lift.body.cursor import Cursor
from oakum.lift.body.model import BodyWater

UNKNOWN = BodyWater("water not known: 1,000 to 1,030 kg/m³", uniform(1000.0, 1030.0, LABEL), known=False)
_SEA = BodyWater("sea water, not measured: 1,020 to 1,030 kg/m³", uniform(1020.0, 1030.0, LABEL))
_FRESH = BodyWater("fresh water, not measured: 997 to 1,001 kg/m³", uniform(997.0, 1001.0, LABEL))


def read_water(table: Cursor) -> BodyWater:
    """Read `water`: "sea", "fresh", "not known", a density, or a table with salinity and temperature."""
    value = table.raw("water")
    if isinstance(value, dict):
        inner = table.table_of("water", "water")
        assert inner is not None  # it is a table
        found = _described(inner)
        inner.finish()
        return found
    word = value.strip().lower() if isinstance(value, str) else ""
    if value is None or word == "not known":
        return UNKNOWN
    if word == "sea":
        table.notes.questions.append(
            "salinity and temperature of the sea water are not known: 1,020 to 1,030 kg/m³ was taken; "
            "brackish water is lighter"
        )
        return _SEA
    if word == "fresh":
        return _FRESH
    if isinstance(value, str) and not any(c.isdigit() for c in value):
        table.problem(
            "water", f'"{value}" is none of "sea", "fresh", "not known" or a density such as "1027 kg/m3"'
        )
        return UNKNOWN
    return _measured(table, "water", table.estimate("water", "density", label=LABEL))


def _described(table: Cursor) -> BodyWater:
    if table.has("density"):
        return _measured(table, "density", table.estimate("density", "density", label=LABEL))
    salinity = _number(table, "salinity")
    temperature = table.estimate("temperature", "temperature", needed=True, sign=True)
    depth = table.estimate("depth", "length", needed=True, counted=False)
    latitude, longitude = (table.estimate(key, "angle", sign=True) for key in ("latitude", "longitude"))
    if salinity is None or temperature is None or depth is None:
        return UNKNOWN
    place = [math.degrees(e.best) for e in (latitude, longitude) if e is not None]
    try:
        water = Water.sea(salinity, temperature, depth.best, *place)
    except OakumError as error:
        table.problem("salinity", str(error))
        return UNKNOWN
    return BodyWater(water.words(), water.density_kg_m3)


def _number(table: Cursor, key: str) -> Estimate | None:
    """Read Practical Salinity, which has no unit, as hundredths of a fraction: "34.5 ± 0.5"."""
    found = table.estimate(key, "fraction", unit="%", needed=True, sign=True)
    if found is None:
        return None
    return replace(found, a=100.0 * found.a, b=100.0 * found.b, c=100.0 * found.c)


def _measured(table: Cursor, key: str, density: Estimate | None) -> BodyWater:
    if density is None:
        return UNKNOWN
    try:
        water = Water.measured(density)
    except OakumError as error:
        table.problem(key, str(error))
        return UNKNOWN
    return BodyWater(water.words(), water.density_kg_m3)
