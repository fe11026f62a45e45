"""The numbers behind a drawing as a table, and how figures are written."""

from __future__ import annotations

from dataclasses import dataclass

from oakum.draw.scale import decimals
from oakum.ground.estimate import Spread
from oakum.ground.estimate.wording import figures, places_for, plain


@dataclass(frozen=True, slots=True)
class Rows:
    """A small table of text: what it shows, its head, and its lines. The first column names the line."""

    caption: str
    head: tuple[str, ...]
    lines: tuple[tuple[str, ...], ...]


def figure(value: float) -> str:
    """Write a figure as a table shows it: whole above 100, else about three digits.

    >>> figure(1710.3), figure(44.37), figure(0.05234), figure(-0.0001)
    ('1,710', '44.4', '0.052', '0.000')
    """
    size = abs(value)
    return decimals(value, 0 if size >= 99.95 else 1 if size >= 9.995 else 2 if size >= 0.9995 else 3)


def spread_figures(spread: Spread) -> tuple[str, str, str]:
    """Write low (P5), likely (median) and high (P95) to the figures that their width supports.

    The rule is that of `Spread.words`, so that a table and a sentence never differ.
    """
    if spread.is_exact:
        return (plain(spread.best),) * 3
    places = places_for(0.5 * (spread.p95 - spread.p5))
    if spread.unit == "m":
        places = min(places, 3)  # a tape reads no finer than a millimetre
    return figures(spread.p5, places), figures(spread.best, places), figures(spread.p95, places)
