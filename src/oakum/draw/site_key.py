"""The signs of the plan with their meaning in words."""

from __future__ import annotations

from oakum.draw import svg
from oakum.draw.site_marks import ghost, sign
from oakum.draw.site_readings import aside_line, suspect_line
from oakum.draw.theme import PAGE, Theme

_ROOM = 30.0


def site_key(*, inside: float, factor: float | None, theme: Theme = PAGE, width: float, key: str = "site-key") -> str:
    """Draw the key in as many lines as the width asks for; `factor` None: nothing is drawn exaggerated."""
    size = theme.text_size
    x, y, drawn = 2.0, 1.0 * size, []
    for picture, words in _entries(theme, inside, factor):
        long = _ROOM + 8 + theme.text_width(words) + 12
        if x > 2 and x + long > width:
            x, y = 2.0, y + 1.7 * size
        said = svg.text(_ROOM + 6, 0.35 * size, words, font_size=size, fill=theme.ink)
        drawn.append(svg.group(picture, said, transform=f"translate({svg.number(x)} {svg.number(y)})"))
        x += long
    told = "; ".join(words for _, words in _entries(theme, inside, factor))
    return svg.document(
        width, y + 1.1 * size, *drawn, title="What the signs mean", description=told, key=key, font=theme.font
    )


def _entries(theme: Theme, inside: float, factor: float | None) -> list[tuple[str, str]]:
    middle = _ROOM / 2
    left, right = (0.0, 0.0), (_ROOM, 0.0)
    style: dict[str, str | float | None] = {"stroke": theme.water}
    true = svg.element(
        "ellipse", cx=middle, cy=0, rx=12, ry=6, fill=theme.tone, fill_opacity=0.22, stroke_width=1.0, **style
    )
    found = [
        (sign("datum", middle, 0, theme), "datum"),
        (sign("find", middle, 0, theme), "find"),
        (sign("detail", middle, 0, theme), "detail"),
        (sign("datum", middle, 0, theme, held=True), "held as known"),
        (sign("detail", middle, 0, theme, weak=True), "barely known"),
        (true, f"{100 * inside:g} % ellipse, true scale"),
    ]
    if factor is not None and factor != 1.0:
        dashed = svg.element(
            "ellipse", cx=middle, cy=0, rx=14, ry=7, fill="none", stroke_width=0.9, stroke_dasharray="4 2.5", **style
        )
        found.append((dashed, f"the same drawn {factor:g} times as large"))
    return [
        *found,
        (svg.line(*left, *right, stroke=theme.soft, stroke_width=0.7), "tape"),
        (suspect_line(1, left, right, theme), "doubted, in order"),
        (suspect_line(0, left, right, theme), "cannot be told from it"),
        (aside_line(left, right, theme), "set aside"),
        (ghost(middle, 0, theme), "fits here as well"),
    ]
