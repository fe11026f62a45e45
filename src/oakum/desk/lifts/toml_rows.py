"""Rows of a TOML text, `[[part]]`, `[[leg]]`, `[[bags.bag]]`: where each stands, and the text with one changed.

Only the row that is touched is written anew; every other line stays as typed.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping, Sequence
from typing import Any

from oakum.ground.errors import OakumError
from oakum.lift.body.lines import Path, key_lines

Names = tuple[str, ...]


class TomlRowError(OakumError, ValueError):
    """The text cannot be changed in this way; the message says what to do."""


def rows_of(toml_text: str, names: Names) -> list[dict[str, Any]]:
    """Return the rows of an array of tables, `names` is its heading. Raises `TomlRowError`."""
    try:
        found: Any = tomllib.loads(toml_text)
    except tomllib.TOMLDecodeError as error:
        raise TomlRowError(f"The text is no TOML, so its rows cannot be listed: {error}.") from error
    for name in names:
        found = found.get(name, {}) if isinstance(found, dict) else {}
    rows = found or []
    if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
        raise TomlRowError(f"Write each as a table that begins with a line {heading(names)}.")
    return rows


def table_of(toml_text: str, names: Names) -> dict[str, Any]:
    """Return a table by its heading, empty where there is none. Raises `TomlRowError`."""
    try:
        found: Any = tomllib.loads(toml_text)
    except tomllib.TOMLDecodeError as error:
        raise TomlRowError(f"The text is no TOML, so it cannot be looked into: {error}.") from error
    for name in names:
        found = found.get(name, {}) if isinstance(found, dict) else {}
    if not isinstance(found, dict):
        raise TomlRowError(f"Write [{'.'.join(names)}] as a table under its own heading.")
    return found


def heading(names: Names) -> str:
    """Return the line a row begins with."""
    return f"[[{'.'.join(names)}]]"


def spans(toml_text: str, names: Names, count: int) -> list[tuple[int, int]]:
    """Return first and last line (from 1) of each row; comments above the next table belong to that one."""
    places = key_lines(toml_text)
    texts = toml_text.splitlines()
    found = []
    for index in range(count):
        own: Path = (*names, index)
        first = places.get(own)
        if first is None:
            raise TomlRowError(f"Write each as a table of its own that begins with a line {heading(names)}.")
        after = [line for path, line in places.items() if line > first and path[: len(own)] != own]
        last = min(after, default=len(texts) + 1) - 1
        while last > first and (
            not texts[last - 1].strip() or (after and texts[last - 1].lstrip().startswith("#"))
        ):
            last -= 1
        found.append((first, last))
    return found


def span(toml_text: str, names: Names, index: int) -> tuple[int, int]:
    """Return first and last line of one row. Raises `TomlRowError` where there is none."""
    count = len(rows_of(toml_text, names))
    if not 0 <= index < count:
        what = names[-1]
        raise TomlRowError(f"The text has {count} of {heading(names)}; there is no {what} {index + 1}.")
    return spans(toml_text, names, count)[index]


def with_row(toml_text: str, names: Names, table: Mapping[str, Any], index: int | None = None) -> str:
    """Return the text with this row in place of row `index`; for None after the last row, or at the end."""
    lines = toml_text.splitlines()
    count = len(rows_of(toml_text, names))
    if index is None:
        if not count:
            head = "\n".join(lines).rstrip()
            block = row_block(names, table, ())
            return f"{head}\n\n{block}" if head else block
        _, last = span(toml_text, names, count - 1)
        block = row_block(names, table, ())
        return "\n".join([*lines[:last], "", *block.rstrip().splitlines(), *lines[last:]]) + "\n"
    first, last = span(toml_text, names, index)
    comments = tuple(line for line in lines[first:last] if line.lstrip().startswith("#"))
    block = row_block(names, table, comments)
    return "\n".join([*lines[: first - 1], *block.rstrip().splitlines(), *lines[last:]]) + "\n"


def without_row(toml_text: str, names: Names, index: int) -> str:
    """Return the text without row `index`."""
    first, last = span(toml_text, names, index)
    lines = toml_text.splitlines()
    rest = lines[last:]
    while rest and not rest[0].strip():
        rest = rest[1:]
    return "\n".join([*lines[: first - 1], *rest]).rstrip() + "\n"


def with_value(toml_text: str, table: Names, key: str, value: Any) -> str:
    """Return the text with one key of a table under its own heading set. Raises `TomlRowError` where it has none."""
    places = key_lines(toml_text)
    lines = toml_text.splitlines()
    line = places.get((*table, key))
    if line is not None:
        found = re.match(r"""^(\s*[^=]+=\s*)("(?:\\.|[^"\\])*"|'[^']*'|[^#"']*?)(\s*(?:#.*)?)$""", lines[line - 1])
        if found is None:
            raise TomlRowError(f"Line {line} cannot be changed here: write {key} = value on one line.")
        lines[line - 1] = f"{found.group(1)}{toml_value(value)}{found.group(3)}"
        return "\n".join(lines) + "\n"
    at = places.get(table)
    if at is None or not lines[at - 1].lstrip().startswith("["):
        raise TomlRowError(f"Write [{'.'.join(table)}] as a table under its own heading; then it can be changed here.")
    return "\n".join([*lines[:at], f"{key} = {toml_value(value)}", *lines[at:]]) + "\n"


def row_block(names: Names, table: Mapping[str, Any], comments: Sequence[str]) -> str:
    """Write one row with its heading."""
    said = [f"{key} = {toml_value(value)}" for key, value in table.items()]
    return "\n".join([heading(names), *comments, *said]) + "\n"


def toml_value(value: Any) -> str:
    """Write a value the way TOML reads it."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return repr(value)
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {toml_value(inner)}" for key, inner in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(toml_value(inner) for inner in value) + "]"
    escaped = str(value).replace("\\", "\\\\").replace('"', '\\"')
    return '"' + "".join(c if c >= " " and c != "\x7f" else f"\\u{ord(c):04x}" for c in escaped) + '"'
