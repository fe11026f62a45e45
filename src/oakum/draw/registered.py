"""A drawing with its control marks, ruled in its own units, and what its fit leaves, as rows."""

from __future__ import annotations

import math
from collections.abc import Sequence

from oakum.draw import svg
from oakum.draw.halo import haloed
from oakum.draw.rows import Rows
from oakum.draw.scale import decimals, nice_step
from oakum.draw.theme import PAGE, Theme
from oakum.seabed.frame import Registration


def control_picture(
    address: str,
    size: tuple[int, int],
    control: Sequence[tuple[str, float, float]],
    *,
    width: float = 700.0,
    theme: Theme = PAGE,
    key: str = "control",
) -> str:
    """Draw the picture with rulers along its upper and left edge and a cross at every control mark."""
    per = width / size[0]
    height = size[1] * per
    step = nice_step(max(size), 10)
    ruled = []
    for i in range(1, math.ceil(size[0] / step)):
        x = i * step * per
        ruled.append(svg.line(x, 0, x, height, stroke=theme.soft, stroke_width=0.5, stroke_opacity=0.5))
        ruled.append(haloed(x, 12, f"{i * step:g}", theme, font_size=11, text_anchor="middle"))
    for i in range(1, math.ceil(size[1] / step)):
        y = i * step * per
        ruled.append(svg.line(0, y, width, y, stroke=theme.soft, stroke_width=0.5, stroke_opacity=0.5))
        ruled.append(haloed(3, y + 4, f"{i * step:g}", theme, font_size=11))
    marks = []
    for name, u, v in control:
        x, y = u * per, v * per
        cross = (((x - 9, y), (x + 9, y)), ((x, y - 9), (x, y + 9)))
        marks.append(svg.paths(cross, fill="none", stroke=theme.paper, stroke_width=4.5))
        marks.append(svg.paths(cross, fill="none", stroke=theme.signal, stroke_width=2.0))
        marks.append(haloed(x + 7, y - 6, name, theme, font_size=theme.text_size, font_weight="600"))
    names = ", ".join(f"{name} at {u:g}, {v:g}" for name, u, v in control) or "none yet"
    return svg.document(
        width,
        height,
        svg.element("image", href=address, x=0.0, y=0.0, width=width, height=height),
        *ruled,
        *marks,
        title="The drawing with its control marks",
        description=f"{size[0]} by {size[1]} units from the upper left corner; control marks: {names}",
        key=key,
        font=theme.font,
    )


def residual_rows(registration: Registration) -> Rows:
    """Return what the fit leaves at every mark, and what it misses it by when the mark is left out."""
    lines = tuple(
        (
            one.mark,
            decimals(1000 * one.dx_m, 0),
            decimals(1000 * one.dy_m, 0),
            decimals(1000 * one.size_m, 0),
            "\u2013" if one.left_out_m is None else decimals(1000 * one.left_out_m, 0),
        )
        for one in registration.residuals
    )
    rms = "unchecked" if registration.rms_m is None else f"rms {1000 * registration.rms_m:.0f} mm"
    head = ("mark", "east, mm", "north, mm", "in all, mm", "left out, mm")
    return Rows(f"What the {registration.fit} fit leaves at its marks, {rms}", head, lines)
