"""The sea of a rig file as short fields, and the file again with them changed.

Line, boom head, parts and periods have no field here: they stand in the text and stay as typed.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from oakum.desk.lifts.toml_rows import TomlRowError, table_of, with_value
from oakum.lift.body.lines import key_lines

SEAWAY = ("seaway",)
SEA_FIELDS = ("vessel", "heading", "waters", "hs", "tz", "depth", "radius", "wind", "hoist_speed")
"""Every field of the short form, in its order."""
NOT_KNOWN = "not known"


def sea_fields(toml_text: str) -> dict[str, str]:
    """Return the fields of `[seaway]` as text, empty where not known. Raises `TomlRowError`."""
    table = table_of(toml_text, SEAWAY)
    return {name: _text(table.get(name)) for name in SEA_FIELDS}


def has_sea(toml_text: str) -> bool:
    """Return whether the text describes a sea at all. Raises `TomlRowError` for a text that is no TOML."""
    return bool(table_of(toml_text, SEAWAY)) or SEAWAY in key_lines(toml_text)


def with_sea_fields(toml_text: str, fields: Mapping[str, str]) -> str:
    """Return the file with these fields; an empty one becomes "not known". Only what differs is written anew."""
    unknown = sorted(set(fields) - set(SEA_FIELDS))
    if unknown:
        raise TomlRowError(f"The sea has no field {unknown[0]!r} here.")
    now = sea_fields(toml_text)
    if SEAWAY not in key_lines(toml_text):
        toml_text = f"{toml_text.rstrip()}\n\n[seaway]\n"
    for name in reversed(SEA_FIELDS):
        value = fields.get(name, now[name]).strip()
        if value != now[name]:
            toml_text = with_value(toml_text, SEAWAY, name, value or NOT_KNOWN)
    return toml_text


def _text(value: Any) -> str:
    text = "" if value is None else str(value)
    return "" if text.lower() == NOT_KNOWN else text
