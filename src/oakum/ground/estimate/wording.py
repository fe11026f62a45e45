"""Numbers as a careful person would write them: no more figures than the spread allows."""

from __future__ import annotations

import math

# unit -> (the unit to use for small values, below this size, times)
_SMALLER: dict[str, tuple[str, float, float]] = {
    "m": ("mm", 0.1, 1000.0),
    "kg": ("g", 1.0, 1000.0),
    "m3": ("l", 0.1, 1000.0),
    "1": ("%", math.inf, 100.0),
}
_LARGER: dict[str, tuple[str, float, float]] = {
    "N": ("kN", 1000.0, 0.001),
    "Pa": ("kPa", 1000.0, 0.001),
    "s": ("min", 600.0, 1.0 / 60.0),
}
_WRITTEN = {"m2": "m²", "m3": "m³", "kg/m3": "kg/m³", "deg": "°", "degC": "°C"}
_MINUS = "\N{MINUS SIGN}"


def shown_unit(unit: str, size: float) -> tuple[str, float]:
    """Return the unit to write for values up to `size`, and the factor from `unit` to it."""
    size = abs(size)
    small, large = _SMALLER.get(unit), _LARGER.get(unit)
    if small is not None and size < small[1]:
        unit, factor = small[0], small[2]
    elif large is not None and size >= large[1]:
        unit, factor = large[0], large[2]
    else:
        factor = 1.0
    return _WRITTEN.get(unit, unit), factor


def places_for(half_width: float) -> int:
    """Return the decimal places (negative: tens, hundreds) that suit a half-width.

    The half-width keeps two significant figures, so that rounding moves no end by more than a twentieth of
    it; whole numbers keep one figure more, since nobody expects a whole kilogram to be rounded away.
    """
    places = 1 - math.floor(math.log10(half_width) + 1e-9)
    return places if places >= 0 else places + 1


def figures(value: float, places: int) -> str:
    """Write a number to decimal `places` (negative: rounded to tens, ...) with thousands separators."""
    text = f"{round(value, places):,.{max(places, 0)}f}"
    if text.startswith("-"):
        text = text[1:] if not text.strip("-0.,") else _MINUS + text[1:]
    return text


def plain(value: float) -> str:
    """Write an exact number to six significant figures at most, with thousands separators."""
    if value == 0.0 or abs(value) < 1e-12:
        return "0"
    places = max(0, 5 - math.floor(math.log10(abs(value))))
    text = figures(value, places)
    return text.rstrip("0").rstrip(".") if "." in text else text


def joined(number: str, unit: str) -> str:
    """Put number and unit together: a space between, none before the degree sign of an angle."""
    if unit in ("", "1"):
        return number
    return number + unit if unit == "°" else f"{number} {unit}"
