"""Where a body falls on paper, and what measures it there: overall dimensions and the scale bar."""

from __future__ import annotations

from dataclasses import dataclass

from oakum.draw import svg
from oakum.draw.scale import bar_length_m, length_words
from oakum.draw.theme import Theme


@dataclass(frozen=True, slots=True)
class Frame:
    """Where a place of the body falls on paper: `k` units to a metre."""

    k: float
    left: float
    top: float
    low: tuple[float, float]
    high: tuple[float, float]

    @property
    def width(self) -> float:
        """Width on paper."""
        return (self.high[0] - self.low[0]) * self.k

    @property
    def height(self) -> float:
        """Height on paper."""
        return (self.high[1] - self.low[1]) * self.k

    @property
    def bottom(self) -> float:
        """Where the lowest line lies."""
        return self.top + self.height

    def at(self, point: tuple[float, float]) -> svg.Point:
        """Return where a place (right, up), metres, lies on paper."""
        return self.left + (point[0] - self.low[0]) * self.k, self.top + (self.high[1] - point[1]) * self.k


def side_dimension(frame: Frame, theme: Theme) -> str:
    """Draw the overall height (or width) at the left."""
    size = theme.text_size
    x = frame.left - 1.1 * size
    middle = (frame.top + frame.bottom) / 2
    label = length_words(frame.high[1] - frame.low[1])
    return svg.group(
        svg.line(x, frame.top, x, frame.bottom),
        *(svg.line(x - 2.5, y + 2.5, x + 2.5, y - 2.5) for y in (frame.top, frame.bottom)),
        svg.element(
            "text",
            svg.clean(label),
            text_anchor="middle",
            font_size=size,
            fill=theme.ink,
            stroke="none",
            transform=f"translate({svg.number(x - 0.5 * size)} {svg.number(middle)}) rotate(-90)",
        ),
        stroke=theme.ink,
        stroke_width=0.6,
        class_="dimension",
    )


def below(frame: Frame, theme: Theme, top: float, across: float, scale: int | None) -> tuple[str, float]:
    """Draw the overall length and, under it, the scale bar; return them with their height."""
    size = theme.text_size
    x0, x1 = frame.left, frame.left + frame.width
    label = length_words(frame.high[0] - frame.low[0])
    return (
        svg.group(
            svg.line(x0, top, x1, top, stroke=theme.ink, stroke_width=0.6),
            *(
                svg.line(x - 2.5, top + 2.5, x + 2.5, top - 2.5, stroke=theme.ink, stroke_width=0.6)
                for x in (x0, x1)
            ),
            svg.text((x0 + x1) / 2, top + 1.1 * size, label, text_anchor="middle"),
            scale_bar(frame.k, frame.left, top + 1.9 * size, across, theme, scale),
            font_size=size,
            fill=theme.ink,
            class_="scale",
        ),
        3.4 * size,
    )


def scale_bar(k: float, left: float, row: float, across: float, theme: Theme, scale: int | None) -> str:
    """Draw a bar of a round length for `k` units to a metre, with its length and the print scale."""
    size = theme.text_size
    room_m = max(across - 14 * size, 4 * size) / k
    bar_m = bar_length_m(min(room_m, 0.45 * across / k))
    cells = [
        svg.element(
            "rect",
            x=left + i * bar_m * k / 4,
            y=row,
            width=bar_m * k / 4,
            height=0.4 * size,
            fill=theme.ink if i % 2 == 0 else theme.paper,
            stroke=theme.ink,
            stroke_width=0.5,
        )
        for i in range(4)
    ]
    said = f"{length_words(bar_m)}" + (f", scale 1:{scale} on A4" if scale else "")
    words = svg.text(left + bar_m * k + 0.6 * size, row + 0.55 * size, said, font_size=size, fill=theme.ink)
    return svg.group(*cells, words)
