"""Words that stay legible over lines."""

from __future__ import annotations

from oakum.draw import svg
from oakum.draw.theme import Theme


def haloed(x: float, y: float, words: str, theme: Theme, **style: str | float | None) -> str:
    """Write words on a ground of paper, so that lines under them do not cut through."""
    style = {"fill": theme.ink, **style}
    ground = {
        **style,
        "fill": theme.paper,
        "stroke": theme.paper,
        "stroke_width": 3.0,
        "stroke_linejoin": "round",
        "aria_hidden": "true",
    }
    return svg.text(x, y, words, **ground) + svg.text(x, y, words, **style)
