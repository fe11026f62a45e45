"""A section through a square: the surfaces of its spits along a line, with the levels read near it."""

from __future__ import annotations

from oakum.draw import svg
from oakum.draw.halo import haloed
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
    factor = max((f for f in STEEPER if f * room * a_metre <= 0.6 * across), default=1)
    tall = max(1.16 * factor * room * a_metre, 5 * size)
    top = 2.2 * size + size * 1.25 * len(section.layers)
    down = top + tall + 4.6 * size
    half, middle = 0.5 * tall / (factor * a_metre), 0.5 * (low + high)
    y = axis(middle - half, middle + half, top + tall + 1.0 * size, top + 1.0 * size, tight=True)
    steep = "heights as long as lengths" if factor == 1 else f"heights drawn {factor} times as long"
    return svg.document(
        across,
        down,
        _ground(x, y, f"m above {zero}, {steep}", theme),
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


def _ground(x: Axis, y: Axis, y_name: str, theme: Theme) -> str:
    """Draw rules of equal height, ticks along the line, and what both are; there is no floor in a section."""
    size = theme.text_size
    parts = [svg.line(x.start, y.at(t), x.end, y.at(t), stroke=theme.rule, stroke_width=0.5) for t in y.ticks]
    parts += [
        svg.text(x.start - 0.4 * size, y.at(t) + 0.35 * size, y.label(t), text_anchor="end") for t in y.ticks
    ]
    for t in x.ticks:
        parts.append(svg.line(x.at(t), y.start, x.at(t), y.start + 3, stroke=theme.ink, stroke_width=0.7))
        parts.append(svg.text(x.at(t), y.start + 1.4 * size, x.label(t), text_anchor="middle"))
    parts.append(svg.line(x.start, y.start, x.end, y.start, stroke=theme.ink, stroke_width=0.7))
    parts.append(
        svg.text(x.end, y.start + 2.7 * size, "along the line, m", text_anchor="end", fill=theme.soft)
    )
    parts.append(svg.text(0, 0.95 * size, y_name, fill=theme.soft))
    return svg.group(*parts, font_size=size, fill=theme.ink)


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
            svg.paths(
                [[(x.at(a), y.at(z)) for a, z in layer.cut]],
                close=False,
                fill="none",
                **_stroke(index, theme),
            )
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
