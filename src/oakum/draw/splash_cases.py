"""The load cases of the splash zone from below up: where the surface stands on the body, and what the line carries."""

from __future__ import annotations

import math
from collections.abc import Sequence

from oakum.draw import svg
from oakum.draw.bars import percent
from oakum.draw.forces import per_kg, reading, unit_words
from oakum.draw.halo import haloed
from oakum.draw.plot import KeyLine, key_lines, stroke_sample
from oakum.draw.rows import Rows
from oakum.draw.scale import Axis, axis, decimals
from oakum.draw.theme import PAGE, Theme
from oakum.draw.wrap import wrapped
from oakum.ground.gravity import G_M_S2
from oakum.lift.splash import CaseLine, Part, SimplifiedAnswer, SplashBody
from oakum.lift.splash.rules import SLACK_SHARE

MOST = 8
"""Cases that are drawn; the table has them all."""
_BODY = 0.2  # of the width, for the body
_BEYOND = 1.6  # a snap may lengthen the axis by so much


def splash_cases(
    answer: SimplifiedAnswer,
    *,
    body: SplashBody | None = None,
    bears_kg: float | None = None,
    cell_unit: str = "kg",
    most: int = MOST,
    theme: Theme = PAGE,
    width: float | None = None,
    key: str = "splash-cases",
) -> str:
    """Draw the cases of one sea, the first to leave the water on top.

    A box is the still load with its spread, the line through it what the waves make of it. `bears_kg` is what hook
    and all under it bear at the radius used. Raises `DrawingError` where nothing could be computed.
    """
    if not answer.cases:
        raise svg.DrawingError("; ".join(answer.objections) or "no load case could be computed")
    across, size = width or theme.width, theme.text_size
    shown = sorted(hardest(answer, most), key=lambda c: c.water_line_m)[::-1]
    left = (_BODY * across + 1.6 * size) if body is not None else 0.0
    x = _forces(shown, bears_kg, cell_unit, left, across - 0.4 * size)
    top = 2.9 * size
    rows, tops, bottom = [], [], top
    for case in shown:
        tops.append(bottom)
        drawn, tall = _case(case, bottom, x, cell_unit, theme, across)
        rows.append(drawn)
        bottom += tall
    figures = _axis(x, bottom, cell_unit, bears_kg, top, theme, across)
    below = bottom + 3.4 * size
    drawn_key, end = key_lines(_key(shown, body is not None, theme), below, theme, across)
    middles = [y + tall_to_bar for y, tall_to_bar in zip(tops, _bar_offsets(shown, x, theme, across), strict=True)]
    return svg.document(
        across,
        end + 0.2 * size,
        figures,
        _body(body, shown, middles, top, bottom, _BODY * across, left, theme) if body is not None else "",
        svg.group(*rows, font_size=size, class_="cases"),
        drawn_key,
        title=f"Load cases through the surface, Hs {answer.hs_m:.2f} m",
        description=_said(answer, cell_unit, len(shown)),
        key=key,
        font=theme.font,
    )


def splash_rows(answer: SimplifiedAnswer, cell_unit: str = "kg") -> Rows:
    """Return every case with what its forces are made of, from below up."""
    unit = unit_words(cell_unit)

    def of(force_n: float) -> str:
        return reading(force_n / G_M_S2, cell_unit)

    lines = tuple(
        (
            c.title,
            f"{c.tz_s:.3g}",
            f"{of(c.static_least_n)} to {of(c.static_most_n)}",
            f"{of(c.slam_n)}; {of(c.mass_n)}; {of(c.drag_n)}; {of(c.buoyancy_n)}",
            of(c.hydro_n),
            _share(c),
            of(c.greatest_n),
            _snap_words(c, cell_unit),
        )
        for c in answer.cases
    )
    head = (
        "case", "worst Tz, s", f"still, {unit}", f"slam; mass; drag; buoyancy, {unit}", f"waves together, {unit}",
        "waves over least still load", f"greatest, {unit}", f"snap, {unit}",
    )  # fmt: skip
    return Rows(f"Load cases from below up, Hs {answer.hs_m:.2f} m", head, lines)


def hardest(answer: SimplifiedAnswer, most: int = MOST) -> list[CaseLine]:
    """Return at most this many cases in their order: those nearest to a slack line and with the greatest pull."""
    by_slack = sorted(answer.cases, key=lambda c: -c.slack_ratio)
    by_pull = sorted(answer.cases, key=lambda c: -max(c.greatest_n, c.snap_n or 0.0))
    kept: list[CaseLine] = []
    for pair in zip(by_slack, by_pull, strict=True):
        for case in pair:
            if case not in kept and len(kept) < most:
                kept.append(case)
    return [c for c in answer.cases if c in kept]


