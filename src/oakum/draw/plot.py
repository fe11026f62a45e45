"""The ground of a plot on two axes: grid, figures, names; and the key under it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import log

from oakum.draw import svg
from oakum.draw.hatch import hatched
from oakum.draw.scale import Axis
from oakum.draw.theme import Theme
from oakum.draw.wrap import wrapped

SWATCH = 2.6
"""Width of what stands before the words of a key, in text sizes."""


@dataclass(frozen=True, slots=True)
class LogAxis(Axis):
    """A map of powers of ten from low..high, both above 0; what is lower lies at the low end."""

    def at(self, value: float) -> float:
        """Return where a value lies."""
        share = log(max(value, self.low) / self.low) / log(self.high / self.low)
        return self.start + share * (self.end - self.start)

    def label(self, value: float) -> str:
        """Write a tick without trailing zeros."""
        return f"{value:g}"


@dataclass(frozen=True, slots=True)
class KeyLine:
    """One line of a key: words, and what draws its sample between two x at a height."""

    words: str
    sample: Callable[[float, float, float], str]


def grid(x: Axis, y: Axis, x_name: str, y_name: str, theme: Theme, across: float) -> str:
    """Draw the rules of y, the ticks of x, the figures of both, and what they are; y grows upward."""
    size = theme.text_size
    base = y.start
    floor = min(max(0.0, y.low), y.high)
    parts = [
        svg.line(x.start, y.at(t), x.end, y.at(t), stroke=theme.rule, stroke_width=0.5)
        for t in y.ticks
        if t != 0
    ]
    parts += [svg.line(x.at(t), base, x.at(t), base + 3, stroke=theme.ink, stroke_width=0.7) for t in x.ticks]
    parts.append(svg.line(x.start, y.at(floor), x.end, y.at(floor), stroke=theme.ink, stroke_width=0.8))
    parts += [
        svg.text(x.start - 0.4 * size, y.at(t) + 0.35 * size, y.label(t), text_anchor="end") for t in y.ticks
    ]
    for t in x.ticks:
        half = theme.text_width(x.label(t)) / 2
        place = min(max(x.at(t), half), across - half)
        parts.append(svg.text(place, base + 1.4 * size, x.label(t), text_anchor="middle"))
    parts.append(svg.text(x.end, base + 2.8 * size, x_name, text_anchor="end", fill=theme.soft))
    parts.append(svg.text(0, 0.95 * size, y_name, fill=theme.soft))
    return svg.group(*parts, font_size=size, fill=theme.ink)


def key_lines(lines: Sequence[KeyLine], y: float, theme: Theme, across: float) -> tuple[str, float]:
    """Draw a key from `y` downward, words wrapped; return it and where it ends."""
    size = theme.text_size
    left = SWATCH * size
    parts = []
    for line in lines:
        parts.append(line.sample(0.0, left - 0.7 * size, y + 0.65 * size))
        for words in wrapped(line.words, across - left, theme):
            parts.append(svg.text(left, y + size, words, fill=theme.ink))
            y += 1.3 * size
        y += 0.25 * size
    return svg.group(*parts, font_size=size, class_="key"), y


def stroke_sample(**style: str | float | None) -> Callable[[float, float, float], str]:
    """Return what draws a piece of a line for a key."""
    return lambda x0, x1, y: svg.line(x0, y, x1, y, **style)


def hatch_sample(theme: Theme) -> Callable[[float, float, float], str]:
    """Return what draws a hatched piece for a key."""
    tall = 0.8 * theme.text_size
    return lambda x0, x1, y: hatched(x0, y - tall / 2, x1 - x0, tall, stroke=theme.soft)


def letter_sample(letter: str, theme: Theme) -> Callable[[float, float, float], str]:
    """Return what draws a letter in its ring for a key."""
    return lambda x0, x1, y: lettered((x0 + x1) / 2, y, letter, theme)


def lettered(x: float, y: float, letter: str, theme: Theme) -> str:
    """Draw a letter in a ring of paper."""
    size = theme.text_size
    return svg.group(
        svg.element("circle", cx=x, cy=y, r=0.62 * size, fill=theme.paper, stroke=theme.ink, stroke_width=1.1),
        svg.text(
            x, y + 0.28 * size, letter, text_anchor="middle", font_size=0.8 * size, font_weight="600", fill=theme.ink
        ),
    )
