"""Vessel motions from a CSV text: period, heave, roll and, where there is one, pitch."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Literal

from oakum.ground.quantities import QuantityError, find_unit, read
from oakum.lift.vessel.errors import VesselError
from oakum.lift.vessel.motions import ResponseTable
from oakum.lift.vessel.typed_rows import NOTHING, RowNote, TypedRow, heading, typed_rows

Per = Literal["wave amplitude", "wave height"]
"""What one metre in a table of motions means; the two differ by a factor 2."""

_COLUMNS = ("period", "heave", "roll", "pitch")
_DEFAULT_UNIT = {"period": "s", "heave": "m", "roll": "deg", "pitch": "deg"}
_DIMENSION = {"period": "time", "heave": "length", "roll": "angle", "pitch": "angle"}


def read_motions(
    text: str,
    *,
    name: str,
    heading_words: str,
    per: Per | None,
    source: str,
    wave_amplitude_m: float | None = None,
) -> ResponseTable:
    """Return the response table typed as CSV: a heading row with period, heave and roll, then one row a period.

    Headings carry units: "period (s)", "heave (m/m)", "roll (deg/m)", "pitch (deg/m)"; a cell may have its own.
    `per` says whether the metre is of wave amplitude or of wave height. Motions measured in one wave ("heave (m)",
    "roll (deg)", single amplitudes) need that wave's `wave_amplitude_m`. Rows that cannot be read are kept as notes and
    leave gaps. `VesselError` where headings, units or the meaning of the metre are not known.
    """
    rows = typed_rows(text)
    at, columns, units, relative = _headings(rows, name)
    factor = _factor(name, relative, per, wave_amplitude_m)
    found: list[tuple[float, list[float], int]] = []
    gaps: list[float] = []
    notes = [RowNote(r.number, f'above the headings: "{r.words}"') for r in rows[:at] if not r.is_blank]
    for row in rows[at + 1 :]:
        period, why = _value(row, columns["period"], "period", units["period"])
        if period is None:
            notes.append(RowNote(row.number, _no_period(row, columns["period"], why)))
            continue
        values = []
        for what in columns:
            if what == "period":
                continue
            value, why = _value(row, columns[what], what, units[what])
            if value is None:
                notes.append(
                    RowNote(row.number, f"period {period:g} s, {what}: {why}; nothing is read there")
                )
                break
            values.append(value * factor)
        if len(values) == len(columns) - 1:
            found.append((period, values, row.number))
        else:
            gaps.append(period)
    found.sort(key=lambda item: item[0])
    for before, after in pairwise(found):
        if after[0] - before[0] < 1e-9:
            raise VesselError(
                f'motions "{name}": rows {before[2]} and {after[2]} have one period; keep one of them'
            )
    series = [tuple(values[k] for _, values, _ in found) for k in range(len(columns) - 1)]
    pitch = series[2] if len(series) == 3 else None
    return ResponseTable(
        name, heading_words, tuple(p for p, _, _ in found), series[0], series[1], pitch, source, tuple(gaps),
        tuple(notes),
    )  # fmt: skip


def _headings(rows: tuple[TypedRow, ...], name: str) -> tuple[int, dict[str, int], dict[str, str], bool]:
    """Return the heading row's place, the columns, their units without "/m", and whether they are per metre."""
    for at, row in enumerate(rows):
        columns: dict[str, int] = {}
        for i, cell in enumerate(row.cells):
            words = heading(cell)[0].split()
            what = next((c for c in _COLUMNS if c in words), None)
            if what is not None:
                columns.setdefault(what, i)
        if {"period", "heave", "roll"} <= columns.keys():
            ordered = {c: columns[c] for c in _COLUMNS if c in columns}
            raw = {c: heading(row.cell(i))[1] for c, i in ordered.items()}
            missing = [c for c in ordered if raw[c] is None and c != "period"]
            if missing:
                raise VesselError(
                    f'motions "{name}": the heading of {" and ".join(missing)} has no unit; write for instance "heave '
                    '(m/m)", "roll (deg/m)"'
                )
            per_metre = {c: (raw[c] or "").endswith("/m") for c in ordered if c != "period"}
            if len(set(per_metre.values())) > 1:
                raise VesselError(
                    f'motions "{name}": some columns are per metre of wave and some are not; give all alike'
                )
            units = {c: (raw[c] or "s").removesuffix("/m") for c in ordered}
            for c, unit in units.items():
                _check_unit(name, c, unit)
            return at, ordered, units, per_metre["heave"]
    raise VesselError(
        f'motions "{name}": no row names period, heave and roll; write headings such as "period (s), heave (m/m), '
        'roll (deg/m)"'
    )


def _no_period(row: TypedRow, column: int, why: str) -> str:
    if row.is_blank:
        return "blank"
    if not any(c.isdigit() for c in row.cell(column)[:3]):
        return f'no period, taken as a footnote; read it yourself: "{row.words}"'
    return f'no period ({why}): "{row.words}"'


def _check_unit(name: str, what: str, unit: str) -> None:
    try:
        known = find_unit(unit, _DIMENSION[what])
    except QuantityError as error:
        raise VesselError(f'motions "{name}", heading of {what}: {error}') from None
    if known.dimension != _DIMENSION[what]:
        raise VesselError(
            f'motions "{name}": {what} is in {unit}; {_DEFAULT_UNIT[what]} or another unit of {_DIMENSION[what]} was '
            "expected"
        )


def _factor(name: str, relative: bool, per: Per | None, wave_amplitude_m: float | None) -> float:
    """Return what the numbers are multiplied with to be per metre of wave amplitude."""
    if relative:
        if per is None:
            raise VesselError(
                f'motions "{name}": say whether they are per metre of wave amplitude or of wave height; the two differ '
                "by 2"
            )
        return 1.0 if per == "wave amplitude" else 2.0
    if wave_amplitude_m is None or not wave_amplitude_m > 0.0:
        raise VesselError(
            f'motions "{name}": they are given in metres and degrees, so the amplitude of the wave they were '
            "measured in is needed"
        )
    return 1.0 / wave_amplitude_m


def _value(row: TypedRow, column: int, what: str, unit: str) -> tuple[float | None, str]:
    cell = row.cell(column)
    if cell.lower() in NOTHING:
        return None, "blank"
    try:
        found = read(cell.removesuffix("/m"), _DIMENSION[what], unit=unit)
    except QuantityError as error:
        return None, str(error)
    if found.sd is not None or found.low is not None:
        return None, f'"{cell}" is a range; one number is needed'
    value = found.value
    if not math.isfinite(value) or value < 0.0:
        return None, f'"{cell}" is below 0; single amplitudes are 0 or more'
    return value, ""
