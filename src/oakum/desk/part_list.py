"""The parts of a body file as a list of short fields, and the file again with one part entered, changed or removed.

A person who fills in the measuring card thinks in parts, the file is text. Only the part that is touched is
written anew: every other line stays as typed, and what the list has no field for (bores, drain holes, what it
stands in) is carried over.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from oakum.ground.errors import OakumError
from oakum.lift.body_lines import key_lines

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


class PartListError(OakumError, ValueError):
    """The file, or a field of the part, cannot be read; the text says what to do."""


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
    tables = _tables(toml_text)
    spans = _spans(toml_text, len(tables))
    return tuple(
        PartFields(i, first, last, _fields_of(table))
        for i, (table, (first, last)) in enumerate(zip(tables, spans, strict=True))
    )


def with_part(toml_text: str, fields: Mapping[str, str], index: int | None = None) -> str:
    """Return the file with this part put in place of part `index`, or at the end of the file for None.

    `fields` holds text by the names in `FIELDS`; an empty one takes the key out: not known.
    """
    unknown = sorted(set(fields) - set(FIELDS))
    if unknown:
        raise PartListError(f"A part has no field {unknown[0]!r}.")
    tables = _tables(toml_text)
    lines = toml_text.splitlines()
    if index is None:
        head = "\n".join(lines).rstrip()
        block = _block(_merged({}, fields), ())
        return f"{head}\n\n{block}" if head else block
    first, last = _span(toml_text, tables, index)
    comments = tuple(line for line in lines[first:last] if line.lstrip().startswith("#"))
    block = _block(_merged(tables[index], fields), comments)
    return "\n".join([*lines[: first - 1], *block.rstrip().splitlines(), *lines[last:]]) + "\n"


def without_part(toml_text: str, index: int) -> str:
    """Return the file without part `index`."""
    first, last = _span(toml_text, _tables(toml_text), index)
    lines = toml_text.splitlines()
    return "\n".join([*lines[: first - 1], *lines[last:]]).rstrip() + "\n"


def _tables(toml_text: str) -> list[dict[str, Any]]:
    try:
        parts = tomllib.loads(toml_text).get("part", [])
    except tomllib.TOMLDecodeError as error:
        raise PartListError(f"The text is no TOML, so its parts cannot be listed: {error}.") from error
    if not isinstance(parts, list) or not all(isinstance(part, dict) for part in parts):
        raise PartListError("Parts are tables that begin with a line [[part]].")
    return parts


def _span(toml_text: str, tables: list[dict[str, Any]], index: int) -> tuple[int, int]:
    if not 0 <= index < len(tables):
        raise PartListError(f"The file has {len(tables)} parts; there is no part {index + 1}.")
    return _spans(toml_text, len(tables))[index]


def _spans(toml_text: str, count: int) -> list[tuple[int, int]]:
    """Return first and last line of each part; comments above the next table belong to that one."""
    places = key_lines(toml_text)
    texts = toml_text.splitlines()
    spans = []
    for index in range(count):
        first = places.get(("part", index))
        if first is None:
            raise PartListError("Write each part as a table of its own that begins with a line [[part]].")
        after = [line for path, line in places.items() if line > first and path[:2] != ("part", index)]
        last = min(after, default=len(texts) + 1) - 1
        while last > first and (
            not texts[last - 1].strip() or (after and texts[last - 1].lstrip().startswith("#"))
        ):
            last -= 1
        spans.append((first, last))
    return spans


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


def _block(table: Mapping[str, Any], comments: tuple[str, ...]) -> str:
    lines = ["[[part]]", *comments, *(f"{key} = {_toml(value)}" for key, value in table.items())]
    return "\n".join(lines) + "\n"


def _toml(value: Any) -> str:
    """Write a value the way TOML reads it."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return repr(value)
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {_toml(inner)}" for key, inner in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(_toml(inner) for inner in value) + "]"
    escaped = str(value).replace("\\", "\\\\").replace('"', '\\"')
    return '"' + "".join(c if c >= " " and c != "\x7f" else f"\\u{ord(c):04x}" for c in escaped) + '"'
