"""Outlines to measure by: each kind of solid from the side and from above, its measures lettered A, B, C.

For print on waterproof film: black lines only, one unit is one point, letters of 20 points, words of 14.
A measure is drawn by its key and lettered in the order in which `oakum.lift.body.shapes.SHAPES` names them.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from oakum.draw import svg
from oakum.lift.body.shapes import SHAPES

WIDTH, HEIGHT = 500.0, 178.0
LETTER_PT, WORDS_PT = 20.0, 14.0
_LEFT, _RIGHT, _MIDDLE = 160.0, 390.0, 84.0  # middles of the two views
_INK = "#000000"


@dataclass(frozen=True, slots=True)
class _Measure:
    """A measure between two points; its letter stands at a place of its own or in the middle."""

    start: svg.Point
    end: svg.Point
    key: str
    place: svg.Point | None = None

    def drawn(self, letter: str, size: float) -> str:
        """Draw it with its letter of `size` on a paper ground, so that no line runs through the letter."""
        (x0, y0), (x1, y1) = self.start, self.end
        ticks = (svg.line(x - 4, y + 4, x + 4, y - 4, stroke_width=1.2) for x, y in (self.start, self.end))
        x, y = self.place or ((x0 + x1) / 2, (y0 + y1) / 2)
        ground = svg.element("circle", cx=x, cy=y, r=0.6 * size, fill="#ffffff", stroke="none")
        style = {"text_anchor": "middle", "font_weight": "600", "fill": _INK, "stroke": "none"}
        named = svg.text(x, y + 0.36 * size, letter, font_size=svg.number(size), **style)
        return svg.line(x0, y0, x1, y1, stroke_width=0.8) + "".join(ticks) + ground + named


Sketch = Sequence[str | _Measure]


def sketch(kind: str, *, printed_width: float = WIDTH) -> str:
    """Draw the sketch of a kind of solid; KeyError for a kind without measures (a mesh, a lump).

    `printed_width` is the width on paper in points: on narrow paper the shapes shrink, the letters do not.
    """
    grow = WIDTH / printed_width
    named = letters(kind)
    items = (
        item if isinstance(item, str) else item.drawn(named[item.key], LETTER_PT * grow)
        for item in _SKETCHES[kind]()
    )
    height = HEIGHT + 60 * (grow - 1)
    words = {"text_anchor": "middle", "font_size": svg.number(WORDS_PT * grow)}
    return svg.document(
        WIDTH,
        height,
        svg.group(*items, fill="none", stroke=_INK, stroke_width=1.6),
        svg.text(_LEFT, height - 4, "from the side", **words),
        svg.text(_RIGHT, height - 4, "from above", **words),
        title=f"Where to measure: {kind}",
        description=f"A {kind} from the side and from above, its measures lettered as the boxes.",
        key=f"sketch-{kind}",
        font="Inter",
    )


def letters(kind: str) -> dict[str, str]:
    """Return the letter of every measure of a kind, by its key."""
    return dict(zip(SHAPES[kind].keys, "ABCDEF", strict=False))


def sketched_kinds() -> tuple[str, ...]:
    """Return the kinds that have a sketch."""
    return tuple(_SKETCHES)


def _rect(cx: float, cy: float, width: float, height: float) -> str:
    return svg.element("rect", x=cx - width / 2, y=cy - height / 2, width=width, height=height)


def _circle(cx: float, cy: float, radius: float, dash: str | None = None) -> str:
    return svg.element("circle", cx=cx, cy=cy, r=radius, stroke_dasharray=dash)


def _across(cx: float, y: float, width: float, key: str) -> _Measure:
    return _Measure((cx - width / 2, y), (cx + width / 2, y), key)


def _upright(x: float, cy: float, height: float, key: str, beside: float = 0.0) -> _Measure:
    return _Measure((x, cy - height / 2), (x, cy + height / 2), key, (x - beside, cy))


def _box() -> Sketch:
    return (
        _rect(_LEFT, _MIDDLE - 8, 170, 80),
        _across(_LEFT, 140, 170, "length"),
        _upright(48, _MIDDLE - 8, 80, "height"),
        _rect(_RIGHT, _MIDDLE - 8, 140, 66),
        _upright(482, _MIDDLE - 8, 66, "width"),
    )


def _plank() -> Sketch:
    return (
        _rect(_LEFT, _MIDDLE - 8, 190, 30),
        _across(_LEFT, 140, 190, "length"),
        _upright(38, _MIDDLE - 8, 30, "thickness", 20),
        _rect(_RIGHT, _MIDDLE - 8, 150, 54),
        _upright(486, _MIDDLE - 8, 54, "width"),
    )


def _cylinder() -> Sketch:
    return (
        _rect(_LEFT, _MIDDLE - 8, 110, 96),
        _across(_LEFT, 146, 110, "diameter"),
        _upright(72, _MIDDLE - 8, 96, "height"),
        _circle(_RIGHT, _MIDDLE - 8, 55),
        _across(_RIGHT, 146, 110, "diameter"),
    )


def _ring() -> Sketch:
    inner = [[(_LEFT + side * 52, _MIDDLE - 30), (_LEFT + side * 52, _MIDDLE + 14)] for side in (-1, 1)]
    return (
        _rect(_LEFT, _MIDDLE - 8, 150, 44),
        svg.paths(inner, stroke_dasharray="5 4"),
        _upright(54, _MIDDLE - 8, 44, "height", 20),
        _circle(_RIGHT, _MIDDLE - 8, 62),
        _circle(_RIGHT, _MIDDLE - 8, 43),
        _across(_RIGHT, 152, 124, "outer_diameter"),
        _across(_RIGHT, _MIDDLE - 8, 86, "inner_diameter"),
    )


def _holed_disc() -> Sketch:
    return (
        _rect(_LEFT, _MIDDLE - 8, 150, 34),
        _upright(54, _MIDDLE - 8, 34, "thickness", 20),
        _across(_LEFT, 132, 150, "diameter"),
        _circle(_RIGHT, _MIDDLE - 8, 62),
        _circle(_RIGHT, _MIDDLE - 8, 14),
        _circle(_RIGHT + 36, _MIDDLE - 26, 8, "3 3"),
        _circle(_RIGHT - 36, _MIDDLE + 10, 8, "3 3"),
    )


def _frustum() -> Sketch:
    top, bottom = _MIDDLE - 50, _MIDDLE + 36
    side = [(_LEFT - 65, bottom), (_LEFT + 65, bottom), (_LEFT + 40, top), (_LEFT - 40, top)]
    return (
        svg.polyline(side, close=True),
        _across(_LEFT, 146, 130, "bottom_diameter"),
        _across(_LEFT, top - 18, 80, "top_diameter"),
        _upright(62, _MIDDLE - 7, 86, "height"),
        _circle(_RIGHT, _MIDDLE - 8, 60),
        _circle(_RIGHT, _MIDDLE - 8, 37),
    )


def _barrel() -> Sketch:
    top, bottom = _MIDDLE - 50, _MIDDLE + 46
    staves = [
        f"M{_LEFT + out * 44:g} {top:g}Q{_LEFT + out * 76:g} {_MIDDLE - 2:g} {_LEFT + out * 44:g} {bottom:g}"
        for out in (-1, 1)
    ]
    ends = f"M{_LEFT - 44:g} {top:g}H{_LEFT + 44:g}M{_LEFT - 44:g} {bottom:g}H{_LEFT + 44:g}"
    return (
        svg.element("path", d="".join(staves) + ends),
        _across(_LEFT, _MIDDLE - 2, 120, "bulge_diameter"),
        _across(_LEFT, top - 18, 88, "end_diameter"),
        _upright(66, _MIDDLE - 2, 96, "height"),
        _circle(_RIGHT, _MIDDLE - 8, 60),
        _circle(_RIGHT, _MIDDLE - 8, 44),
    )


_SKETCHES: dict[str, Callable[[], Sketch]] = {
    "box": _box,
    "plank": _plank,
    "cylinder": _cylinder,
    "ring": _ring,
    "holed disc": _holed_disc,
    "frustum": _frustum,
    "barrel": _barrel,
}
