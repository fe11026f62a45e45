"""Published capacities of rope and chain, used only to lower a rating or to object: the tag governs."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib import resources

POUND_KG = 0.45359237
INCH_M = 0.0254

_WEAR = 0.04  # a rope or chain may measure this much under its nominal size


@dataclass(frozen=True, slots=True)
class Listed:
    """One line of a table: nominal size in m, capacities in kg by column, source and mark.

    Columns of rope: "vertical", "choker", "basket_90", "basket_60", "basket_45", "basket_30"; of chain:
    "single", "double_60", "double_45", "double_30", "quad_60", "quad_45", "quad_30"; angles from the horizontal.
    """

    size: str
    size_m: float
    capacity_kg: dict[str, float]
    source: str
    mark: str


@cache
def table(name: str) -> tuple[Listed, ...]:
    """Return a table that comes with the program, by rising size: "natural_fibre_rope" or "chain_grade_80"."""
    text = resources.files(__package__).joinpath(f"{name}.csv").read_text(encoding="utf-8")
    rows = csv.DictReader(text.splitlines())
    return tuple(_listed(dict(row)) for row in rows)


def nearest(name: str, diameter_m: float) -> Listed | None:
    """Return the line for a measured diameter: the greatest size not above it, None below the table."""
    fits = [row for row in table(name) if row.size_m <= diameter_m * (1.0 + _WEAR)]
    return fits[-1] if fits else None


def _listed(row: dict[str, str]) -> Listed:
    size, millimetres = row.pop("size_in"), row.pop("size_mm")
    source, mark = row.pop("source"), row.pop("mark")
    loads = {key: float(value) * POUND_KG for key, value in row.items()}
    return Listed(size, float(millimetres) / 1000.0, loads, source, mark)
