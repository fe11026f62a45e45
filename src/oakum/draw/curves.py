"""Band charts: a load against height or time, its P5 to P95 band, and the points where something changes."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from itertools import pairwise

from oakum.draw import svg
from oakum.draw.plot import grid
from oakum.draw.rows import Rows, figure
from oakum.draw.scale import Axis, axis, decimals
from oakum.draw.theme import PAGE, Theme
from oakum.lift.weights.report import Curve


def band(
    curve: Curve,
    *,
    at: float | None = None,
    theme: Theme = PAGE,
    width: float | None = None,
    height: float | None = None,
    key: str | None = None,
    over: Callable[[Axis, Axis], str] | None = None,
    y_also: Sequence[float] = (),
    said: str = "",
) -> str:
    """Draw the best line of a curve with its band, its marks and, where given, the present place `at` on x.

    `at` is in the curve's own x unit; a place off the curve is drawn at its nearer end and says so. `over`
    draws more on the two axes, `y_also` are heights that must fit, `said` is added to the description.
    """
    across = width or theme.width
    down = height or 0.56 * across
    size = theme.text_size
    marks = _marks_inside(curve)
    top = size * (2.0 + 1.35 * (len(marks) + (at is not None)))
    y = axis(min(0.0, *curve.p5, *y_also), max(*curve.p95, *y_also, 1e-9), down - 3.6 * size, top)
    left = theme.text_width(max((y.label(t) for t in y.ticks), key=len)) + 0.8 * size
    x = axis(curve.x[0], curve.x[-1], left, across - 0.8 * size, count=6, tight=True)
    return svg.document(
        across,
        down,
        grid(x, y, f"{curve.x_name}, {curve.x_unit}", f"{curve.y_name}, {curve.y_unit}", theme, across),
        _band_and_line(curve, x, y, theme),
        _mark_lines(marks, x, y, theme, across, top),
        _present(curve, at, x, y, theme, across, size * 1.2) if at is not None else "",
        over(x, y) if over is not None else "",
        title=f"{curve.y_name} against {curve.x_name}",
        description=" ".join(filter(None, (_words(curve, at), said))),
        key=key or f"curve-{curve.name}",
        font=theme.font,
    )


def band_rows(curve: Curve, *, most: int = 15) -> Rows:
    """Return the numbers of the curve, at most `most` evenly spread lines and every mark."""
    count = len(curve.x)
    picks = (
        sorted({round(i * (count - 1) / (most - 1)) for i in range(most)}) if count > most else range(count)
    )
    places = [(curve.x[i], "") for i in picks] + _marks_inside(curve)
    lines = []
    for place, words in sorted(places):
        low, best, high = (
            figure(at_place(curve, series, place)) for series in (curve.p5, curve.best, curve.p95)
        )
        lines.append((_x_figure(curve, place), low, best, high, words))
    x_head, y_unit = f"{curve.x_name} ({curve.x_unit})", f"({curve.y_unit})"
    return Rows(
        f"{curve.y_name} against {curve.x_name}",
        (x_head, f"low, P5 {y_unit}", f"likely {y_unit}", f"high, P95 {y_unit}", "what changes here"),
        tuple(lines),
    )


def at_place(curve: Curve, series: tuple[float, ...], place: float) -> float:
    """Read a series of the curve at a place on x: linear between its points, level beyond its ends."""
    if place <= curve.x[0]:
        return series[0]
    for (x0, y0), (x1, y1) in pairwise(zip(curve.x, series, strict=True)):
        if place <= x1:
            return y0 if x1 == x0 else y0 + (y1 - y0) * (place - x0) / (x1 - x0)
    return series[-1]


def _marks_inside(curve: Curve) -> list[tuple[float, str]]:
    return [(place, words) for place, words in curve.marks if curve.x[0] <= place <= curve.x[-1]]


def _x_figure(curve: Curve, place: float) -> str:
    span = curve.x[-1] - curve.x[0]
    return decimals(place, max(0, 2 - math.floor(math.log10(span))) if span > 0 else 2)


def _words(curve: Curve, at: float | None) -> str:
    peak = max(range(len(curve.x)), key=lambda i: curve.best[i])
    said = (
        f"The likely {curve.y_name} begins at {figure(curve.best[0])} {curve.y_unit}, is greatest at "
        f"{_x_figure(curve, curve.x[peak])} {curve.x_unit} with {figure(curve.best[peak])} {curve.y_unit} "
        f"(9 in 10 within {figure(curve.p5[peak])} to {figure(curve.p95[peak])}), and ends at "
        f"{figure(curve.best[-1])} {curve.y_unit}."
    )
    if at is None:
        return said
    there = figure(at_place(curve, curve.best, at))
    return f"{said} At {_x_figure(curve, at)} {curve.x_unit} it is likely {there} {curve.y_unit}."


def _band_and_line(curve: Curve, x: Axis, y: Axis, theme: Theme) -> str:
    upper = [(x.at(a), y.at(b)) for a, b in zip(curve.x, curve.p95, strict=True)]
    lower = [(x.at(a), y.at(b)) for a, b in zip(curve.x, curve.p5, strict=True)]
    best = [(x.at(a), y.at(b)) for a, b in zip(curve.x, curve.best, strict=True)]
    return svg.group(
        svg.polyline(upper + lower[::-1], close=True, fill=theme.tone, fill_opacity=0.14, class_="band"),
        svg.paths([upper, lower], fill="none", stroke=theme.soft, stroke_width=0.6, stroke_dasharray="2 2"),
        svg.polyline(
            best, fill="none", stroke=theme.ink, stroke_width=1.6, stroke_linejoin="round", class_="best"
        ),
        svg.text(
            best[-1][0],
            upper[-1][1] - 3,
            "P95",
            text_anchor="end",
            font_size=0.85 * theme.text_size,
            fill=theme.soft,
        ),
        svg.text(
            best[-1][0],
            lower[-1][1] + theme.text_size,
            "P5",
            text_anchor="end",
            font_size=0.85 * theme.text_size,
            fill=theme.soft,
        ),
    )


def _flag(
    place: float, row: float, words: str, theme: Theme, across: float, **style: str | float | None
) -> str:
    """Write words beside a vertical line, on the side where they fit."""
    fits = place + 4 + theme.text_width(words) <= across
    return svg.text(place + (4 if fits else -4), row, words, text_anchor="start" if fits else "end", **style)


def _mark_lines(
    marks: list[tuple[float, str]], x: Axis, y: Axis, theme: Theme, across: float, top: float
) -> str:
    size = theme.text_size
    parts = []
    for index, (place, words) in enumerate(marks):
        row = top - 0.45 * size - 1.35 * size * (len(marks) - 1 - index)
        parts.append(
            svg.line(
                x.at(place),
                row - 0.7 * size,
                x.at(place),
                y.start,
                stroke=theme.soft,
                stroke_width=0.6,
                stroke_dasharray="4 2",
            )
        )
        parts.append(_flag(x.at(place), row, words, theme, across, fill=theme.ink))
    return svg.group(*parts, font_size=size, class_="marks")


def _present(curve: Curve, at: float, x: Axis, y: Axis, theme: Theme, across: float, row: float) -> str:
    """Draw where the slider stands, with the load it reads there."""
    size = theme.text_size
    inside = min(max(at, curve.x[0]), curve.x[-1])
    low, best, high = (at_place(curve, series, inside) for series in (curve.p5, curve.best, curve.p95))
    beyond = "" if inside == at else " (end of the curve)"
    words = (
        f"{_x_figure(curve, at)} {curve.x_unit}: {figure(best)} {curve.y_unit} "
        f"({figure(low)} to {figure(high)}){beyond}"
    )
    place = x.at(inside)
    return svg.group(
        svg.line(place, row + size, place, y.start, stroke=theme.signal, stroke_width=1.4),
        svg.element(
            "circle", cx=place, cy=y.at(best), r=3.2, fill=theme.paper, stroke=theme.signal, stroke_width=1.6
        ),
        _flag(place, row + 1.1 * size, words, theme, across, fill=theme.signal, font_weight="600"),
        font_size=size,
        class_="present",
    )
