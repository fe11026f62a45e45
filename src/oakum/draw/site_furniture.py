"""What makes a plan measurable: the grid with its figures, a bar of round length, where north is, what signs mean."""

from __future__ import annotations

import math
from collections.abc import Sequence

from oakum.draw import svg
from oakum.draw.halo import haloed
from oakum.draw.scale import bar_length_m, decimals, length_words, nice_step
from oakum.draw.site_view import SiteView
from oakum.draw.theme import Theme

_LINES = 8
_BEYOND = 0.6


def grid(view: SiteView, theme: Theme) -> str:
    """Draw the lines of the grid, also a little beyond the window, so that it can be moved before it is drawn anew."""
    step = grid_step_m(view)
    west, south, east, north = view.bounds_m
    dx, dy = _BEYOND * (east - west), _BEYOND * (north - south)
    chains = []
    for value in _multiples(west - dx, east + dx, step):
        x = view.at(value, 0.0)[0]
        chains.append(((x, -_BEYOND * view.height), (x, (1 + _BEYOND) * view.height)))
    for value in _multiples(south - dy, north + dy, step):
        y = view.at(0.0, value)[1]
        chains.append(((-_BEYOND * view.width, y), ((1 + _BEYOND) * view.width, y)))
    return svg.paths(chains, fill="none", stroke=theme.rule, stroke_width=0.8) if chains else ""


def grid_figures(view: SiteView, theme: Theme) -> str:
    """Write site east along the upper edge and site north along the left one."""
    step = grid_step_m(view)
    places = max(0, -math.floor(math.log10(step) + 1e-9))
    size = 0.85 * theme.text_size
    west, south, east, north = view.bounds_m
    drawn = []
    for value in _multiples(west, east, step):
        x = view.at(value, 0.0)[0]
        if 2.5 * size < x < view.width - 7.0 * size:
            said = decimals(value, places)
            drawn.append(haloed(x, 1.2 * size, said, theme, font_size=size, text_anchor="middle", fill=theme.soft))
    for value in _multiples(south, north, step):
        y = view.at(0.0, value)[1]
        if 2.5 * size < y < view.height - 5.5 * size:
            drawn.append(haloed(4, y + 0.35 * size, decimals(value, places), theme, font_size=size, fill=theme.soft))
    return "".join(drawn)


def grid_step_m(view: SiteView) -> float:
    """Return how far the lines of the grid are apart: 1, 2 or 5 times a power of ten."""
    return nice_step(view.across_m, max(2, min(_LINES, int(view.width / 70))))


def _multiples(low: float, high: float, step: float) -> list[float]:
    return [float(f"{i * step:.12g}") for i in range(math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9) + 1)]


def scale_bar(view: SiteView, theme: Theme, below: Sequence[str] = ()) -> str:
    """Draw a bar of round length at the lower left, half filled, with what is said of the drawing under it."""
    length = bar_length_m(min(0.3 * view.width, 160.0) / view.per_m)
    long, size = length * view.per_m, theme.text_size
    x, y = 10.0, view.height - 12.0 - 1.25 * size * len(below)
    box = max(long + theme.text_width(length_words(length)) + 12, *(theme.text_width(w) for w in below), 0) + 12
    ground = svg.element(
        "rect",
        x=x - 6,
        y=y - 1.2 * size,
        width=min(box, view.width - 8),
        height=1.35 * size + 8 + 1.25 * size * len(below),
        fill=theme.paper,
        fill_opacity=0.88,
    )
    half = svg.element("rect", x=x, y=y - 5, width=long / 2, height=5, fill=theme.ink)
    whole = svg.element("rect", x=x, y=y - 5, width=long, height=5, fill="none", stroke=theme.ink, stroke_width=1)
    words = svg.text(x + long + 6, y + 1, length_words(length), font_size=size, fill=theme.ink)
    said = "".join(
        svg.text(x, y + 6 + 1.2 * size * (i + 1) - 0.2 * size, line, font_size=0.9 * size, fill=theme.ink)
        for i, line in enumerate(below)
    )
    return ground + half + whole + words + said


def north_arrow(view: SiteView, theme: Theme, true_north_deg: float | None) -> str:
    """Draw site north at the upper right; a second, dashed arrow where true north is known."""
    size = theme.text_size
    x, y = view.width - 30.0, 44.0 + size
    ground = svg.element("circle", cx=x, cy=y - 4, r=24 + size, fill=theme.paper, fill_opacity=0.88)
    arrow = svg.line(x, y + 18, x, y - 18, stroke=theme.ink, stroke_width=1.4)
    head = svg.polyline(((x, y - 24), (x + 5, y - 10), (x - 5, y - 10)), close=True, fill=theme.ink)
    said = svg.text(x, y + 18 + size, "site N", font_size=0.85 * size, text_anchor="middle", fill=theme.ink)
    if true_north_deg is None:
        return ground + arrow + head + said
    angle = math.radians(true_north_deg)
    tip = (x + 24 * math.sin(angle), y - 24 * math.cos(angle))
    true = svg.line(x, y, *tip, stroke=theme.signal, stroke_width=1.4, stroke_dasharray="3 2")
    true += svg.element("circle", cx=tip[0], cy=tip[1], r=2.2, fill=theme.signal)
    at = (x + 34 * math.sin(angle), y - 34 * math.cos(angle))
    true += haloed(at[0], at[1] + 4, "true", theme, font_size=0.85 * size, text_anchor="middle")
    return ground + arrow + head + said + true
