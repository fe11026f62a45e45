"""The legs and bags of a rig file as short fields, and the file again with one entered, changed or removed.

What the short form has no field for (crown lines, angles of choke, stiffness) is carried over from the text.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from oakum.desk.lifts.toml_rows import TomlRowError, rows_of, spans, with_row, without_row

What = Literal["leg", "bag"]

HEADINGS: Mapping[What, tuple[str, ...]] = {"leg": ("leg",), "bag": ("bags", "bag")}
_PLAIN: Mapping[What, tuple[str, ...]] = {
    "leg": ("name", "gear", "kind", "hitch", "length"),
    "bag": ("name", "kind", "gear", "strop", "strop_length", "eye"),
}
_INNER: Mapping[What, Mapping[str, Mapping[str, str]]] = {
    "leg": {
        "at": {"x": "x", "y": "y", "z": "z"},
        "shackle": {"shackle": "gear"},
        "eye": {"eye": "gear", "eye_kind": "kind"},
    },
    "bag": {"at": {"x": "x", "y": "y", "z": "z"}},
}

FIELDS: Mapping[What, tuple[str, ...]] = {
    what: (*_PLAIN[what], *(field for inner in _INNER[what].values() for field in inner)) for what in HEADINGS
}
"""Every field of the short form of a leg, and of a bag."""


@dataclass(frozen=True, slots=True)
class RigRow:
    """One leg or bag of the file: its place in it, and its fields as text. `first` and `last` are lines, from 1."""

    what: What
    index: int
    first: int
    last: int
    fields: Mapping[str, str]

    @property
    def words(self) -> str:
        """Say in a line what it is and where it is made fast."""
        said = self.fields
        at = ", ".join(f"{axis} {said[axis]}" for axis in "xyz" if axis in said)
        if self.what == "leg":
            parts = [said.get("kind", "kind not known"), said.get("hitch", "hitch not known"), f"at {at}" if at else ""]
        else:
            parts = [f'kind "{said.get("kind", "")}"', f'at eye "{said.get("eye", "")}"', f"at {at}" if at else ""]
        gear = said.get("gear")
        return "; ".join([gear or "no gear named", *(part for part in parts if part)])


def rig_rows(toml_text: str, what: What) -> tuple[RigRow, ...]:
    """Return the legs, or bags, of a rig file in its order. Raises `TomlRowError` where the text is no TOML."""
    rows = rows_of(toml_text, HEADINGS[what])
    places = spans(toml_text, HEADINGS[what], len(rows))
    return tuple(
        RigRow(what, i, first, last, _fields_of(what, row))
        for i, (row, (first, last)) in enumerate(zip(rows, places, strict=True))
    )


def with_rig_row(toml_text: str, what: What, fields: Mapping[str, str], index: int | None = None) -> str:
    """Return the file with this leg or bag in place of row `index`, or after the last one for None.

    `fields` holds text by the names in `FIELDS`; an empty one takes the key out: not known.
    """
    unknown = sorted(set(fields) - set(FIELDS[what]))
    if unknown:
        raise TomlRowError(f"A {what} has no field {unknown[0]!r} here.")
    rows = rows_of(toml_text, HEADINGS[what])
    table = rows[index] if index is not None and index < len(rows) else {}
    return with_row(toml_text, HEADINGS[what], _merged(what, table, fields), index)


def without_rig_row(toml_text: str, what: What, index: int) -> str:
    """Return the file without leg or bag `index`."""
    return without_row(toml_text, HEADINGS[what], index)


def _fields_of(what: What, row: Mapping[str, Any]) -> dict[str, str]:
    found = {key: str(row[key]) for key in _PLAIN[what] if isinstance(row.get(key), str | int | float)}
    for name, fields in _INNER[what].items():
        inner = row.get(name)
        if isinstance(inner, dict):
            found |= {field: str(inner[key]) for field, key in fields.items() if key in inner}
    return found


def _merged(what: What, row: Mapping[str, Any], fields: Mapping[str, str]) -> dict[str, Any]:
    merged = dict(row)
    for key in _PLAIN[what]:
        if key in fields:
            _put(merged, key, fields[key].strip())
    for name, keys in _INNER[what].items():
        inner = dict(merged[name]) if isinstance(merged.get(name), dict) else {}
        for field, key in keys.items():
            if field in fields:
                _put(inner, key, fields[field].strip())
        _put(merged, name, inner)
    ranks = {key: rank for rank, key in enumerate(("name", "at", *_PLAIN[what]))}
    return dict(sorted(merged.items(), key=lambda item: ranks.get(item[0], len(ranks))))


def _put(table: dict[str, Any], key: str, value: Any) -> None:
    if value in ("", {}):
        table.pop(key, None)
    else:
        table[key] = value
