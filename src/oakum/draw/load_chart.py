"""A load chart: load against radius, straight between its points, hatched where it says nothing."""

from __future__ import annotations

from dataclasses import dataclass

from oakum.draw import svg
from oakum.draw.halo import haloed
from oakum.draw.hatch import hatched
from oakum.draw.plot import grid
from oakum.draw.rows import Rows, figure
from oakum.draw.scale import Axis, axis, decimals
from oakum.draw.theme import PAGE, Theme
from oakum.lift.vessel import LoadChart


@dataclass(frozen=True, slots=True)
class AtRadius:
    """What hangs there: the load at a radius; `heeled_m` is the radius with the heel, where it is known."""

    radius_m: float
    load_kg: float | None = None
    heeled_m: float | None = None

    @property
    def read_m(self) -> float:
        """The radius the chart is read at."""
        return self.radius_m if self.heeled_m is None else self.heeled_m


def load_chart(
    chart: LoadChart,
    *,
    at: AtRadius | None = None,
    factor: float | None = None,
    theme: Theme = PAGE,
    width: float | None = None,
    height: float | None = None,
    key: str | None = None,
) -> str:
    """Draw the chart with its points; a stretch between a blank row's neighbours is hatched and has no line.

    `at` marks a load at a radius; `factor` under 1 draws the derated line below the chart's own.
    """
    across = width or theme.width
    down = height or 0.62 * across
    size = theme.text_size
    top = (2.8 if at else 1.4) * size
    places = [*chart.radius_m, *chart.gaps_m, *([at.read_m, at.radius_m] if at else [])]
    loads = [*chart.load_kg, *([at.load_kg] if at and at.load_kg is not None else [])]
    y = axis(0.0, max(*loads, 1e-9), down - 3.6 * size, top + 1.2 * size)
    left = theme.text_width(max((y.label(t) for t in y.ticks), key=len)) + 0.8 * size
    x = axis(min(0.0, *places), max(places) * 1.04, left, across - 0.8 * size, count=6, tight=True)
    derated = factor is not None and factor < 1.0
    return svg.document(
        across,
        down,
        grid(x, y, "radius, m", "load on the hook, kg", theme, across),
        _unsaid(chart, x, y, theme),
        _line(chart, 1.0, x, y, theme),
        _line(chart, factor, x, y, theme) if derated and factor is not None else "",
        _marker(at, chart, factor, x, y, theme, across) if at is not None else "",
        title=f"Load chart: {chart.name}",
        description=_words(chart, at, factor),
        key=key or f"chart-{chart.name}",
        font=theme.font,
    )


def load_chart_rows(chart: LoadChart, factor: float | None = None) -> Rows:
    """Return every radius with its load, and the blank ones with why nothing is read there."""
    derated = factor is not None and factor < 1.0
    found: list[tuple[float, float | None, str]] = [
        (r, w, "") for r, w in zip(chart.radius_m, chart.load_kg, strict=True)
    ]
    found += [(g, None, "no load given: nothing is read up to its neighbours") for g in chart.gaps_m]
    lines = []
    for radius, load, words in sorted(found, key=lambda row: row[0]):
        shown = "not given" if load is None else figure(load)
        less = [] if not derated else ["" if load is None or factor is None else figure(load * factor)]
        lines.append((radius_words(radius), shown, *less, words))
    head = ("radius (m)", "load (kg)", *(["derated (kg)"] if derated else []), "what is said of it")
    return Rows(f"Load chart: {chart.name}", head, tuple(lines))


def note_rows(chart: LoadChart) -> Rows:
    """Return the rows of the sheet that gave no point, blank ones aside: titles, footnotes, what is not understood."""
    lines = tuple((f"row {n.row}", n.why) for n in chart.notes if n.why != "blank")
    return Rows(f"Rows of the sheet that are not read: {chart.name}", ("row", "what is said of it"), lines)


def radius_words(radius_m: float) -> str:
    """Write a radius to the centimetre, without needless noughts."""
    text = decimals(radius_m, 2)
    return text.rstrip("0").rstrip(".") if "." in text else text


def _stretches(chart: LoadChart) -> list[list[tuple[float, float]]]:
    """Return the points in runs, a run ending where the chart says nothing about what comes after."""
    breaks = {low for low, _ in chart.unsaid_m()}
    runs: list[list[tuple[float, float]]] = [[]]
    for point in zip(chart.radius_m, chart.load_kg, strict=True):
        runs[-1].append(point)
        if point[0] in breaks:
            runs.append([])
    return [run for run in runs if run]