def _snap_words(case: CaseLine, cell_unit: str) -> str:
    if case.snap_n is not None:
        return reading(case.snap_n / G_M_S2, cell_unit)
    return "not known" if case.slack_ratio > SLACK_SHARE else "none"


def _share(case: CaseLine) -> str:
    return percent(case.slack_ratio) if math.isfinite(case.slack_ratio) else "floats"


def _kg(force_n: float, factor: float) -> float:
    return force_n / G_M_S2 * factor


def _forces(shown: Sequence[CaseLine], bears_kg: float | None, unit: str, start: float, end: float) -> Axis:
    factor = per_kg(unit)
    usual = [_kg(c.greatest_n, factor) for c in shown] + ([] if bears_kg is None else [bears_kg * factor])
    high = max(usual)
    snaps = [_kg(c.snap_n, factor) for c in shown if c.snap_n is not None]
    if snaps:
        high = min(max(high, *snaps), _BEYOND * high)
    low = min(0.0, *(_kg(c.static_least_n - c.hydro_n, factor) for c in shown))
    return axis(max(low, -0.6 * high), high, start, end, count=4)


def _titles(case: CaseLine, x: Axis, theme: Theme, across: float) -> list[str]:
    room = across - x.start - theme.text_width(f"{_share(case)} slack") - theme.text_size
    return wrapped(case.title, room, theme, most=2)


def _bar_offsets(shown: Sequence[CaseLine], x: Axis, theme: Theme, across: float) -> list[float]:
    return [(1.25 * len(_titles(c, x, theme, across)) + 0.65) * theme.text_size for c in shown]


def _case(case: CaseLine, y: float, x: Axis, unit: str, theme: Theme, across: float) -> tuple[str, float]:
    size, factor = theme.text_size, per_kg(unit)
    titles = _titles(case, x, theme, across)
    slack = case.slack_ratio > SLACK_SHARE
    middle = y + (1.25 * len(titles) + 0.65) * size
    least, most = (_kg(v, factor) for v in (case.static_least_n, case.static_most_n))
    low = _kg(case.static_least_n - case.hydro_n, factor)
    ends = [x.at(min(max(v, x.low), x.high)) for v in (low, _kg(case.greatest_n, factor))]
    tone = theme.signal if slack else theme.ink
    parts = [haloed(x.start, y + (1 + 1.25 * i) * size, line, theme) for i, line in enumerate(titles)]
    share = f"{_share(case)} slack" if slack else _share(case)
    parts.append(
        haloed(across, y + size, share, theme, text_anchor="end", fill=tone, font_weight="600" if slack else None)
    )
    parts += [
        svg.line(ends[0], middle, ends[1], middle, stroke=tone, stroke_width=1.3),
        *(svg.line(e, middle - 0.35 * size, e, middle + 0.35 * size, stroke=tone, stroke_width=1.3) for e in ends),
        svg.element(
            "rect", x=x.at(least), y=middle - 0.35 * size, width=max(x.at(most) - x.at(least), 1.6),
            height=0.7 * size, fill=theme.water, fill_opacity=0.75, stroke=theme.paper, stroke_width=0.5,
        ),
    ]  # fmt: skip
    if case.snap_n is not None:
        parts.append(_snap(_kg(case.snap_n, factor), ends[1], middle, x, theme))
    return svg.group(*parts), middle - y + 0.95 * size


def _snap(value: float, start: float, y: float, x: Axis, theme: Theme) -> str:
    """Draw the peak of a snap, or an arrow to it where it lies beyond the drawing."""
    size = theme.text_size
    inside = value <= x.high
    place = x.at(value) if inside else x.end
    a = 0.38 * size
    mark = (
        [(place - a, y), (place, y - a), (place + a, y), (place, y + a)]
        if inside
        else [(place - 1.4 * a, y - a), (place, y), (place - 1.4 * a, y + a)]
    )
    return svg.group(
        svg.line(start, y, place, y, stroke=theme.signal, stroke_width=1.1, stroke_dasharray="2 2"),
        svg.polyline(mark, close=True, fill=theme.signal, stroke=theme.signal),
        class_="snap",
    )


