"""Checks of single values in entries about the dig. Each returns None, or what was expected."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from oakum.record.log import fact_checks as must

MOST_CORNERS = 60
MOST_LEVELS = 5_000


def be_corners(value: Any) -> str | None:
    """Corners in order round the square: {name, x, y} in metres of the site, or {name, mark}."""
    if type(value) not in (list, tuple) or not 3 <= len(value) <= MOST_CORNERS:
        return f"expected 3 to {MOST_CORNERS} corners, each {{name, x, y}} or {{name, mark}}"
    for one in value:
        if not isinstance(one, dict) or set(one) not in ({"name", "x", "y"}, {"name", "mark"}):
            return "expected each corner as {name, x, y} or {name, mark}"
        if said := must.be_text(one["name"]) or _placed(one):
            return f"corner {one['name']}: {said}"
    names = [one["name"].casefold() for one in value]
    twice = next((name for name in names if names.count(name) > 1), None)
    return None if twice is None else f"two corners are called {twice!r}; each needs its own name"


def be_levels(value: Any) -> str | None:
    """Levels of one surface: {at, down, text} or {x, y, down, text}, `down` in metres below what they are read from."""
    if type(value) not in (list, tuple) or not 0 < len(value) <= MOST_LEVELS:
        return f"expected 1 to {MOST_LEVELS:,} levels, each {{at, down, text}} or {{x, y, down, text}}"
    for one in value:
        keys = set(one) if isinstance(one, dict) else set()
        if keys not in ({"at", "down", "text"}, {"x", "y", "down", "text"}):
            return "expected each level as {at, down, text} or {x, y, down, text}"
        if said := must.be_text(one["text"]) or must.be_decimal(one["down"]) or _placed(one):
            return f"{one['text']}: {said}"
    return None


def be_positive(value: Any) -> str | None:
    """Decimal text, more than nothing."""
    said = must.be_decimal(value)
    return said or (None if Decimal(value) > 0 else "expected a number greater than 0")


def levels_in_order(body: Mapping[str, Any]) -> str | None:
    """Say which levels are read from the water and stand above it, or return None."""
    for stage in ("top", "bottom"):
        if str(body.get(f"{stage}_from", "")).casefold() != "water":
            continue
        for one in body.get(stage) or ():
            if Decimal(one["down"]) < 0:
                return (
                    f"{stage}: {one['text']!r} at {one.get('at', 'a placed point')} is above the surface; a depth is "
                    "written positive, downward from the water"
                )
    return None


def _placed(one: Mapping[str, Any]) -> str | None:
    for key in ("mark", "at"):
        if key in one:
            return must.be_text(one[key])
    return must.be_decimal(one["x"]) or must.be_decimal(one["y"])
