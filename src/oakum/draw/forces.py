"""Forces as the plan shows them: what the load cell reads, in its own unit."""

from __future__ import annotations

from dataclasses import replace

from oakum.draw.rows import spread_figures
from oakum.draw.scale import decimals
from oakum.ground.estimate import Spread
from oakum.ground.gravity import G_M_S2
from oakum.lift.raising.cell import CELL_UNITS
from oakum.lift.weights.report import Curve


def per_kg(unit: str) -> float:
    """Return how many of a cell's unit one kilogram of reading is; an unknown unit counts as kg."""
    return 1.0 / CELL_UNITS.get(unit, 1.0)


def unit_words(unit: str) -> str:
    """Return the unit that figures carry; where the cell's own is not known, kg."""
    return unit if unit in CELL_UNITS else "kg"


def reading(load_kg: float, unit: str) -> str:
    """Write a load in the cell's unit without the unit, to about three figures and never finer than needed.

    >>> reading(1234.4, "kg"), reading(1234.4, "t"), reading(1234.4, "kN")
    ('1,234', '1.23', '12.1')
    """
    value = load_kg * per_kg(unit)
    size = abs(value)
    return decimals(value, 0 if size >= 99.95 else 1 if size >= 9.995 else 2)


def load_words(load_kg: float, unit: str) -> str:
    """Write a load with its unit."""
    return f"{reading(load_kg, unit)} {unit_words(unit)}"


def in_unit(spread: Spread, unit: str) -> Spread:
    """Return a spread in kg, or in N, in the cell's unit."""
    factor = per_kg(unit) * (1.0 / G_M_S2 if spread.unit == "N" else 1.0)
    return replace(
        spread,
        p5=spread.p5 * factor,
        best=spread.best * factor,
        p95=spread.p95 * factor,
        mean=spread.mean * factor,
        sd=spread.sd * factor,
        unit=unit_words(unit),
    )


def reading_figures(spread: Spread, unit: str) -> tuple[str, str, str]:
    """Write low, likely and high of a force in the cell's unit."""
    return spread_figures(in_unit(spread, unit))


def curve_in(curve: Curve, unit: str) -> Curve:
    """Return a curve whose heights are kg of reading in the cell's unit."""
    if curve.y_unit != "kg":
        return curve
    factor = per_kg(unit)
    low, best, high = (tuple(v * factor for v in series) for series in (curve.p5, curve.best, curve.p95))
    return replace(curve, y_unit=unit_words(unit), p5=low, best=best, p95=high)
