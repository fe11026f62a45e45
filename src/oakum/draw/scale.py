"""Round figures for axes, scale bars and print scales."""

from __future__ import annotations

import math
from dataclasses import dataclass

POINTS_PER_METRE = 72 / 0.0254
"""Points (1/72 inch) in a metre of paper; the inch is 25.4 mm by definition."""

PRINT_SCALES = (1, 2, 5, 10, 20, 50, 100, 200, 500)
"""Denominators a ruler on the paper can follow."""


@dataclass(frozen=True, slots=True)
class Axis:
    """A linear map from values low..high to units from..to, with its ticks."""

    low: float
    high: float
    start: float
    end: float
    ticks: tuple[float, ...]
    step: float

    def at(self, value: float) -> float:
        """Return where a value lies."""
        return self.start + (value - self.low) / (self.high - self.low) * (self.end - self.start)

    def label(self, value: float) -> str:
        """Write a tick with the decimals that its step needs and a comma for thousands."""
        return decimals(value, max(0, -math.floor(math.log10(self.step) + 1e-9)))


def decimals(value: float, places: int) -> str:
    """Write a value with fixed decimals, a comma for thousands, a real minus, and never "-0"."""
    text = f"{value:,.{places}f}"
    if float(text.replace(",", "")) == 0:
        text = f"{0:.{places}f}"
    return text.replace("-", "\u2212")


def nice_step(span: float, count: int = 5) -> float:
    """Return the step of 1, 2 or 5 times a power of ten that cuts `span` into about `count` pieces.

    >>> nice_step(1.0, 5), nice_step(1730, 5), nice_step(0.07, 4)
    (0.2, 500.0, 0.02)
    """
    if not (math.isfinite(span) and span > 0):
        return 1.0
    raw = span / count
    power = 10.0 ** math.floor(math.log10(raw))
    for factor in (1, 2, 5, 10):
        if raw <= factor * power * (1 + 1e-9):
            return float(f"{factor * power:.12g}")
    return 10 * power


def axis(low: float, high: float, start: float, end: float, *, count: int = 5, tight: bool = False) -> Axis:
    """Make an axis with round ticks; `tight` keeps the ends at the data, else at the next tick."""
    if high - low <= 1e-12 * max(abs(low), abs(high), 1e-300):
        pad = 0.5 * abs(high) or 1.0
        low, high = low - pad, high + pad
    step = nice_step(high - low, count)
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    if not tight:
        first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
        low, high = first * step, last * step
    ticks = tuple(float(f"{index * step:.12g}") for index in range(first, last + 1))
    return Axis(low, high, start, end, ticks, step)


def bar_length_m(room_m: float) -> float:
    """Return the longest 1, 2 or 5 times a power of ten (metres) that fits into `room_m`."""
    power = 10.0 ** math.floor(math.log10(room_m))
    return float(f"{max(f * power for f in (1, 2, 5) if f * power <= room_m * (1 + 1e-9)):.12g}")


def print_scale(extent_m: float, room_m: float) -> int:
    """Return the denominator of the largest print scale at which `extent_m` fits into `room_m` of paper."""
    for denominator in PRINT_SCALES:
        if extent_m / denominator <= room_m:
            return denominator
    return 1000 * math.ceil(extent_m / room_m / 1000)


def length_words(length_m: float) -> str:
    """Write a length for a scale bar or a dimension line: 20 mm, 45 cm, 1.25 m."""
    if length_m < 0.1:
        return f"{decimals(length_m * 1000, 0)} mm"
    if length_m < 1.0:
        return f"{decimals(length_m * 100, 1).removesuffix('.0')} cm"
    return f"{decimals(length_m, 2)} m"
