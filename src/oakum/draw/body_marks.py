"""What is drawn on and under a body: points with their signs, the water line, and the legend in words."""

from __future__ import annotations

from dataclasses import dataclass

from oakum.draw import svg
from oakum.draw.outline import View
from oakum.draw.scale import length_words
from oakum.draw.theme import Theme
from oakum.lift.weights.report import Centre, WeightReport


@dataclass(frozen=True, slots=True)
class PointMark:
    """A point of the body with the letter and the sign it is drawn by."""

    tag: str
    name: str
    sign: str  # "quartered" | "ring" | "plus" | "cross"
    dash: str | None
    centre: Centre

    def symbol(self, x: float, y: float, theme: Theme, r: float = 4.0) -> str:
        """Draw the sign at a place, on a paper ground so that lines under it do not confuse."""
        ground = svg.element(
            "circle", cx=x, cy=y, r=r, fill=theme.paper, stroke=theme.signal, stroke_width=1.0
        )
        if self.sign == "quartered":
            wedge = f"M{svg.number(x)} {svg.number(y)}"
            return ground + svg.element(
                "path",
                d=f"{wedge}v{-r}a{r} {r} 0 0 1 {r} {r}z{wedge}v{r}a{r} {r} 0 0 1 {-r} {-r}z",
                fill=theme.signal,
            )
        if self.sign == "ring":
            return ground + svg.element("circle", cx=x, cy=y, r=1.3, fill=theme.signal)
        out, bent = (1.3 * r, 0.0) if self.sign == "plus" else (r, r)
        arms = [[(x - out, y - bent), (x + out, y + bent)], [(x - bent, y + out), (x + bent, y - out)]]
        return svg.paths(arms, fill="none", stroke=theme.signal, stroke_width=1.2)


def point_marks(report: WeightReport) -> tuple[PointMark, ...]:
    """Return the centres (G gravity, B buoyancy, else C) and the hanging points (U under water, A in air)."""
    marks: list[PointMark] = []
    kinds = [_kind(c.name) for c in report.centres]
    for centre, letter in zip(report.centres, kinds, strict=True):
        several = kinds.count(letter) > 1
        number = sum(1 for m in marks if m.tag.startswith(letter)) + 1
        sign = "ring" if letter == "B" else "quartered"
        marks.append(PointMark(f"{letter}{number}" if several else letter, centre.name, sign, None, centre))
    marks.append(PointMark("U", "hanging point under water", "plus", "3 2", report.hanging.submerged))
    marks.append(PointMark("A", "hanging point in air", "cross", "1 2", report.hanging.in_air))
    return tuple(marks)


def _kind(name: str) -> str:
    low = name.lower()
    return "B" if "buoyan" in low else "G" if "gravity" in low else "C"


def spread_out(ideal: list[float], pitch: float, low: float, high: float) -> list[float]:
    """Return places near the ideal ones (ascending), at least `pitch` apart, from `low` to `high` if they fit."""
    places: list[float] = []
    for wanted in ideal:
        places.append(max(wanted, places[-1] + pitch) if places else wanted)
    if places:
        shift = sum(i - c for i, c in zip(ideal, places, strict=True)) / len(places)
        places = [c + max(shift, low - places[0]) for c in places]
        places = [c - max(0.0, places[-1] - high) for c in places]
    return places


def point_words(mark: PointMark, view: View) -> str:
    """Say where a point is likely to be in this view."""
    names = ("along", "across", "up")
    spreads = (mark.centre.x_m, mark.centre.y_m, mark.centre.z_m)
    return ", ".join(
        f"{'minus ' if spreads[i].best < 0 else ''}{length_words(abs(spreads[i].best))} {names[i]}"
        for i in (view.right, view.up)
    )


def water_line(
    height_m: float, y: float, top: float, bottom: float, across: float, theme: Theme
) -> tuple[str, str]:
    """Draw the water, its surface at `y`: what lies behind the body, then what lies over it.

    The surface carries the drafting sign for a level; out of the drawing only the words are written.
    """
    size = theme.text_size
    side = "above" if height_m >= 0 else "below"
    said = f"lowest point {length_words(abs(height_m))} {side} the water"
    words = svg.text(across, size, said, text_anchor="end", font_size=size, fill=theme.water)
    if y > bottom + size:
        return "", words
    under = svg.element(
        "rect",
        x=0,
        y=max(y, top - size),
        width=across,
        height=max(bottom + 0.6 * size - max(y, top - size), 0.5),
        fill=theme.water,
        fill_opacity=0.07,
        class_="water",
    )
    if y < top - 0.2 * size:
        return under, words
    right, nib = across - 0.5 * size, 0.45 * size
    sign = [(right - nib, y - 1.5 * nib), (right + nib, y - 1.5 * nib), (right, y)]
    surface = svg.group(
        svg.line(0, y, across, y, stroke=theme.water, stroke_width=1.3),
        svg.polyline(sign, close=True, fill="none", stroke=theme.water, stroke_width=1),
        class_="water",
    )
    return under, surface + words


def legend(
    roles: tuple[str, ...],
    marks: tuple[PointMark, ...],
    outside: frozenset[str],
    theme: Theme,
    across: float,
    top: float,
) -> tuple[str, float]:
    """Write what every line and sign means, in words, flowing over as many rows as it takes."""
    size = 0.92 * theme.text_size
    pitch = 1.55 * size
    sample = 2.4 * size
    x, row = 0.0, 0
    parts: list[str] = []
    items = [(role, None) for role in roles] + [(_mark_words(mark, outside), mark) for mark in marks]
    for words, mark in items:
        wide = sample + 0.5 * size + theme.text_width(words, size) + size
        if x > 0 and x + wide - size > across:
            x, row = 0.0, row + 1
        y = top + row * pitch + 0.5 * size
        if mark is None:
            stroke = theme.role(words)
            parts.append(
                svg.line(
                    x,
                    y,
                    x + sample,
                    y,
                    stroke=stroke.colour,
                    stroke_width=max(stroke.width, 0.8),
                    stroke_dasharray=stroke.dash,
                )
            )
        else:
            parts.append(mark.symbol(x + sample / 2, y, theme, 3.4))
        parts.append(svg.text(x + sample + 0.5 * size, y + 0.35 * size, words))
        x += wide
    return svg.group(*parts, font_size=size, fill=theme.ink, class_="legend"), (row + 1) * pitch + 0.4 * size


def _mark_words(mark: PointMark, outside: frozenset[str]) -> str:
    name = mark.name[0].lower() + mark.name[1:] if mark.name else mark.name
    return f"{mark.tag} {name}" + (" (outside this drawing)" if mark.tag in outside else "")
