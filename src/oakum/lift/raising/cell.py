"""The load cell's own unit: what a reading is called, and to which figures it is read."""

from __future__ import annotations

import math

from oakum.ground.gravity import G_M_S2

CELL_UNITS: dict[str, float] = {
    "kg": 1.0,
    "t": 1000.0,
    "kN": 1000.0 / G_M_S2,
    "N": 1.0 / G_M_S2,
    "lbf": 0.45359237,
    "lb": 0.45359237,
}
"""Kilograms of reading (force / g) of one of the unit. A bare "ton" is none: it means three things."""

_STEPS_ACROSS = 10.0


def in_cell_unit(load_kg: float, unit: str) -> float:
    """Return a load in the unit of the load cell."""
    return load_kg / CELL_UNITS[unit]


def from_cell_unit(reading: float, unit: str) -> float:
    """Return a reading of the load cell in kg, force / g."""
    return reading * CELL_UNITS[unit]


def sensible_step(width: float, size: float) -> float:
    """Return a step to round readings to: 1, 2 or 5 times a power of ten, at most a tenth of the band's width.

    Where the band has no width, a hundredth of its size. Both in one and the same unit.
    """
    aim = width / _STEPS_ACROSS if width > 0.0 else abs(size) / 100.0
    if not aim > 0.0:
        return 1.0
    power = 10.0 ** math.floor(math.log10(aim) + 1e-9)
    return max(m * power for m in (1.0, 2.0, 5.0) if m * power <= aim * (1.0 + 1e-9))


def outward(low: float, high: float, step: float) -> tuple[float, float]:
    """Return a band rounded outward to whole steps, so that nothing expected falls outside it."""
    first, last = math.floor(low / step + 1e-9) * step, math.ceil(high / step - 1e-9) * step
    places = max(0, -math.floor(math.log10(step) + 1e-9))
    return round(first, places), round(last, places)


def cell_text(value: float, unit: str, step: float) -> str:
    """Write a reading as the cell shows it.

    >>> cell_text(12.5, "kN", 0.5)
    '12.5 kN'
    """
    places = max(0, -math.floor(math.log10(step) + 1e-9))
    return f"{value:,.{places}f} {unit}"
