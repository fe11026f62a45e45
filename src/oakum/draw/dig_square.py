"""A square of the dig in plan: its corners, the levels read, and the contours of the bed as it lies now."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from oakum.draw import svg
from oakum.draw.halo import haloed
from oakum.draw.rows import Rows
from oakum.draw.scale import bar_length_m, decimals, length_words
from oakum.draw.theme import PAGE, Theme
from oakum.seabed.dig import Contour, Level, Outline, Surface

_At = Callable[[float, float], svg.Point]


@dataclass(frozen=True, slots=True)
class Depths:
    """The levels of a spit to be written: before and after, either may be empty; `zero` names what z counts from."""

    before: tuple[Level, ...] = ()
    after: tuple[Level, ...] = ()
    zero: str = "the site's zero"


def square_plan(
    name: str,
    where: Outline,
    depths: Depths,
    contours: Sequence[Contour],
    *,
    theme: Theme = PAGE,
    width: float | None = None,
    key: str | None = None,
    said: str = "",
) -> str:
    """Draw the square with site north up; `contours` are those of the newest surface, `said` is added in words."""
    size = theme.text_size
    across = width or theme.width
    shown = depths.after or depths.before
    xs = [x for x, _ in where.corners] + [one.x_m for one in shown]
    ys = [y for _, y in where.corners] + [one.y_m for one in shown]
    wide, tall = max(xs) - min(xs), max(ys) - min(ys)
    margin = 2.6 * size
    scale = min((across - 2 * margin) / wide, 1.1 * (across - 2 * margin) / tall)
    left = 0.5 * (across - scale * wide)
    down = scale * tall + 2 * margin + 2.4 * size

    def at(x: float, y: float) -> svg.Point:
        return left + (x - min(xs)) * scale, margin + (max(ys) - y) * scale

    return svg.document(
        across,
        down,
        svg.polyline(
            [at(*c) for c in where.corners], close=True, fill="none", stroke=theme.ink, stroke_width=1.4
        ),
        _contours(contours, at, theme),
        _levels(shown, at, theme, across),
        _corners(where, at, theme),
        _bar(wide, scale, left, down - 0.9 * size, theme),
        _north(across - 1.2 * size, down - 2.6 * size, theme),
        title=f"Square {name} in plan",
        description=" ".join(filter(None, (_words(where, shown, contours, depths.zero), said))),
        key=key or f"square-{name}",
        font=theme.font,
    )


def square_rows(name: str, depths: Depths, before: Surface | None, after: Surface | None) -> Rows:
    """Return every level with its place, its height before and after, and what was dug there.

    Where a place was read only once, the other height is that of the surface there, in brackets.
    """
    lines = []
    seen = {(round(one.x_m, 3), round(one.y_m, 3)) for one in depths.after}
    every = [
        *depths.after,
        *(one for one in depths.before if (round(one.x_m, 3), round(one.y_m, 3)) not in seen),
    ]
    for one in every:
        top, bottom = _height(depths.before, before, one), _height(depths.after, after, one)
        dug = "" if top[0] is None or bottom[0] is None else decimals(top[0] - bottom[0], 3)
        lines.append((one.name, f"{decimals(one.x_m, 2)}, {decimals(one.y_m, 2)}", top[1], bottom[1], dug))
    head = ("place", "x, y (m)", "before (m)", "after (m)", "dug (m)")
    return Rows(f"Levels of square {name}, metres above {depths.zero}", head, tuple(lines))


def _height(levels: Sequence[Level], held: Surface | None, one: Level) -> tuple[float | None, str]:
    here = [o.z_m for o in levels if abs(o.x_m - one.x_m) < 1e-3 and abs(o.y_m - one.y_m) < 1e-3]
    if here:
        mean = sum(here) / len(here)
        return mean, decimals(mean, 3)
    z = None if held is None else held.height_m(one.x_m, one.y_m)
    return (None, "not read") if z is None else (z, f"({decimals(z, 3)})")


def _contours(contours: Sequence[Contour], at: _At, theme: Theme) -> str:
    parts = []
    for contour in contours:
        chains = [[at(*point) for point in line] for line in contour.lines]
        parts.append(svg.paths(chains, fill="none", stroke=theme.water, stroke_width=1.0, class_="contour"))
        longest = max(chains, key=len)
        x, y = longest[len(longest) // 2]
        label = decimals(contour.z_m, 2)
        parts.append(
            haloed(x, y + 0.3 * theme.text_size, label, theme, text_anchor="middle", fill=theme.water)
        )
    return svg.group(*parts, font_size=0.85 * theme.text_size)


def _levels(levels: Sequence[Level], at: _At, theme: Theme, across: float) -> str:
    size = 0.85 * theme.text_size
    parts = []
    for one in levels:
        x, y = at(one.x_m, one.y_m)
        arm = 3.2
        parts.append(svg.line(x - arm, y, x + arm, y, stroke=theme.ink, stroke_width=1.0))
        parts.append(svg.line(x, y - arm, x, y + arm, stroke=theme.ink, stroke_width=1.0))
        words = decimals(one.z_m, 2)
        fits = x + 5 + theme.text_width(words, size) <= across
        anchor = "start" if fits else "end"
        parts.append(haloed(x + (5 if fits else -5), y - 4, words, theme, text_anchor=anchor))
    return svg.group(*parts, font_size=size, class_="levels")


def _corners(where: Outline, at: _At, theme: Theme) -> str:
    cx, cy = at(*where.centre)
    parts = []
    for name, corner in zip(where.names, where.corners, strict=True):
        x, y = at(*corner)
        reach = max(((x - cx) ** 2 + (y - cy) ** 2) ** 0.5, 1e-9)
        out = 1.2 * theme.text_size
        px, py = x + out * (x - cx) / reach, y + out * (y - cy) / reach + 0.35 * theme.text_size
        parts.append(haloed(px, py, name, theme, text_anchor="middle", font_weight="600"))
    return svg.group(*parts, font_size=theme.text_size)


def _bar(wide: float, scale: float, left: float, y: float, theme: Theme) -> str:
    length = bar_length_m(0.6 * wide)
    end = left + length * scale
    return svg.group(
        svg.line(left, y, end, y, stroke=theme.ink, stroke_width=1.2),
        *(svg.line(x, y - 4, x, y + 4, stroke=theme.ink, stroke_width=1.2) for x in (left, end)),
        svg.text(end + 6, y + 0.35 * theme.text_size, length_words(length), fill=theme.ink),
        font_size=theme.text_size,
    )


def _north(x: float, y: float, theme: Theme) -> str:
    return svg.group(
        svg.line(x, y + 1.6 * theme.text_size, x, y, stroke=theme.ink, stroke_width=1.0),
        svg.polyline(
            [(x - 3.5, y + 7), (x, y), (x + 3.5, y + 7)], fill="none", stroke=theme.ink, stroke_width=1.0
        ),
        svg.text(x - 6, y + 0.9 * theme.text_size, "site north", text_anchor="end", fill=theme.soft),
        font_size=0.85 * theme.text_size,
    )


def _words(where: Outline, levels: Sequence[Level], contours: Sequence[Contour], zero: str) -> str:
    said = [
        f"Corners {', '.join(where.names)} round {decimals(where.area_m2, 2)} square metres, site north up."
    ]
    if levels:
        low, high = min(one.z_m for one in levels), max(one.z_m for one in levels)
        said.append(
            f"{len(levels)} levels between {decimals(low, 2)} and {decimals(high, 2)} m above {zero} (below it where "
            "negative)."
        )
    else:
        said.append("No levels yet.")
    if contours:
        said.append(f"Contours at {', '.join(decimals(c.z_m, 2) for c in contours)} m.")
    return " ".join(said)
