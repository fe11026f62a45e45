"""Sizing an airlift or a dredge from typed fields."""

from __future__ import annotations

from collections.abc import Mapping

from oakum.desk.finds.entering import FieldErrors
from oakum.desk.seabed.dig_typed import metres
from oakum.ground.quantities import QuantityError, read
from oakum.seabed.dig import AirliftAsked, DigError, DredgeAsked, Sizing, airlift, dredge

AIRLIFT_FIELDS: Mapping[str, tuple[str, str]] = {
    "bore": ("Bore of the pipe", "With its unit: 110 mm, 6 in."),
    "depth": ("Injector under water", "From the surface down, as 14 m."),
    "freeboard": ("Outlet above water", "0 where it discharges under water."),
    "air": ("Free air of the compressor", "In m3 a minute, from its plate. Empty: not known."),
    "pressure": ("Pressure of the compressor", "Over atmosphere, as 7 bar. Empty: not known."),
}
DREDGE_FIELDS: Mapping[str, tuple[str, str]] = {
    "bore": ("Bore of the hose", "With its unit: 100 mm, 4 in."),
    "hose": ("Suction and discharge together", "As 20 m."),
    "rise": ("Rise from mouth to outlet", "As 2 m; 0 where both lie on the bed."),
    "pump": ("Pressure of the pump at the nozzle", "Over the water there, as 6 bar."),
    "freeboard": ("Outlet above water", "0 where it discharges under water."),
    "delivers": ("Delivery of the pump at that pressure", "In m3 an hour. Empty: not known."),
}
_NEEDED = {"bore", "depth", "hose", "rise", "pump"}


def airlift_typed(typed: Mapping[str, str]) -> Sizing:
    """Size an airlift; raises `FieldErrors` with a sentence a field."""
    held = _read(typed, AIRLIFT_FIELDS)
    try:
        return airlift(
            AirliftAsked(
                held["bore"] or 0.0,
                held["depth"] or 0.0,
                held["freeboard"] or 0.0,
                free_air_m3_min=held["air"],
                pressure_bar=held["pressure"],
            )
        )
    except DigError as error:
        raise FieldErrors({_field_of(str(error), "depth"): str(error)}) from None


def dredge_typed(typed: Mapping[str, str]) -> Sizing:
    """Size a dredge; raises `FieldErrors` with a sentence a field."""
    held = _read(typed, DREDGE_FIELDS)
    try:
        return dredge(
            DredgeAsked(
                held["bore"] or 0.0,
                held["hose"] or 0.0,
                held["rise"] or 0.0,
                held["pump"] or 0.0,
                held["freeboard"] or 0.0,
                pump_m3_h=held["delivers"],
            )
        )
    except DigError as error:
        raise FieldErrors({_field_of(str(error), "hose"): str(error)}) from None


def _field_of(said: str, other: str) -> str:
    """The field that a refusal is about, by its words."""
    words = {"bore": "bore", "freeboard": "outlet", "pump": "pressure of the pump", "depth": "injector"}
    return next((field for field, word in words.items() if word in said), other)


def _read(typed: Mapping[str, str], fields: Mapping[str, tuple[str, str]]) -> dict[str, float | None]:
    found: dict[str, float | None] = dict.fromkeys(fields)
    wrong: dict[str, str] = {}
    for field in fields:
        text = typed.get(field, "").strip()
        if not text:
            if field in _NEEDED:
                wrong[field] = "write a measure with its unit"
            continue
        try:
            found[field] = _number(field, text)
        except (DigError, QuantityError) as error:
            wrong[field] = str(error)
    if wrong:
        raise FieldErrors(wrong)
    return found


def _number(field: str, text: str) -> float:
    if field in ("pressure", "pump"):
        return 1e-5 * read(text, "pressure", unit="bar").value
    if field in ("air", "delivers"):
        try:
            value = float(text.split()[0])
        except ValueError:
            value = -1.0
        if not 0.0 < value < 1e6:
            raise DigError(f'"{text}": write a number, such as 2.5')
        return value
    return float(metres(text))
