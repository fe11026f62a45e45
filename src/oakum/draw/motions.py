"""Motions of a vessel against the wave period: heave and angles, each on its own axis, gaps left open."""

from __future__ import annotations

from collections.abc import Sequence
from math import degrees, inf

from oakum.draw import svg
from oakum.draw.halo import haloed
from oakum.draw.plot import grid
from oakum.draw.rows import Rows, figure
from oakum.draw.scale import Axis, axis
from oakum.draw.theme import PAGE, Theme
from oakum.lift.vessel import Motions, ResponseTable, SeenMotions


def motions(
    table: ResponseTable, *, theme: Theme = PAGE, width: float | None = None, key: str | None = None
) -> str:
    """Draw heave above, roll and pitch below, over the periods of the table; nothing is drawn across a gap."""
    across = width or theme.width
    size = theme.text_size
    each = 0.4 * across
    down = 2.0 * each
    left = theme.text_width("00.0") + 0.8 * size
    x = axis(table.period_s[0], table.period_s[-1], left, across - 0.8 * size, count=6, tight=True)
    angles = [tuple(degrees(v) for v in table.roll_rad)]
    names = ["roll"]
    if table.pitch_rad is not None:
        angles.append(tuple(degrees(v) for v in table.pitch_rad))
        names.append("pitch")
    upper = axis(0.0, max(*table.heave, 1e-6), each - 3.4 * size, 1.6 * size, count=3)
    lower = axis(0.0, max(max(a) for a in angles) or 1e-6, each - 3.4 * size, 1.6 * size, count=3)
    colours = (theme.ink, theme.water)
    turned = [
        _series(table, values, x, lower, theme, colours[i], (None, "6 2.5")[i], name)
        for i, (values, name) in enumerate(zip(angles, names, strict=True))
    ]
    return svg.document(
        across,
        down,
        grid(x, upper, "wave period, s", "heave, m per m of wave amplitude", theme, across),
        _series(table, table.heave, x, upper, theme, theme.ink, None, ""),
        svg.group(
            grid(
                x, lower, "wave period, s", f"{' and '.join(names)}, ° per m of wave amplitude", theme, across
            ),
            *turned,
            transform=f"translate(0 {svg.number(each)})",
        ),
        title=f"Motions: {table.name}, {table.heading}",
        description=_words(table),
        key=key or f"motions-{table.name}",
        font=theme.font,
    )


def motions_rows(table: Motions) -> Rows:
    """Return the table as it was taken, or what was seen, with the gaps."""
    if isinstance(table, SeenMotions):
        return _seen_rows(table)
    head = ["period (s)", "heave (m/m)", "roll (°/m)"]
    if table.pitch_rad is not None:
        head.append("pitch (°/m)")
    lines: list[tuple[float, tuple[str, ...]]] = []
    for i, period in enumerate(table.period_s):
        line = [figure(table.heave[i]), figure(degrees(table.roll_rad[i]))]
        if table.pitch_rad is not None:
            line.append(figure(degrees(table.pitch_rad[i])))
        lines.append((period, (f"{period:g}", *line)))
    lines += [(gap, (f"{gap:g}", *["not given"] * (len(head) - 1))) for gap in table.gaps_s]
    caption = f"Motions, {table.heading}: single amplitudes per metre of wave amplitude"
    return Rows(caption, tuple(head), tuple(line for _, line in sorted(lines)))


def _seen_rows(table: SeenMotions) -> Rows:
    lines = []
    for s in table.seen:
        pitch = "not given" if s.pitch_deg is None else f"{figure(s.pitch_deg)}° in {s.pitch_period_s:g} s"
        lines.append(
            (
                f"Hs {s.hs_m:g} m, Tz {s.tz_s:g} s",
                f"{figure(s.heave_m)} m in {s.heave_period_s:g} s",
                f"{figure(s.roll_deg)}° in {s.roll_period_s:g} s",
                pitch,
            )
        )
    return Rows(
        f"Motions seen, {table.heading}: greatest, to one side",
        ("sea", "heave", "roll", "pitch"),
        tuple(lines),
    )


def _series(
    table: ResponseTable,
    values: Sequence[float],
    x: Axis,
    y: Axis,
    theme: Theme,
    colour: str,
    dash: str | None,
    name: str,
) -> str:
    runs = _runs(table, values)
    chains = [[(x.at(p), y.at(v)) for p, v in run] for run in runs]
    points = [point for chain in chains for point in chain]
    top = max(points, key=lambda point: -point[1]) if dash is None else points[-1]
    dots = [
        svg.element("circle", cx=a, cy=b, r=2.2, fill=theme.paper, stroke=colour, stroke_width=1.1)
        for chain in chains
        for a, b in chain
    ]
    right = top[0] > 0.75 * x.end
    words = ""
    if name:
        words = haloed(
            top[0] + (-6 if right else 6),
            top[1] + (0.35 if dash is None else -0.5) * theme.text_size,
            name,
            theme,
            text_anchor="end" if right else "start",
            fill=colour,
        )
    long = [chain for chain in chains if len(chain) > 1]
    line = (
        svg.paths(long, fill="none", stroke=colour, stroke_width=1.5, stroke_dasharray=dash) if long else ""
    )
    return svg.group(line, *dots, *([words] if words else []), font_size=theme.text_size)


def _runs(table: ResponseTable, values: Sequence[float]) -> list[list[tuple[float, float]]]:
    """Return the points in runs that end at a gap."""
    runs: list[list[tuple[float, float]]] = [[]]
    before = -inf
    for period, value in zip(table.period_s, values, strict=True):
        if any(before < gap < period for gap in table.gaps_s) and runs[-1]:
            runs.append([])
        runs[-1].append((period, value))
        before = period
    return runs


def _words(table: ResponseTable) -> str:
    most = max(range(len(table.period_s)), key=lambda i: table.roll_rad[i])
    said = (
        f"Periods {table.period_s[0]:g} to {table.period_s[-1]:g} s. Roll is greatest at {table.period_s[most]:g} s "
        f"with {figure(degrees(table.roll_rad[most]))} degrees per metre of wave amplitude."
    )
    if table.gaps_s:
        said += f" Nothing is given at {', '.join(f'{g:g}' for g in table.gaps_s)} s."
    return said
