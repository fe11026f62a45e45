"""What people type of the dig: corners and levels line by line, lengths, hours; each refused with what to write."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from oakum.ground.quantities import QuantityError, read
from oakum.record import decimal_text
from oakum.seabed.dig import DigError, Point

Resolve = Callable[[str], Point | None]
_PAIR = re.compile(r"\(?\s*([+-]?\d+(?:\.\d+)?)\s*[,;/]\s*([+-]?\d+(?:\.\d+)?)\s*\)?")
_CORNER = re.compile(rf"(?P<name>\S+)\s+(?:mark\s+(?P<mark>.+)|{_PAIR.pattern}|(?P<x>\S+)\s+(?P<y>\S+))")
MOST_LINES = 5_000


def metres(text: str, *, signed: bool = False) -> str:
    """Return a length as decimal text in metres; a bare number is in metres. Raises `DigError`."""
    try:
        quantity = read(text, "length", unit="m", signed=signed)
    except QuantityError as error:
        raise DigError(str(error)) from None
    if quantity.sd is not None or quantity.low is not None:
        raise DigError(f'"{text.strip()}": write one number; the ± of all levels has a field of its own')
    return decimal_text(round(quantity.value, 6))


def hours(text: str) -> str:
    """Return a time as decimal text in hours; a bare number is in hours. Raises `DigError`."""
    try:
        quantity = read(text, "time", unit="h")
    except QuantityError as error:
        raise DigError(str(error)) from None
    if not 0.0 < quantity.value <= 24.0 * 3600.0 * 50:
        raise DigError(
            f'"{text.strip()}": diver-hours of one dive are more than nothing; two divers 50 minutes are 1.67'
        )
    return decimal_text(round(quantity.value / 3600.0, 4))


def whole(text: str) -> int:
    """Return a whole number from 0 up. Raises `DigError`."""
    if not re.fullmatch(r"\d{1,6}", text.strip()):
        raise DigError(f'"{text.strip()}": write a whole number, such as 12')
    return int(text)


def corners(text: str) -> list[dict[str, str]]:
    """Read corners, one a line: "A 0 0", "B 2.0, 0" (x east, y north, metres) or "C mark D4". Raises `DigError`."""
    found = []
    for number, line in _lines(text):
        match = _CORNER.fullmatch(line)
        if match is None:
            raise DigError(
                f'line {number}, "{line}": write the corner and its place, as A 0 0, or its mark, as A mark D4'
            )
        if match["mark"]:
            found.append({"name": match["name"], "mark": " ".join(match["mark"].split())})
            continue
        x, y = (match["x"], match["y"]) if match["x"] else (match[3], match[4])
        try:
            found.append({"name": match["name"], "x": metres(x, signed=True), "y": metres(y, signed=True)})
        except DigError as error:
            raise DigError(f"line {number}: {error}") from None
    names = [corner["name"].casefold() for corner in found]
    twice = next((corner["name"] for corner in found if names.count(corner["name"].casefold()) > 1), None)
    if twice is not None:
        raise DigError(f"two corners are called {twice}; each needs its own name")
    return found


def levels(text: str, resolve: Resolve) -> list[dict[str, str]]:
    """Read levels, one a line: a place and how far down, as "A 1.25", "middle 1.31 m" or "0.5, 1.2  1.40".

    `resolve` gives the place of a name, None where nothing is called so. Raises `DigError` naming the line.
    """
    return [_level(number, line, resolve) for number, line in _lines(text)]


def levels_text(kept: Any) -> str:
    """Write levels as they are typed, one a line."""
    return "\n".join(f"{one.get('at') or one['x'] + ', ' + one['y']} {one['down']}" for one in kept or ())


def corners_text(kept: Any) -> str:
    """Write corners as they are typed, one a line."""
    return "\n".join(
        f"{one['name']} mark {one['mark']}" if "mark" in one else f"{one['name']} {one['x']} {one['y']}"
        for one in kept or ()
    )


def _level(number: int, line: str, resolve: Resolve) -> dict[str, str]:
    if placed := re.match(rf"{_PAIR.pattern}\s+", line):
        body = {"x": metres(placed[1], signed=True), "y": metres(placed[2], signed=True)}
        return body | _down(number, line, line[placed.end() :])
    words = line.split()
    for count in range(1, len(words)):
        name = " ".join(words[:count])
        if resolve(name) is not None:
            return {"at": name} | _down(number, line, " ".join(words[count:]))
    if len(words) < 2:
        raise DigError(f'line {number}, "{line}": write the place and how far down it is, as A 1.25')
    raise DigError(
        f'line {number}, "{line}": no corner and no mark is called {words[0]}; write a corner, middle, the two corners '
        "of a side, a mark, or x, y"
    )


def _down(number: int, line: str, text: str) -> dict[str, str]:
    try:
        return {"down": metres(text, signed=True), "text": line}
    except DigError as error:
        raise DigError(f"line {number}: {error}") from None


def _lines(text: str) -> list[tuple[int, str]]:
    found = [(i, line.strip()) for i, line in enumerate(text.splitlines(), 1) if line.strip()]
    if len(found) > MOST_LINES:
        raise DigError(f"{len(found):,} lines are more than {MOST_LINES:,}; enter them in parts")
    return found
