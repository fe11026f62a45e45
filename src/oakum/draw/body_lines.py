"""The lines of all parts of a body on paper."""

from __future__ import annotations

from oakum.draw import svg
from oakum.draw.body_frame import Frame
from oakum.draw.outline import Outline
from oakum.draw.parts import Shown
from oakum.draw.theme import Theme

Pieces = tuple[tuple[Shown, Outline], ...]


def bodies(pieces: Pieces, frame: Frame, theme: Theme) -> str:
    """Draw every part: a faint tone for its area and its lines in the stroke of its role."""
    drawn = []
    for part, lines in pieces:
        stroke = theme.role(part.role)
        area = [[frame.at(p) for p in chain] for chain in lines.area]
        edges = [[frame.at(p) for p in chain] for chain in lines.edges]
        drawn.append(
            svg.group(
                svg.element("title", svg.clean(f"{part.name} ({part.role})")),
                svg.paths(area, close=True, fill=stroke.colour, fill_opacity=0.06) if area else "",
                svg.paths(
                    edges,
                    fill="none",
                    stroke=stroke.colour,
                    stroke_width=stroke.width,
                    stroke_dasharray=stroke.dash,
                    stroke_linejoin="round",
                )
                if edges
                else "",
                class_=f"part {svg.identifier(part.role)}",
            )
        )
    return svg.group(*drawn, class_="parts")
