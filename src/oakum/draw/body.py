"""The body to scale, seen from the front (elevation, x and z) and from above (plan, x and y).

Shown are the outlines of all parts by role, the water line, the centres and hanging points with their P5 to
P95 clouds, the overall dimensions and a scale bar. Hidden lines of one part are left out, parts do not hide
each other.
"""

from __future__ import annotations

from oakum.draw import svg
from oakum.draw.body_frame import Frame, below, side_dimension
from oakum.draw.body_lines import Pieces, bodies
from oakum.draw.body_marks import PointMark, legend, point_marks, point_words, spread_out, water_line
from oakum.draw.outline import ELEVATION, PLAN, View
from oakum.draw.parts import drawn_parts
from oakum.draw.rows import Rows, spread_figures
from oakum.draw.scale import POINTS_PER_METRE, length_words, print_scale
from oakum.draw.theme import PAGE, Theme
from oakum.lift.weights.report import WeightReport

_TALLEST = 0.8  # of the width


def elevation(
    report: WeightReport,
    *,
    height_m: float | None = None,
    theme: Theme = PAGE,
    width: float | None = None,
    scale: int | None = None,
    with_legend: bool = True,
    key: str = "elevation",
) -> str:
    """Draw the body from the front.

    `height_m` is the height of the body's lowest point above the water (negative: below), as in the
    emergence curve; None draws no water. `scale` is the denominator of a print scale (one unit is one point);
    None fills the width. Raises `DrawingError` where the body does not fit at that scale.
    """
    return _drawing(report, ELEVATION, height_m, theme, width, scale, with_legend, key)


def plan(
    report: WeightReport,
    *,
    theme: Theme = PAGE,
    width: float | None = None,
    scale: int | None = None,
    with_legend: bool = True,
    key: str = "plan",
) -> str:
    """Draw the body from above; the hook must be over the hanging points."""
    return _drawing(report, PLAN, None, theme, width, scale, with_legend, key)


def body_rows(report: WeightReport) -> Rows:
    """Return the places of all centres and hanging points, likely and from P5 to P95."""
    lines = []
    for mark in point_marks(report):
        cells = []
        for spread in (mark.centre.x_m, mark.centre.y_m, mark.centre.z_m):
            low, best, high = spread_figures(spread)
            cells.append(best if low == high else f"{best} ({low} to {high})")
        lines.append((f"{mark.tag}: {mark.name}", *cells))
    head = ("point", "along, x (m)", "across, y (m)", "up, z (m)")
    return Rows("Centres and hanging points, likely (P5 to P95)", head, tuple(lines))


def extent_m(report: WeightReport) -> tuple[float, float, float]:
    """Return the overall length (x), width (y) and height (z) of everything that is drawn, metres."""
    (x0, z0), (x1, z1) = _bounds(drawn_parts(report.body, ELEVATION))
    (_, y0), (_, y1) = _bounds(drawn_parts(report.body, PLAN))
    return x1 - x0, y1 - y0, z1 - z0


def sheet_scale(report: WeightReport, *, width_pt: float, height_pt: float) -> int:
    """Return the one print scale at which elevation and plan each fit into the room, points."""
    long, across, tall = extent_m(report)
    by_width = print_scale(long, width_pt / POINTS_PER_METRE)
    return max(by_width, print_scale(max(across, tall), height_pt / POINTS_PER_METRE))


def _bounds(pieces: Pieces) -> tuple[tuple[float, float], tuple[float, float]]:
    if not pieces:
        raise svg.DrawingError("a body without parts cannot be drawn: add a part")
    low = tuple(min(o.low[i] for _, o in pieces) for i in (0, 1))
    high = tuple(max(o.high[i] for _, o in pieces) for i in (0, 1))
    return (low[0], low[1]), (high[0], high[1])


