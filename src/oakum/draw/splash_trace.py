"""One sea of many, followed in time: line force with its slack, the load, and the surface."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from oakum.draw import svg
from oakum.draw.forces import per_kg, unit_words
from oakum.draw.hatch import hatched
from oakum.draw.plot import KeyLine, grid, key_lines, stroke_sample
from oakum.draw.rows import Rows, figure
from oakum.draw.scale import Axis, axis
from oakum.draw.theme import PAGE, Theme
from oakum.ground.gravity import G_M_S2
from oakum.lift.splash import Trace

Array = NDArray[np.float64]
_POINTS = 900  # as many as a page can show


def trace_drawing(
    trace: Trace,
    member: int = 0,
    *,
    cell_unit: str = "kg",
    around_s: float | None = None,
    theme: Theme = PAGE,
    width: float | None = None,
    key: str = "splash-trace",
) -> str:
    """Draw one sea: line force over time, hatched where it is slack, and under it body and surface.

    `around_s`: only so much of it, about its greatest line force.
    """
    trace = trace if around_s is None else _about(trace, member, around_s)
    across, size = width or theme.width, theme.text_size
    time, line, body, surface = _thinned(trace, member)
    line = line * per_kg(cell_unit) / G_M_S2
    first = axis(0.0, float(line.max()) or 1.0, 2.0 * size + 0.28 * across, 2.0 * size, count=4)
    top = first.start + 4.6 * size
    heights = np.concatenate([body, surface])
    second = axis(float(heights.min()), float(heights.max()), top + 0.26 * across, top, count=4)
    widest = max((a.label(t) for a in (first, second) for t in a.ticks), key=len)
    x = axis(
        float(time[0]), float(time[-1]), theme.text_width(widest) + 0.8 * size, across - 0.6 * size, count=6, tight=True
    )
    slack = _spans(time, line <= 1e-9 * max(float(line.max()), 1.0))
    parts = [
        grid(x, first, "", f"line force, {unit_words(cell_unit)}", theme, across),
        svg.group(*(
            hatched(x.at(a), first.end, max(x.at(b) - x.at(a), 1.0), first.start - first.end, stroke=theme.signal,
                    pitch=3.0)
            for a, b in slack
        ), class_="slack"),
        _run(time, line, x, first, theme.ink, 1.1),
        grid(x, second, "time, s", "", theme, across),
        svg.text(0, top - 1.0 * size, "height over the mean water, m", font_size=size, fill=theme.soft),
        _run(time, surface, x, second, theme.water, 0.9, "3 1.5"),
        _run(time, body, x, second, theme.ink, 1.3),
    ]  # fmt: skip
    drawn_key, end = key_lines(_trace_key(bool(slack), theme), second.start + 3.6 * size, theme, across)
    loose = sum(b - a for a, b in slack)
    return svg.document(
        across,
        end + 0.2 * size,
        *parts,
        drawn_key,
        title="One sea of the many, followed in time",
        description=(
            f"Greatest line force {figure(float(line.max()))} {unit_words(cell_unit)}, least "
            f"{figure(float(line.min()))}; slack for {figure(loose)} s of {figure(float(time[-1] - time[0]))} s."
        ),
        key=key,
        font=theme.font,
    )


def trace_rows(trace: Trace, member: int = 0, cell_unit: str = "kg", *, most: int = 24) -> Rows:
    """Return one sea at a few evenly spread moments."""
    picks = np.unique(np.linspace(0, len(trace.time_s) - 1, most).round().astype(int))
    factor = per_kg(cell_unit) / G_M_S2
    lines = tuple(
        (
            f"{trace.time_s[i]:.1f}",
            figure(float(trace.line_n[i, member]) * factor),
            f"{trace.height_m[i, member]:.2f}",
            f"{trace.surface_m[i, member]:.2f}",
        )
        for i in picks
    )
    head = ("time, s", f"line force, {unit_words(cell_unit)}", "lowest point, m", "surface, m")
    return Rows("One sea of the many", head, lines)


def _trace_key(is_slack: bool, theme: Theme) -> list[KeyLine]:
    size = theme.text_size
    found = [
        KeyLine("lowest point of the load", stroke_sample(stroke=theme.ink, stroke_width=1.3)),
        KeyLine("surface", stroke_sample(stroke=theme.water, stroke_width=0.9, stroke_dasharray="3 1.5")),
    ]
    if is_slack:
        found.insert(
            0,
            KeyLine(
                "slack line",
                lambda x0, x1, y: hatched(x0, y - 0.4 * size, x1 - x0, 0.8 * size, stroke=theme.signal, pitch=3.0),
            ),
        )
    return found


def _run(time: Array, values: Array, x: Axis, y: Axis, stroke: str, width: float, dash: str | None = None) -> str:
    chain = [(x.at(float(t)), y.at(float(v))) for t, v in zip(time, values, strict=True)]
    return svg.polyline(
        chain, fill="none", stroke_linejoin="round", stroke=stroke, stroke_width=width, stroke_dasharray=dash
    )


def _about(trace: Trace, member: int, span_s: float) -> Trace:
    """Return a stretch of a run about its greatest line force, as far as the run goes."""
    time = trace.time_s
    middle = float(time[int(np.argmax(trace.line_n[:, member]))])
    start = max(float(time[0]), min(middle - 0.5 * span_s, float(time[-1]) - span_s))
    kept = (time >= start) & (time <= start + span_s)
    return Trace(time[kept], trace.line_n[kept], trace.height_m[kept], trace.surface_m[kept], trace.held_kg[kept])


def _thinned(trace: Trace, member: int) -> tuple[Array, Array, Array, Array]:
    """Return time, line, body and surface at no more moments than can be seen; of the line every extreme is kept."""
    n = len(trace.time_s)
    if n <= _POINTS:
        return trace.time_s, trace.line_n[:, member], trace.height_m[:, member], trace.surface_m[:, member]
    runs = np.array_split(np.arange(n), _POINTS // 2)
    line = trace.line_n[:, member]
    picks = np.unique([i for run in runs for i in (run[np.argmin(line[run])], run[np.argmax(line[run])])])
    return trace.time_s[picks], line[picks], trace.height_m[picks, member], trace.surface_m[picks, member]


def _spans(time: Array, is_on: NDArray[np.bool_]) -> list[tuple[float, float]]:
    """Return the stretches of time in which something holds."""
    edges = np.diff(np.concatenate([[0], is_on.astype(int), [0]]))
    starts, ends = np.flatnonzero(edges == 1), np.flatnonzero(edges == -1) - 1
    return [(float(time[a]), float(time[b])) for a, b in zip(starts, ends, strict=True)]