def _axis(
    x: Axis, base: float, unit: str, bears_kg: float | None, top: float, theme: Theme, across: float
) -> str:
    size = theme.text_size
    parts = [
        svg.line(x.at(t), top - 0.2 * size, x.at(t), base, stroke=theme.ink if t == 0 else theme.rule,
                 stroke_width=0.9 if t == 0 else 0.5)
        for t in x.ticks
    ]  # fmt: skip
    for t in x.ticks:
        half = theme.text_width(x.label(t)) / 2
        parts.append(
            svg.text(min(max(x.at(t), half), across - half), base + 1.3 * size, x.label(t), text_anchor="middle")
        )
    parts.append(
        svg.text(across, base + 2.6 * size, f"line force as the load cell reads it, {unit_words(unit)}",
                 text_anchor="end", fill=theme.soft)
    )  # fmt: skip
    parts.append(
        svg.text(across, 1.0 * size, "waves over least still load; slack over 90 %", text_anchor="end", fill=theme.soft)
    )
    if bears_kg is not None:
        place = x.at(bears_kg * per_kg(unit))
        words = f"hook bears {reading(bears_kg, unit)} {unit_words(unit)}"
        half = 0.55 * theme.text_width(words)
        parts += [
            svg.line(place, top - 0.4 * size, place, base, stroke=theme.ink, stroke_width=1.4, stroke_dasharray="8 2"),
            svg.text(
                min(max(place, x.start + half), across - half), 2.25 * size, words, text_anchor="middle",
                font_weight="600",
            ),
        ]  # fmt: skip
    return svg.group(*parts, font_size=size, fill=theme.ink)


def _body(
    body: SplashBody,
    shown: Sequence[CaseLine],
    middles: Sequence[float],
    top: float,
    bottom: float,
    width: float,
    left: float,
    theme: Theme,
) -> str:
    """Draw the parts of the body as boxes, heights to scale, with the surface of every case and its leader."""
    wide = max(_width_m(p) for p in body.parts)
    scale, across = 0.62 * (bottom - top) / body.height_m, 0.8 * width / wide
    middle, foot = width / 2, (top + bottom) / 2 + scale * body.height_m / 2
    parts = []
    for part in sorted(body.parts, key=lambda p: -_width_m(p) * p.height_m):
        w, h = across * _width_m(part), max(scale * part.height_m, 1.0)
        parts.append(
            svg.element(
                "rect", x=middle - w / 2, y=foot - scale * part.top_m, width=w, height=h, fill=theme.paper,
                fill_opacity=0.6, stroke=theme.ink, stroke_width=1.0,
            )
        )  # fmt: skip
    for case, row in zip(shown, middles, strict=True):
        level = foot - scale * case.water_line_m
        slack = case.slack_ratio > SLACK_SHARE
        tone = theme.signal if slack else theme.water
        parts.append(
            svg.polyline(
                [(0.0, level), (width, level), (left - 0.5 * theme.text_size, row)],
                fill="none", stroke=tone, stroke_width=1.0, stroke_dasharray=None if slack else "5 2",
            )
        )  # fmt: skip
    return svg.group(*parts, class_="body")


def _width_m(part: Part) -> float:
    return max(math.sqrt(max(part.plan_m2, part.waterplane_m2)), 0.02)


def _key(shown: Sequence[CaseLine], with_body: bool, theme: Theme) -> list[KeyLine]:
    size = theme.text_size

    def still(x0: float, x1: float, y: float) -> str:
        return svg.element(
            "rect", x=x0, y=y - 0.3 * size, width=x1 - x0, height=0.6 * size, fill=theme.water, fill_opacity=0.75
        )

    def snap(x0: float, x1: float, y: float) -> str:
        a, m = 0.38 * size, (x0 + x1) / 2
        return svg.polyline([(m - a, y), (m, y - a), (m + a, y), (m, y + a)], close=True, fill=theme.signal)

    def surface(x0: float, x1: float, y: float) -> str:
        return svg.line(x0, y, x1, y, stroke=theme.water, stroke_width=1.0, stroke_dasharray="5 2")

    ground = KeyLine("surface on the body; its heights to scale, its widths by plan area", surface)
    found = [ground] if with_body else []
    found += [
        KeyLine("still load, least to most", still),
        KeyLine("what the waves make of it", stroke_sample(stroke=theme.ink, stroke_width=1.3)),
    ]
    if any(c.slack_ratio > SLACK_SHARE for c in shown):
        found.append(KeyLine("line may go slack: objection", stroke_sample(stroke=theme.signal, stroke_width=1.3)))
    if any(c.snap_n is not None for c in shown):
        found.append(KeyLine("snap, as the line comes taut again; an arrow: beyond the drawing", snap))
    return found


def _said(answer: SimplifiedAnswer, unit: str, shown: int) -> str:
    worst = answer.governing
    assert worst is not None  # asked before
    peak = max(max(c.greatest_n, c.snap_n or 0.0) for c in answer.cases) / G_M_S2
    more = len(answer.cases) - shown
    said = (
        f"Hs {decimals(answer.hs_m, 2)} m. Nearest to a slack line: {worst.title}, waves {_share(worst)} of the least "
        f"still load. Greatest pull {reading(peak, unit)} {unit_words(unit)}."
    )
    return f"{said} {more} cases that are used less stand in the table." if more else said
