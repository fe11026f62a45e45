"""Many seas in time: how great and how small the line force became, and the odds of more than a value."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise
from math import ceil, log10

import numpy as np
from numpy.typing import NDArray

from oakum.draw import svg
from oakum.draw.forces import in_unit, per_kg, reading, unit_words
from oakum.draw.halo import haloed
from oakum.draw.hatch import hatched
from oakum.draw.plot import KeyLine, LogAxis, grid, key_lines, stroke_sample
from oakum.draw.rows import Rows, figure, spread_figures
from oakum.draw.scale import Axis, axis
from oakum.draw.theme import PAGE, Theme
from oakum.ground.estimate import Spread
from oakum.ground.gravity import G_M_S2
from oakum.lift.splash import Counted, Odds, clopper_pearson

Array = NDArray[np.float64]
_BINS = 28
_ODDS_AT = 60


def extremes(
    found: Counted,
    title: str,
    *,
    bears_kg: float | None = None,
    cell_unit: str = "kg",
    theme: Theme = PAGE,
    width: float | None = None,
    key: str | None = None,
) -> str:
    """Draw how many seas brought which least and which greatest line force, and under it the odds to exceed one.

    The band of the odds is the interval of Clopper and Pearson at 95 %.
    """
    across, size = width or theme.width, theme.text_size
    factor = per_kg(cell_unit) / G_M_S2
    least, greatest = found.least_n * factor, found.greatest_n * factor
    bears = None if bears_kg is None else bears_kg * per_kg(cell_unit)
    high = max(float(greatest.max()), bears or 0.0)
    left = theme.text_width("0.01") + 0.8 * size
    x = axis(min(0.0, float(least.min())), high, left, across - 0.4 * size, count=5)
    edges = np.linspace(x.low, x.high, _BINS + 1)
    counts = [np.histogram(values, edges)[0] for values in (least, greatest)]
    first = axis(0.0, max(float(c.max()) for c in counts), 2.0 * size + 0.3 * across, 2.0 * size, count=3)
    top = first.start + 4.6 * size
    second = _percents(found.members, top + 0.3 * across, top)
    unit = unit_words(cell_unit)
    name = f"line force as the load cell reads it, {unit}"
    parts = [
        grid(x, first, "", f"seas of {found.members:,}", theme, across),
        _bars(counts[0], edges, x, first, theme, is_hatched=True),
        _bars(counts[1], edges, x, first, theme, is_hatched=False),
        svg.group(
            grid(x, second, name, "", theme, across),
            svg.text(0, top - 1.0 * size, "odds of more in one sea, %", font_size=size, fill=theme.soft),
            class_="odds",
        ),
        _odds_band(greatest, x, second, theme),
    ]
    if bears is not None:
        parts.append(_bears(bears, bears_kg or 0.0, cell_unit, x, first, second, theme, across))
    drawn_key, end = key_lines(_key(theme), second.start + 3.6 * size, theme, across)
    return svg.document(
        across,
        end + 0.2 * size,
        *parts,
        drawn_key,
        title=f"Greatest and least line force, {title}",
        description=" ".join(f"{line}." for line in extreme_lines(found, bears_kg, cell_unit)),
        key=key or f"splash-time-{title}",
        font=theme.font,
    )


def extreme_lines(found: Counted, bears_kg: float | None = None, cell_unit: str = "kg") -> tuple[str, ...]:
    """Say greatest and least force, the odds of a slack line and of more than the hook bears, and the snaps."""
    said = [
        f"greatest line force {in_unit(found.greatest, cell_unit).words()}",
        f"least line force {in_unit(found.least, cell_unit).words()}",
        f"the line goes slack {found.odds_slack().words}",
    ]
    if bears_kg is None:
        said.append("not known what the hook bears at this radius, so no odds of more are given")
    else:
        odds = found.odds_over(bears_kg * G_M_S2)
        said.append(f"more than the {reading(bears_kg, cell_unit)} {unit_words(cell_unit)} the hook bears {odds.words}")
    snaps = int(found.snaps.sum())
    if snaps:
        word = "snap" if snaps == 1 else "snaps"
        said.append(f"{snaps:,} {word} in all, at most {int(found.snaps.max())} in one sea")
    return tuple(said)


def extreme_rows(
    done: Sequence[tuple[str, Counted]], bears_kg: float | None = None, cell_unit: str = "kg"
) -> Rows:
    """Return forces and odds, a column an operation, each given with its words."""
    unit = unit_words(cell_unit)

    def force(spread: Spread) -> str:
        low, best, high = spread_figures(in_unit(spread, cell_unit))
        return f"{best} ({low} to {high})"

    def over(found: Counted) -> str:
        return "hook not known" if bears_kg is None else _odds_words(found.odds_over(bears_kg * G_M_S2))

    made: tuple[tuple[str, Callable[[Counted], str]], ...] = (
        ("seas", lambda e: f"{e.members:,}"),
        (f"greatest line force, {unit}", lambda e: force(e.greatest)),
        (f"least line force, {unit}", lambda e: force(e.least)),
        ("odds of a slack line", lambda e: _odds_words(e.odds_slack())),
        ("odds of more than the hook bears", over),
        ("slack time, P95, s", lambda e: figure(float(np.quantile(e.slack_s, 0.95)))),
        ("most snaps in one sea", lambda e: f"{int(e.snaps.max())}"),
    )
    return Rows(
        "Line force over many seas, likely with 9 in 10 between",
        ("what", *(title for title, _ in done)),
        tuple((name, *(write(found) for _, found in done)) for name, write in made),
    )


def _percents(members: int, start: float, end: float) -> LogAxis:
    """Return an axis from less than one sea in all of them to every sea, by powers of ten."""
    decades = max(2, ceil(log10(members)))
    ticks = tuple(10.0 ** (2 - k) for k in range(decades, -1, -1))
    return LogAxis(ticks[0], 100.0, start, end, ticks, 1.0)


def _odds_words(odds: Odds) -> str:
    if odds.count == 0:
        return f"none seen; under {100 * odds.high:.2g} %"
    return f"{100 * odds.share:.2g} % ({100 * odds.low:.2g} to {100 * odds.high:.2g} %)"


def _bars(counts: NDArray[np.int64], edges: Array, x: Axis, y: Axis, theme: Theme, *, is_hatched: bool) -> str:
    parts = []
    for count, (low, high) in zip(counts, pairwise(edges), strict=True):
        if count == 0:
            continue
        left, wide = x.at(float(low)), x.at(float(high)) - x.at(float(low))
        top = y.at(float(count))
        if is_hatched:
            parts.append(hatched(left, top, wide, y.start - top, stroke=theme.water, pitch=3.0, weight=0.8))
        parts.append(
            svg.element(
                "rect", x=left, y=top, width=wide, height=y.start - top,
                fill="none" if is_hatched else theme.ink, fill_opacity=None if is_hatched else 0.28,
                stroke=theme.water if is_hatched else theme.ink, stroke_width=0.7,
            )
        )  # fmt: skip
    return svg.group(*parts, class_="least" if is_hatched else "greatest")


def _odds_band(greatest: Array, x: Axis, y: Axis, theme: Theme) -> str:
    places = np.linspace(x.low, x.high, _ODDS_AT)
    odds = [clopper_pearson(int((greatest > p).sum()), len(greatest)) for p in places]
    upper = [(x.at(float(p)), y.at(100 * o.high)) for p, o in zip(places, odds, strict=True)]
    lower = [(x.at(float(p)), y.at(100 * o.low)) for p, o in zip(places, odds, strict=True)]
    best = [(x.at(float(p)), y.at(100 * o.share)) for p, o in zip(places, odds, strict=True)]
    return svg.group(
        svg.polyline(upper + lower[::-1], close=True, fill=theme.tone, fill_opacity=0.2, class_="band"),
        svg.paths([upper, lower], fill="none", stroke=theme.soft, stroke_width=0.6, stroke_dasharray="2 2"),
        svg.polyline(best, fill="none", stroke=theme.ink, stroke_width=1.5),
    )


def _bears(
    bears: float, bears_kg: float, unit: str, x: Axis, first: Axis, second: Axis, theme: Theme, across: float
) -> str:
    place, size = x.at(bears), theme.text_size
    words = f"hook bears {reading(bears_kg, unit)} {unit_words(unit)}"
    half = 0.55 * theme.text_width(words)
    return svg.group(
        svg.line(place, first.end - 2, place, first.start, stroke=theme.ink, stroke_width=1.4, stroke_dasharray="8 2"),
        svg.line(place, second.end, place, second.start, stroke=theme.ink, stroke_width=1.4, stroke_dasharray="8 2"),
        haloed(
            min(max(place, half), across - half), first.end - 0.4 * size, words, theme, text_anchor="middle",
            font_weight="600",
        ),
        font_size=size,
    )  # fmt: skip


def _key(theme: Theme) -> Sequence[KeyLine]:
    size = theme.text_size

    def least(x0: float, x1: float, y: float) -> str:
        box = hatched(x0, y - 0.35 * size, x1 - x0, 0.7 * size, stroke=theme.water, pitch=3.0, weight=0.8)
        return box + svg.element(
            "rect", x=x0, y=y - 0.35 * size, width=x1 - x0, height=0.7 * size, fill="none", stroke=theme.water,
            stroke_width=0.7,
        )  # fmt: skip

    def greatest(x0: float, x1: float, y: float) -> str:
        return svg.element(
            "rect", x=x0, y=y - 0.35 * size, width=x1 - x0, height=0.7 * size, fill=theme.ink, fill_opacity=0.28,
            stroke=theme.ink, stroke_width=0.7,
        )  # fmt: skip

    return (
        KeyLine("least line force of a sea; at 0 the line is slack", least),
        KeyLine("greatest line force of a sea", greatest),
        KeyLine(
            "odds that the greatest is over a value; band: 95 % interval",
            stroke_sample(stroke=theme.ink, stroke_width=1.5),
        ),
    )