def _line(chart: LoadChart, factor: float, x: Axis, y: Axis, theme: Theme) -> str:
    own = factor == 1.0
    runs = [[(x.at(r), y.at(w * factor)) for r, w in run] for run in _stretches(chart)]
    colour = theme.ink if own else theme.water
    dots = [
        svg.element("circle", cx=a, cy=b, r=2.6, fill=theme.paper, stroke=colour, stroke_width=1.2)
        for run in runs
        for a, b in run
    ]
    line = svg.paths(
        [run for run in runs if len(run) > 1],
        class_="chart",
        fill="none",
        stroke=colour,
        stroke_width=1.6 if own else 1.2,
        stroke_dasharray=None if own else "6 2.5",
        stroke_linejoin="round",
    )
    parts = [line, *dots]
    if not own:
        a, b = runs[-1][-1]
        words = f"derated by {factor:g}"
        parts.append(haloed(a, b + 1.5 * theme.text_size, words, theme, text_anchor="end", fill=theme.water))
    return svg.group(*parts, font_size=0.9 * theme.text_size)


def _unsaid(chart: LoadChart, x: Axis, y: Axis, theme: Theme) -> str:
    """Hatch the stretches that the chart lists without a load, inside and beyond its ends."""
    parts = []
    edges = list(chart.unsaid_m())
    beyond = [g for g in chart.gaps_m if g > chart.radius_m[-1]]
    before = [g for g in chart.gaps_m if g < chart.radius_m[0]]
    if beyond:
        edges.append((chart.radius_m[-1], max(beyond)))
    if before:
        edges.append((min(before), chart.radius_m[0]))
    for low, high in edges:
        a, b = x.at(low), x.at(high)
        parts.append(hatched(a, y.end, b - a, y.start - y.end, stroke=theme.soft))
        words = "no load given"
        if b - a > theme.text_width(words, 0.85 * theme.text_size):
            parts.append(
                haloed(
                    0.5 * (a + b),
                    y.end + 1.4 * theme.text_size,
                    words,
                    theme,
                    text_anchor="middle",
                    fill=theme.soft,
                )
            )
    return svg.group(*parts, font_size=0.85 * theme.text_size, class_="unsaid")


def _marker(
    at: AtRadius, chart: LoadChart, factor: float | None, x: Axis, y: Axis, theme: Theme, across: float
) -> str:
    size = theme.text_size
    place = x.at(at.read_m)
    parts = [svg.line(place, y.end - 0.8 * size, place, y.start, stroke=theme.signal, stroke_width=1.2)]
    if at.heeled_m is not None and abs(at.heeled_m - at.radius_m) > 0.005:
        upright = x.at(at.radius_m)
        parts.append(
            svg.line(
                upright, y.end, upright, y.start, stroke=theme.soft, stroke_width=0.8, stroke_dasharray="4 2"
            )
        )
    if at.load_kg is not None:
        parts.append(
            svg.element("circle", cx=place, cy=y.at(at.load_kg), r=4.0, fill=theme.signal, stroke=theme.paper)
        )
    words = _marker_words(at, chart, factor)
    fits = place + 4 + theme.text_width(words) <= across
    end = place - 4 >= theme.text_width(words)
    where, anchor = (place + 4, "start") if fits else (place - 4, "end") if end else (0.5 * across, "middle")
    parts.append(svg.text(where, 2.4 * size, words, text_anchor=anchor, fill=theme.signal, font_weight="600"))
    return svg.group(*parts, font_size=size, class_="present")


def _marker_words(at: AtRadius, chart: LoadChart, factor: float | None) -> str:
    load = "" if at.load_kg is None else f"{figure(at.load_kg)} kg "
    heel = " with the heel" if at.heeled_m is not None else ""
    allowed = allowed_kg(chart, at.read_m, 1.0 if factor is None else factor)
    of = f", chart {figure(allowed)} kg" if allowed is not None else ", chart says nothing"
    if allowed is not None and factor is None:
        of += " before a derating that is not known"
    return f"{load}at {radius_words(at.read_m)} m{heel}{of}"


def allowed_kg(chart: LoadChart, radius_m: float, factor: float | None) -> float | None:
    """Return the load that the chart has at a radius, derated; None where it has none or the factor is not known."""
    if factor is None or chart.why_outside(radius_m) is not None:
        return None
    return float(chart.capacity_kg(radius_m)) * factor


def _words(chart: LoadChart, at: AtRadius | None, factor: float | None) -> str:
    said = [
        f"From {figure(chart.load_kg[0])} kg at {radius_words(chart.radius_m[0])} m to {figure(chart.load_kg[-1])} kg "
        f"at {radius_words(chart.radius_m[-1])} m, straight between {len(chart.radius_m)} points, nothing beyond them."
    ]
    said += [
        f"Nothing is said between {radius_words(low)} and {radius_words(high)} m."
        for low, high in chart.unsaid_m()
    ]
    if factor is not None and factor < 1.0:
        said.append(f"The lower line is the chart derated by {factor:g}.")
    if at is not None:
        said.append(f"Marked: {_marker_words(at, chart, factor)}.")
    return " ".join(said)
