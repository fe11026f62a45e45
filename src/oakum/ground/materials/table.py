"""The table of densities and the user's own rows on top of it."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources

from oakum.ground.errors import OakumError
from oakum.ground.estimate import Estimate, EstimateError, normal, positive, triangular, uniform
from oakum.ground.quantities import QuantityError, read

MARKS = ("read", "memory, verify", "practice, no source", "own calculation", "measured")
"""How a figure is known: read in the source named, from memory, trade practice, computed, measured here."""

_COLUMNS = ("name", "kind", "low", "best", "high", "sd", "source", "mark", "note")
_DENSEST_KG_M3 = 23_000.0  # platinum metals; anything above is a wrong unit
_LIGHTEST_KG_M3 = 5.0


class MaterialError(OakumError, ValueError):
    """A row of densities that cannot be used; the text says which row and what to write."""


@dataclass(frozen=True, slots=True)
class Material:
    """One material.

    `density_kg_m3` is the bulk density with all pores full of water, kg/m3; for kind "wood", which is
    waterlogged, it is the **basic** density, oven-dry mass over wet volume: see `saturated_density`.
    `mark` is one of `MARKS`.
    """

    name: str
    kind: str
    density_kg_m3: Estimate
    source: str
    mark: str
    note: str = ""

    @property
    def is_wood(self) -> bool:
        """True for waterlogged wood, whose density is a basic density."""
        return self.kind == "wood"


@cache
def _built_in() -> tuple[Material, ...]:
    text = resources.files(__package__).joinpath("materials.csv").read_text(encoding="utf-8")
    rows = csv.DictReader(text.splitlines())
    return tuple(_material(row, f"materials.csv, line {i}") for i, row in enumerate(rows, start=2))


def materials() -> dict[str, Material]:
    """Return the table that comes with the program, by name."""
    return {m.name: m for m in _built_in()}


def with_own(rows: Iterable[Mapping[str, str]]) -> dict[str, Material]:
    """Return the table with the user's own rows on top; a row of the same name replaces the built-in one.

    Each row has `name`, `kind`, `source` and the density: `best` with `sd`, or `low` and `high` with or
    without `best`, in kg/m3 or with their unit. `mark` and `note` may be left out; a row without a mark is
    marked "measured". Raises `MaterialError` naming the first row that will not do.
    """
    table = materials()
    own: set[str] = set()
    for i, row in enumerate(rows, start=1):
        material = _material(row, f"own material {i}")
        if material.name in own:
            raise MaterialError(f'own material {i}: "{material.name}" is given twice; keep one row')
        own.add(material.name)
        table[material.name] = material
    return table


def _material(row: Mapping[str, str], where: str) -> Material:
    strange = [str(key) for key in row if key not in _COLUMNS]
    if strange:
        raise MaterialError(f"{where}: no such column: {', '.join(strange)}; there are {', '.join(_COLUMNS)}")
    text = {key: (row.get(key) or "").strip() for key in _COLUMNS}
    for needed in ("name", "kind", "source"):
        if not text[needed]:
            raise MaterialError(f"{where}: write the {needed}; a density without it cannot be judged")
    mark = text["mark"] or "measured"
    if mark not in MARKS:
        raise MaterialError(f'{where}: the mark "{mark}" must be one of: {"; ".join(MARKS)}')
    basis = "basic density of" if text["kind"] == "wood" else "density of"
    try:
        density = positive(_density(text, f"{basis} {text['name']}"))
    except (EstimateError, QuantityError) as error:
        raise MaterialError(f"{where} ({text['name']}): {error}") from None
    if not _LIGHTEST_KG_M3 <= density.best <= _DENSEST_KG_M3:
        raise MaterialError(
            f"{where} ({text['name']}): {density.best:g} kg/m3 is no density of a solid; "
            "is it in g/cm3? Write it with its unit"
        )
    if text["kind"] == "wood" and density.quantile(0.999) >= 1450.0:
        raise MaterialError(
            f"{where} ({text['name']}): wood needs its basic density, oven-dry mass over wet volume, "
            "which lies well below the cell wall's 1500 kg/m3"
        )
    return Material(text["name"], text["kind"], density, text["source"], mark, text["note"])


def _density(text: Mapping[str, str], label: str) -> Estimate:
    given = {
        key: read(text[key], "density", unit="kg/m3").value
        for key in ("low", "best", "high", "sd")
        if text[key]
    }
    match sorted(given):
        case ["best", "sd"]:
            return normal(given["best"], given["sd"], label)
        case ["high", "low"]:
            return uniform(given["low"], given["high"], label)
        case ["best", "high", "low"]:
            return triangular(given["low"], given["best"], given["high"], label)
        case _:
            raise EstimateError("write best and sd, or low and high (with best where known): a spread is due")
