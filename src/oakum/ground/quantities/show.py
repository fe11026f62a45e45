"""SI numbers written in the unit a person chose."""

from __future__ import annotations

import math
from fractions import Fraction

from oakum.ground.quantities.quantity import QuantityError
from oakum.ground.quantities.units import find_unit

_WRITTEN = {"deg": "°", "degC": "°C", "degF": "°F", "1": ""}
_RAISED = {"2": "²", "3": "³"}


def show(value_si: float, unit: str, digits: int = 6, *, grouped: bool = False) -> str:
    """Write an SI value in `unit`, to at most `digits` significant figures.

    The text can be read back with `read`. `grouped` sets thousands apart with commas, for people only:
    `1,710 kg` is refused when typed, since it may mean 1.71.
    """
    if digits < 1:
        raise QuantityError(f"at least one figure must be shown, got {digits}")
    if not math.isfinite(value_si):
        raise QuantityError(f"{value_si} cannot be written as a quantity")
    found = find_unit(unit)
    number = float((Fraction(value_si) - found.offset) / found.factor)
    places = 0 if number == 0 else digits - 1 - math.floor(math.log10(abs(number)))
    text = f"{round(number, places):{',' if grouped else ''}.{max(0, places)}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    if text == "-0":
        text = "0"
    written = _WRITTEN.get(found.symbol, found.symbol)
    if written[-1:] in _RAISED:
        written = written[:-1] + _RAISED[written[-1]]
    if written in ("", "°"):
        return text + written
    return f"{text} {written}"
