"""What people type, as the logbook keeps it: the text as written beside the SI value, unit and spread."""

from __future__ import annotations

import math
from typing import Any

from oakum.ground.quantities import Quantity, read
from oakum.lift import CellReading
from oakum.record import decimal_text

FIELD_DIMENSIONS = {
    "length": "length",
    "width": "length",
    "height": "length",
    "diameter": "length",
    "thickness": "length",
    "depth": "length",
    "mass": "mass",
}
"""The fields of a find that hold a measured value, and what kind of quantity each is."""

SI_UNIT = {
    "length": "m",
    "mass": "kg",
    "density": "kg/m3",
    "force": "N",
    "temperature": "degC",
    "volume": "m3",
    "time": "s",
}


def measure_of(text: str, dimension: str, *, unit: str | None = None, instrument: str = "") -> dict[str, Any]:
    """Return the body of a measured value. `unit` is the unit a bare number has because the field says so.

    Raises `QuantityError` with what to write instead.
    """
    quantity = read(text, dimension, unit=unit)
    body: dict[str, Any] = {
        "text": text.strip() if unit is None else _with_unit(text.strip(), unit),
        "value": decimal_text(quantity.value),
        "unit": SI_UNIT[dimension],
    }
    for key in ("low", "high", "mode"):
        value = getattr(quantity, key)
        if value is not None:
            body[key] = decimal_text(value)
    sd = spread_of_quantity(quantity)
    if sd is not None:
        body["sd"] = decimal_text(sd)
    if instrument.strip():
        body["instrument"] = instrument.strip()
    return body


def reading_of(
    text: str,
    dimension: str,
    *,
    quantity: str,
    state: str,
    unit: str | None = None,
    instrument: str = "",
    note: str = "",
    gear: str = "",
    frame: bool | None = None,
) -> dict[str, Any]:
    """Return the body of a `reading` entry: one quantity in one state, from one instrument.

    `gear` is the weight, in that state, of what hung between a load cell and the object: it is taken off the
    reading, with its spread. `frame`: whether the frame of its cradle hung there too; None: not known.
    """
    measure = measure_of(text, dimension, unit=unit, instrument=instrument)
    body = {key: value for key, value in measure.items() if key not in ("low", "high", "mode")}
    body |= {"quantity": quantity, "state": state}
    if note.strip():
        body["note"] = note.strip()
    if gear.strip():
        body["gear"] = measure_of(gear, "mass")
    if frame is not None:
        body["frame"] = frame
    return body


def cell_reading(text: str) -> CellReading:
    """Return a load-cell reading of the body hanging free under water, typed as "445 ± 12 kg"."""
    quantity = read(text, "mass")
    return CellReading(quantity.value, spread_of_quantity(quantity), text.strip())


def spread_of_quantity(quantity: Quantity) -> float | None:
    """Return one standard deviation in SI: as written, that of the range, or None where nothing was said."""
    if quantity.sd is not None:
        return quantity.sd
    if quantity.low is None or quantity.high is None:
        return None
    if quantity.mode is None:
        return (quantity.high - quantity.low) / math.sqrt(12.0)
    return quantity.estimate().sd


def _with_unit(text: str, unit: str) -> str:
    return text if any(c.isalpha() for c in text) else f"{text} {unit}"
