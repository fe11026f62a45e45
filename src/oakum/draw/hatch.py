"""Hatching by plain lines, so that every renderer draws it alike."""

from __future__ import annotations

from oakum.draw import svg


def hatched(
    x: float, y: float, width: float, height: float, *, stroke: str, pitch: float = 4.0, weight: float = 0.6
) -> str:
    """Draw strokes rising to the right inside a rectangle, clipped to it."""
    if width <= 0.0 or height <= 0.0:
        return ""
    chains = []
    start = pitch / 2
    while start < width + height:
        a = max(0.0, start - height), min(height, start)
        b = min(width, start), max(0.0, start - width)
        chains.append([(x + a[0], y + a[1]), (x + b[0], y + b[1])])
        start += pitch
    return svg.paths(chains, fill="none", stroke=stroke, stroke_width=weight)
