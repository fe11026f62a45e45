"""Where in a TOML text each key stands, so that an error can name its line.

`tomllib` gives values without lines. This is no second parser: it runs over a text that `tomllib` has
accepted and only notes the first line of each key.
"""

from __future__ import annotations

import re

Path = tuple[str | int, ...]

_TABLE = re.compile(r"^\s*\[(\[)?\s*([^\]]+?)\s*\]\]?\s*(?:#.*)?$")
_KEY = re.compile(
    r"""^\s*((?:[A-Za-z0-9_-]+|"[^"]*"|'[^']*')(?:\s*\.\s*(?:[A-Za-z0-9_-]+|"[^"]*"|'[^']*'))*)\s*="""
)
_NAME = re.compile(r"""[A-Za-z0-9_-]+|"[^"]*"|'[^']*'""")
_QUOTED = re.compile(r'"(?:\\.|[^"\\])*"|\'[^\']*\'')


def key_lines(toml_text: str) -> dict[Path, int]:
    """Return the line (from 1) of every table and key, by path: `("part", 2, "length")`."""
    lines: dict[Path, int] = {(): 1}
    counts: dict[Path, int] = {}
    table: Path = ()
    closing: str | None = None  # the quotes of a text that runs over several lines
    depth = 0  # open brackets of an array or inline table that runs over several lines
    for number, raw in enumerate(toml_text.splitlines(), start=1):
        if closing is not None:
            if closing in raw:
                closing = None
            continue
        header = _TABLE.match(raw) if depth == 0 else None
        if header:
            names = tuple(_bare(m) for m in _NAME.findall(header.group(2)))
            table = _resolve(names, counts, is_array=bool(header.group(1)))
            lines.setdefault(table, number)
            continue
        key = _KEY.match(raw) if depth == 0 else None
        if key:
            lines.setdefault(table + tuple(_bare(m) for m in _NAME.findall(key.group(1))), number)
        for quotes in ('"""', "'''"):
            if raw.count(quotes) % 2 == 1:
                closing = quotes
        plain = _QUOTED.sub("", raw.split("#")[0] if '"' not in raw else _QUOTED.sub("", raw).split("#")[0])
        if closing is None and (key or depth):
            depth = max(0, depth + plain.count("[") + plain.count("{") - plain.count("]") - plain.count("}"))
    return lines


def line_of(lines: dict[Path, int], path: Path) -> int:
    """Return the line of a path, or of the nearest thing that holds it."""
    while path not in lines and path:
        path = path[:-1]
    return lines.get(path, 1)


def _bare(name: str) -> str:
    return name[1:-1] if name[0] in "\"'" else name


def _resolve(names: tuple[str, ...], counts: dict[Path, int], *, is_array: bool) -> Path:
    """Turn the names of a header into a path with the index of each array of tables."""
    path: Path = ()
    for i, name in enumerate(names):
        path = (*path, name)
        last = i == len(names) - 1
        if last and is_array:
            counts[path] = counts.get(path, -1) + 1
        if path in counts:
            path = (*path, counts[path])
    return path
