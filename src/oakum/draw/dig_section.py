"""A section through a square: the surfaces of its spits along a line, with the levels read near it."""

from __future__ import annotations

from oakum.draw import svg
from oakum.draw.halo import haloed
from oakum.draw.plot import grid
from oakum.draw.rows import Rows
from oakum.draw.scale import Axis, axis, decimals
from oakum.draw.theme import PAGE, Theme
from oakum.seabed.dig import Layer, Section

_DASHES = (None, "7 3", "2 2.5", "9 3 2 3", "5 2 1 2 1 2")
STEEPER = (1, 2, 5, 10, 20)


def section_drawing(
    section: Section,
    *,
    title: str,
    zero: str = "the site's zero",
    theme: Theme = PAGE,
    width: float | None = None,
    key: str | None = None,
) -> str:
    """Draw the layers with their levels; heights are drawn steeper by a round factor that the drawing names."""
    size = theme.text_size
    across = width or theme.width
    heights = [one.z_m for layer in section.layers for one in layer.shown]
    heights += [z for layer in section.layers for _, z in layer.cut]
    low, high = (min(heights), max(heights)) if heights else (-1.0, 0.0)
    room = max(high - low, 0.05)
    left = theme.text_width("\u221214.25") + 0.8 * size
    x = axis(0.0, section.length_m, left, across - 0.8 * size, tight=True)
    a_metre = (x.end - x.start) / section.length_m
    factor = next((f for f in STEEPER if f * room * a_metre >= 0.3 * across), STEEPER[-1])
    tall = min(max(factor * room * a_metre, 5 * size), 0.8 * across)
    top = 2.2 * size + size * 1.25 * len(section.layers)
    down = top + tall + 4.6 * size
    pad = 0.08 * room
    y = axis(low - pad, high + pad, down - 3.6 * size, top + 0.8 * size, tight=True)
    real = (y.start - y.end) / (y.high - y.low) / a_metre
    return svg.document(
        across,
        down,
        grid(
            x,
            y,
            "along the line, m",
            f"m above {zero}, drawn {decimals(real, 1)} times as steep",
            theme,
            across,
        ),
        _names(section, theme),
        *(_layer(layer, index, x, y, theme) for index, layer in enumerate(section.layers)),
        title=title,
        description=_words(section, zero),
        key=key or title,
        font=theme.font,
    )


def section_rows(section: Section, title: str) -> Rows:
    """Return every level shown with its place on the section, and every one left out with why."""
    lines = []
    for layer in section.layers:
        for one in layer.shown:
            place = (decimals(one.along_m, 2), decimals(one.z_m, 3), decimals(one.left_m, 2))
            lines.append((f"{layer.title}, {one.name}", *place, "shown"))
        for out in layer.left_out:
            lines.append(
                (f"{layer.title}, {out.name}", "", "", decimals(out.left_m, 2), f"left out: {out.why}")
            )
    head = ("level", "along (m)", "height (m)", "left of the line (m)", "on the drawing")
    return Rows(title, head, tuple(lines))


def _names(section: Section, theme: Theme) -> str:
    size = theme.text_size
    parts = []
    for index, layer in enumerate(section.layers):
        y = 2.2 * size + 1.25 * size * index
        parts.append(svg.line(0, y - 0.35 * size, 2.6 * size, y - 0.35 * size, **_stroke(index, theme)))
        parts.append(svg.text(3.1 * size, y, layer.title, fill=theme.ink))
    return svg.group(*parts, font_size=size, class_="key")


def _layer(layer: Layer, index: int, x: Axis, y: Axis, theme: Theme) -> str:
    parts = []
    if len(layer.cut) > 1:
        parts.append(
            svg.paths([[(x.at(a), y.at(z)) for a, z in layer.cut]], close=False, fill="none", **_stroke(index, theme))
        )
    for one in layer.shown:
        px, py = x.at(min(max(one.along_m, x.low), x.high)), y.at(one.z_m)
        parts.append(
            svg.element("circle", cx=px, cy=py, r=2.6, fill=theme.paper, stroke=theme.ink, stroke_width=1.1)
        )
        near_end = px > x.end - 3 * theme.text_size
        parts.append(
            haloed(
                px + (-5 if near_end else 5),
                py - 4,
                one.name,
                theme,
                text_anchor="end" if near_end else "start",
            )
        )
    return svg.group(*parts, font_size=0.8 * theme.text_size, class_="layer")


def _stroke(index: int, theme: Theme) -> dict[str, str | float | None]:
    return {
        "stroke": theme.ink if index % 2 == 0 else theme.water,
        "stroke_width": 1.5,
        "stroke_dasharray": _DASHES[index % len(_DASHES)],
    }


def _words(section: Section, zero: str) -> str:
    left_out = sum(len(layer.left_out) for layer in section.layers)
    said = [f"{decimals(section.length_m, 2)} m long, heights above {zero}."]
    for layer in section.layers:
        heights = [z for _, z in layer.cut] or [one.z_m for one in layer.shown]
        if heights:
            said.append(f"{layer.title}: from {decimals(min(heights), 2)} to {decimals(max(heights), 2)} m.")
    said.append(
        f"Levels within {section.tolerance_m:g} m of the line are shown; {left_out} "
        f"{'is' if left_out == 1 else 'are'} left out."
    )
    return " ".join(said)
