"""A load chart from a CSV text, as a skipper sends it: mixed units, blanks and footnotes are told, never guessed."""

from __future__ import annotations

from oakum.ground.gravity import G_M_S2
from oakum.ground.quantities import QuantityError, find_unit, read
from oakum.lift.vessel.errors import VesselError
from oakum.lift.vessel.load_chart import Derating, LoadChart, Waters, sorted_points
from oakum.lift.vessel.typed_rows import NOTHING, RowNote, TypedRow, heading, typed_rows

_RADIUS_WORDS = ("radius", "reach", "outreach")
_LOAD_WORDS = ("load", "swl", "wll", "capacity", "lift", "harbour", "harbor", "sea", "derated")

_MARKS = "*†‡§#"


def read_load_chart(
    text: str,
    *,
    name: str,
    column: str | None = None,
    radius_unit: str | None = None,
    load_unit: str | None = None,
    holds_in: Waters | None = None,
    derating: Derating | None = None,
    list_limit_deg: float | None = None,
    page: str = "",
) -> LoadChart:
    """Return the chart typed as CSV: a heading row that names radius and load, then one row a radius.

    Units come from the headings, from each cell, or from `radius_unit` and `load_unit` for bare numbers; loads may
    be masses or forces (a force is divided by g). `column` chooses among several columns of loads. Rows that
    are no pair are kept as notes; a radius without a load leaves a gap that nothing is read in.
    `VesselError` for no heading, several load columns without a choice, a load that rises with radius, or fewer
    than two points.
    """
    rows = typed_rows(text)
    at, radius_at, load_at = _headings(rows, name, column)
    head = rows[at]
    _, unit = heading(head.cell(radius_at))
    radius_unit = _checked(unit, f'"{head.cell(radius_at)}"') or radius_unit
    _, unit = heading(head.cell(load_at))
    load_unit = _checked(unit, f'"{head.cell(load_at)}"') or load_unit
    points: list[tuple[float, float, int]] = []
    gaps: list[float] = []
    notes = [RowNote(r.number, f'above the headings: "{r.words}"') for r in rows[:at] if not r.is_blank]
    for row in rows[at + 1 :]:
        radius, why = _radius(row, radius_at, radius_unit)
        if radius is None:
            notes.append(RowNote(row.number, why))
            continue
        load, why = _load(row.cell(load_at), load_unit)
        if load is None:
            gaps.append(radius)
            notes.append(RowNote(row.number, f"radius {row.cell(radius_at)}: {why}; no load is read there"))
        else:
            points.append((radius, load, row.number))
    ordered = sorted_points(points, name)
    if len(ordered) < 2:
        why = "; ".join(n.words for n in notes[:3]) or "there are no more rows"
        raise VesselError(
            f'chart "{name}": {len(ordered)} row(s) could be read and at least two radii are needed: {why}'
        )
    return LoadChart(
        name,
        tuple(r for r, _ in ordered),
        tuple(w for _, w in ordered),
        tuple(sorted(gaps)),
        holds_in,
        derating,
        list_limit_deg,
        page,
        tuple(notes),
    )


def _headings(rows: tuple[TypedRow, ...], name: str, column: str | None) -> tuple[int, int, int]:
    """Return the place of the heading row and the columns of radius and load."""
    for at, row in enumerate(rows):
        names = [heading(c)[0] for c in row.cells]
        radii = [i for i, n in enumerate(names) if any(w in n.split() for w in _RADIUS_WORDS)]
        loads = [i for i, n in enumerate(names) if i not in radii and any(w in n for w in _LOAD_WORDS)]
        if radii and column is not None:
            loads = [i for i, n in enumerate(names) if i not in radii and _same(column, row.cells[i], n)]
            if not loads:
                shown = ", ".join(f'"{c}"' for i, c in enumerate(row.cells) if c and i not in radii)
                raise VesselError(f'chart "{name}": no column is called "{column}"; there are {shown}')
        if radii and loads:
            if len(loads) > 1:
                shown = ", ".join(f'"{row.cells[i]}"' for i in loads)
                raise VesselError(f'chart "{name}" has several columns of loads: choose one of {shown}')
            return at, radii[0], loads[0]
    raise VesselError(
        f'chart "{name}": no row names radius and load; write headings such as "radius (m), load (t)"'
    )


def _same(wanted: str, cell: str, name: str) -> bool:
    return " ".join(wanted.lower().split()) in (cell.lower(), name)


def _checked(unit: str | None, where: str) -> str | None:
    if unit is None:
        return None
    try:
        find_unit(unit)
    except QuantityError as error:
        raise VesselError(f"heading {where}: {error}") from None
    return unit


def _radius(row: TypedRow, column: int, unit: str | None) -> tuple[float | None, str]:
    if row.is_blank:
        return None, "blank"
    cell = row.cell(column)
    if cell.lower() in NOTHING:
        return None, f'no radius: "{row.words}"'
    try:
        return read(cell, "length", unit=unit).value, ""
    except QuantityError as error:
        if not any(c.isdigit() for c in cell[:3]):
            return None, f'no radius, taken as a footnote; read it yourself: "{row.words}"'
        return None, f'the radius is not understood ({error}): "{row.words}"'


def _load(cell: str, unit: str | None) -> tuple[float | None, str]:
    """Return the load as a load cell shows it, kg; or None and why."""
    if cell.lower() in NOTHING:
        return None, "the load is blank"
    if cell[-1] in _MARKS or cell[0] in _MARKS:
        return None, f'the load "{cell}" carries a footnote mark: read the footnote, then type the load alone'
    default = find_unit(unit).dimension if unit else "mass"
    trouble = ""
    for dimension in ("mass", "force"):
        try:
            found = read(cell, dimension, unit=unit if dimension == default else None)
        except QuantityError as error:
            trouble = trouble or str(error)
            continue
        if found.sd is not None or found.low is not None:
            return None, f'"{cell}" is a range; a chart has one load a radius'
        return found.value if dimension == "mass" else found.value / G_M_S2, ""
    return None, f'the load "{cell}" is not understood ({trouble})'