def _drawing(
    report: WeightReport,
    view: View,
    height_m: float | None,
    theme: Theme,
    width: float | None,
    scale: int | None,
    with_legend: bool,
    key: str,
) -> str:
    pieces = drawn_parts(report.body, view)
    low, high = _bounds(pieces)
    across, size = width or theme.width, theme.text_size
    left, top = 3.2 * size, (3.4 if height_m is None else 4.9) * size
    room = across - left - 1.5 * size
    span = max(high[0] - low[0], 1e-6), max(high[1] - low[1], 1e-6)
    k = POINTS_PER_METRE / scale if scale else min(room / span[0], _TALLEST * across / span[1])
    if span[0] * k > room + 1.0:
        fits = print_scale(span[0], room / POINTS_PER_METRE)
        raise svg.DrawingError(f"{length_words(span[0])} do not fit at 1:{scale}; take 1:{fits}")
    frame = Frame(k, left + max(0.0, (room - span[0] * k) / 2), top, low, high)
    marks = point_marks(report)
    roles = tuple(dict.fromkeys(piece.role for piece, _ in pieces))
    under = frame.bottom + 1.2 * size
    bar, bar_height = below(frame, theme, under, across, scale)
    words, words_height = "", 0.0
    if with_legend:
        outside = _outside(marks, view, frame)
        words, words_height = legend(roles, marks, outside, theme, across, under + bar_height)
    water = ("", "")
    if height_m is not None:
        surface = frame.at((0.0, low[1] - height_m))[1]
        water = water_line(height_m, surface, frame.top, frame.bottom, across, theme)
    title = f"{report.title}: {'from the front' if view is ELEVATION else 'from above'}"
    return svg.document(
        across,
        under + bar_height + words_height,
        water[0],
        bodies(pieces, frame, theme),
        water[1],
        side_dimension(frame, theme),
        _points(marks, view, frame, theme, across),
        bar,
        words,
        title=title,
        description=_description(report, view, span, marks, height_m),
        key=key,
        font=theme.font,
    )


def _description(
    report: WeightReport,
    view: View,
    span: tuple[float, float],
    marks: tuple[PointMark, ...],
    height_m: float | None,
) -> str:
    second = "high" if view is ELEVATION else "wide"
    said = [
        f"{len(report.body.parts)} parts, {length_words(span[0])} long and {length_words(span[1])} {second}.",
        *(f"{mark.name}: {point_words(mark, view)}." for mark in marks),
    ]
    if height_m is not None:
        side = "above" if height_m >= 0 else "below"
        said.append(f"The lowest point is {length_words(abs(height_m))} {side} the water.")
    return " ".join(said)


def _spot(mark: PointMark, view: View) -> tuple[float, float]:
    axes = (mark.centre.x_m.best, mark.centre.y_m.best, mark.centre.z_m.best)
    return axes[view.right], axes[view.up]


def _outside(marks: tuple[PointMark, ...], view: View, frame: Frame) -> frozenset[str]:
    """Return the tags of the points too far from the body for this drawing."""
    slack = 1.2 / frame.k * 12
    return frozenset(
        mark.tag
        for mark in marks
        for spot in [_spot(mark, view)]
        if any(not frame.low[i] - slack <= spot[i] <= frame.high[i] + slack for i in (0, 1))
    )


def _points(marks: tuple[PointMark, ...], view: View, frame: Frame, theme: Theme, across: float) -> str:
    """Draw each point with its cloud and a leader up to its letter; the letters never overlap."""
    size = theme.text_size
    outside = _outside(marks, view, frame)
    inside = sorted((m for m in marks if m.tag not in outside), key=lambda m: _spot(m, view)[0])
    pitch = 1.7 * size
    columns = spread_out([frame.at(_spot(m, view))[0] for m in inside], pitch, size, across - size)
    drawn = []
    for mark, column in zip(inside, columns, strict=True):
        x, y = frame.at(_spot(mark, view))
        drawn.append(_cloud(mark, view, frame, theme))
        drawn.append(svg.line(column, frame.top - 1.85 * size, x, y, stroke=theme.soft, stroke_width=0.5))
        drawn.append(mark.symbol(x, y, theme))
        drawn.append(
            svg.text(
                column,
                frame.top - 2.15 * size,
                mark.tag,
                text_anchor="middle",
                font_weight="600",
                font_size=size,
                fill=theme.ink,
            )
        )
    return svg.group(*drawn, class_="points")


def _cloud(mark: PointMark, view: View, frame: Frame, theme: Theme) -> str:
    """Draw the P5 to P95 ellipse, cut to the paper by its half axes."""
    spreads = (mark.centre.x_m, mark.centre.y_m, mark.centre.z_m)
    right, up = spreads[view.right], spreads[view.up]
    cx, cy = frame.at(((right.p5 + right.p95) / 2, (up.p5 + up.p95) / 2))
    rx, ry = ((s.p95 - s.p5) / 2 * frame.k for s in (right, up))
    if max(rx, ry) < 0.5 or max(rx, ry) > 4 * max(frame.width, frame.height):
        return ""
    return svg.element(
        "ellipse",
        cx=cx,
        cy=cy,
        rx=max(rx, 0.4),
        ry=max(ry, 0.4),
        fill=theme.signal,
        fill_opacity=0.12,
        stroke=theme.signal,
        stroke_width=0.7,
        stroke_dasharray=mark.dash,
    )
