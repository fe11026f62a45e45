"""The parts of a body file as a list of short fields, and the file again with one part entered, changed or removed.

A person who fills in the measuring card thinks in parts, the file is text. Only the part that is touched is
written anew: every other line stays as typed, and what the list has no field for (bores, drain holes, what it
stands in) is carried over.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from oakum.desk.lifts.toml_rows import TomlRowError, row_block, rows_of, span, spans, with_row, without_row

PartListError = TomlRowError
"""The file, or a field of the part, cannot be read; the text says what to do."""

PART = ("part",)

MEASURES = (
    "length",
    "width",
    "height",
    "thickness",
    "diameter",
    "girth",
    "radius",
    "outer_diameter",
    "inner_diameter",
    "bottom_diameter",
    "top_diameter",
    "bulge_diameter",
    "end_diameter",
    "mass",
    "volume",
)
"""Keys of a part that hold one measure as text, in the order of the measuring card."""

_PLAIN = ("name", "role", "in", "filled", "shape", *MEASURES, "material", "density", "basic_density", "umax")
_TABLES = {
    "coat": {"crust": "thickness", "crust_covers": "covers", "crust_material": "material"},
    "place": {"x": "x", "y": "y", "z": "z"},
    "turn": {"turn_x": "x", "turn_y": "y", "turn_z": "z"},
    "step": {"step_x": "x", "step_y": "y", "step_z": "z"},
    "centre": {"centre_x": "x", "centre_y": "y", "centre_z": "z"},
}
_AFTER = ("held", "stays", "count", "around")

FIELDS = (*_PLAIN, *(field for table in _TABLES.values() for field in table), *_AFTER)
"""Every field of the part form."""


@dataclass(frozen=True, slots=True)
class PartFields:
    """One part of the file: its place in it, and its fields as text. `first` and `last` are lines, from 1."""

    index: int
    first: int
    last: int
    fields: Mapping[str, str]

    @property
    def words(self) -> str:
        """Say in a line what the part is."""
        said = self.fields
        what = f"hole in {said['in']}" if said.get("in") else said.get("role", "object")
        measures = ", ".join(f"{key.replace('_', ' ')} {said[key]}" for key in MEASURES if key in said)
        stuff = said.get("material") or said.get("filled")
        of = f" of {stuff}" if stuff else ""
        times = f"{said['count']} times: " if said.get("count", "1") != "1" else ""
        return f"{times}{what}; {said.get('shape', 'no shape')}{of}; {measures or 'not measured'}"


def part_list(toml_text: str) -> tuple[PartFields, ...]:
    """Return the parts of a body file in its order. Raises `PartListError` where the text is no TOML."""
    tables = rows_of(toml_text, PART)
    return tuple(
        PartFields(i, first, last, _fields_of(table))
        for i, (table, (first, last)) in enumerate(
            zip(tables, spans(toml_text, PART, len(tables)), strict=True)
        )
    )


def with_part(toml_text: str, fields: Mapping[str, str], index: int | None = None) -> str:
    """Return the file with this part put in place of part `index`, or at the end of the file for None.

    `fields` holds text by the names in `FIELDS`; an empty one takes the key out: not known.
    """
    unknown = sorted(set(fields) - set(FIELDS))
    if unknown:
        raise PartListError(f"A part has no field {unknown[0]!r}.")
    tables = rows_of(toml_text, PART)
    if index is None:
        head = toml_text.rstrip()
        block = row_block(PART, _merged({}, fields), ())
        return f"{head}\n\n{block}" if head else block
    span(toml_text, PART, index)
    return with_row(toml_text, PART, _merged(tables[index], fields), index)


def without_part(toml_text: str, index: int) -> str:
    """Return the file without part `index`."""
    return without_row(toml_text, PART, index)


def _fields_of(table: Mapping[str, Any]) -> dict[str, str]:
    found = {
        key: str(table[key]) for key in (*_PLAIN, *_AFTER) if isinstance(table.get(key), str | int | float)
    }
    for name, fields in _TABLES.items():
        inner = table.get(name)
        if isinstance(inner, dict):
            found |= {field: str(inner[key]) for field, key in fields.items() if key in inner}
    return found


def _merged(table: Mapping[str, Any], fields: Mapping[str, str]) -> dict[str, Any]:
    """Return the table with the fields in it; the order is that of the measuring card."""
    merged: dict[str, Any] = dict(table)
    for key in (*_PLAIN, *_AFTER):
        if key in fields:
            _put(merged, key, fields[key].strip())
    for name, keys in _TABLES.items():
        if not any(field in fields for field in keys):
            continue
        inner = dict(merged.get(name) or {}) if isinstance(merged.get(name), dict) else {}
        for field, key in keys.items():
            if field in fields:
                _put(inner, key, fields[field].strip())
        _put(merged, name, inner)
    _put(merged, "hole", bool(merged.get("in")) or None)
    order = ("name", "role", "hole", "in", "filled", *_PLAIN[4:], *_AFTER[:2], *_TABLES, *_AFTER[2:])
    ranks = {key: rank for rank, key in enumerate(order)}
    return dict(sorted(merged.items(), key=lambda item: ranks.get(item[0], len(ranks))))


def _put(table: dict[str, Any], key: str, value: Any) -> None:
    if value in ("", None, {}):
        table.pop(key, None)
        return
    table[key] = int(value) if key == "count" and str(value).isdecimal() else value
