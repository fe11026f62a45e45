"""A small writer of SVG text: every value escaped, every number short, nothing fetched from outside.

Lengths are user units; the print faces set one unit to one point. y grows downward.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Sequence
from html import escape

NAMESPACE = "http://www.w3.org/2000/svg"
_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_NOT_ID = re.compile(r"[^a-z0-9]+")

Point = tuple[float, float]


class DrawingError(ValueError):
    """A figure that cannot be drawn, such as one that is not finite."""


def number(value: float) -> str:
    """Write a length with at most two decimals and no float noise (0.6000000000000001 -> 0.6)."""
    if not math.isfinite(value):
        raise DrawingError(f"a drawing needs finite numbers, not {value}")
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def clean(text: str) -> str:
    """Escape text for content and attributes; characters that XML forbids become the replacement mark."""
    return escape(_NOT_XML.sub("\ufffd", text), quote=True)


def element(tag: str, *children: str, **attributes: str | float | None) -> str:
    """Write one element. `stroke_width=1.2` becomes `stroke-width="1.2"`, `class_` becomes `class`.

    Children are markup made by this module; attribute values are escaped; those that are None are left out.
    """
    parts = [tag]
    for key, value in attributes.items():
        if value is not None:
            shown = clean(value) if isinstance(value, str) else number(value)
            parts.append(f'{key.rstrip("_").replace("_", "-")}="{shown}"')
    opening = " ".join(parts)
    return f"<{opening}>{''.join(children)}</{tag}>" if children else f"<{opening}/>"


def group(*children: str, **attributes: str | float | None) -> str:
    """Write a `<g>`; an empty one is left out."""
    return element("g", *children, **attributes) if children else ""


def text(x: float, y: float, words: str, **attributes: str | float | None) -> str:
    """Write words with their base line at (x, y)."""
    return element("text", clean(words), x=x, y=y, **attributes)


def line(x1: float, y1: float, x2: float, y2: float, **attributes: str | float | None) -> str:
    """Write a straight line."""
    return element("line", x1=x1, y1=y1, x2=x2, y2=y2, **attributes)


def polyline(points: Iterable[Point], *, close: bool = False, **attributes: str | float | None) -> str:
    """Write a path through the points, closed or open."""
    steps = " ".join(f"{number(x)},{number(y)}" for x, y in points)
    return element("path", d=f"M{steps}{'Z' if close else ''}", **attributes)


def paths(chains: Iterable[Sequence[Point]], *, close: bool = False, **attributes: str | float | None) -> str:
    """Write several chains of points as one path, so that they take one style and one element."""
    end = "Z" if close else ""
    pieces = ("M" + " ".join(f"{number(x)},{number(y)}" for x, y in chain) + end for chain in chains)
    return element("path", d="".join(pieces), **attributes)


def identifier(words: str) -> str:
    """Make an id from a title: letters, digits and dashes."""
    return _NOT_ID.sub("-", words.lower()).strip("-") or "drawing"


def document(
    width: float,
    height: float,
    *children: str,
    title: str,
    description: str,
    key: str,
    font: str | None = None,
    role: str = "img",
) -> str:
    """Write a whole drawing that a screen reader announces by its title and description.

    `key` must be unique on the page it goes into. `font` names the family where the page does not give one. A
    drawing with links in it takes the role "group", or they could not be reached.
    """
    root_id = identifier(key)
    return element(
        "svg",
        element("title", clean(title), id=f"{root_id}-title"),
        element("desc", clean(description), id=f"{root_id}-desc"),
        *children,
        xmlns=NAMESPACE,
        viewBox=f"0 0 {number(width)} {number(height)}",
        width=width,
        height=height,
        role=role,
        aria_labelledby=f"{root_id}-title {root_id}-desc",
        class_="drawing",
        font_family=font,
    )
