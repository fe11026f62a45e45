"""Hook load against height, with the band of the trial lift and what the load cell really read."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from oakum.draw import svg
from oakum.draw.curves import at_place, band
from oakum.draw.forces import curve_in, per_kg, reading, unit_words
from oakum.draw.halo import haloed
from oakum.draw.rows import Rows
from oakum.draw.scale import Axis, decimals
from oakum.draw.theme import PAGE, Theme
from oakum.lift.raising.afterwards import ReadRow, rigging_kg
from oakum.lift.raising.plan import RaisingPlan, TrialLift
from oakum.lift.weights.report import Curve

Side = Literal["inside", "above", "below", "not compared"]
_NAMED = 6
"""Readings outside the band that are named in the drawing; the table has them all."""


@dataclass(frozen=True, slots=True)
class LoadPoint:
    """A reading of the load cell at a height of the load's lowest point above the water, negative: below."""

    height_m: float
    load_kg: float
    words: str = ""  # when and by whom, as it is shown
    side: Side | None = None  # how it stands to the band, where that was already found


def plan_curve(plan: RaisingPlan) -> Curve:
    """Return the hook load of a plan against height, the rigging of its rig file with it, kg."""
    curve, more = plan.weight.emergence, rigging_kg(plan)
    low, best, high = (tuple(v + more for v in series) for series in (curve.p5, curve.best, curve.p95))
    return replace(curve, p5=low, best=best, p95=high)


def points_of(rows: Sequence[ReadRow], names: Mapping[str, str] | None = None) -> tuple[LoadPoint, ...]:
    """Return the compared readings of a lift that have a height; `names` are people by id."""
    found = []
    for row in rows:
        read = row.read
        if read.height_m is None or read.clear_s is not None:
            continue
        by = "" if read.by is None else (names or {}).get(read.by, read.by)
        words = ", ".join(filter(None, (read.time, by)))
        found.append(LoadPoint(read.height_m, read.reading_kg, words, row.verdict))
    return tuple(found)


def side_of(curve: Curve, point: LoadPoint) -> Side:
    """Return how a reading stands to the band of a curve in kg at its height; beyond its ends the end counts."""
    if point.side is not None:
        return point.side
    low, high = (at_place(curve, series, point.height_m) for series in (curve.p5, curve.p95))
    if point.load_kg > high:
        return "above"
    return "below" if point.load_kg < low else "inside"


def hook_load(
    curve: Curve,
    *,
    trial: TrialLift | None = None,
    points: Sequence[LoadPoint] = (),
    cell_unit: str = "kg",
    at: float | None = None,
    theme: Theme = PAGE,
    width: float | None = None,
    height: float | None = None,
    key: str = "hook-load",
) -> str:
    """Draw the hook load (a curve in kg against height) in the cell's unit.

    Readings inside the band are dots, those outside crosses with a word, those not compared rings. A reading
    deeper or higher than the curve stands at its end.
    """
    shown = curve_in(curve, cell_unit)
    factor = per_kg(cell_unit)
    inside = sum(side_of(curve, p) == "inside" for p in points)
    counted = f"{inside} of {len(points)} readings lie inside the band." if points else ""
    expected = f"Trial lift: {trial_band(trial)}." if trial is not None else ""
    return band(
        shown,
        at=at,
        theme=theme,
        width=width,
        height=height,
        key=key,
        over=lambda x, y: _trial(trial, shown, x, y, theme) + _readings(curve, points, x, y, factor, theme),
        y_also=[p.load_kg * factor for p in points] + ([trial.high] if trial is not None else []),
        said=" ".join(filter(None, (expected, counted))),
    )


def reading_rows(curve: Curve, points: Sequence[LoadPoint], cell_unit: str = "kg") -> Rows:
    """Return every reading with the band at its height and whether it lies inside."""
    unit = unit_words(cell_unit)
    lines = []
    for point in points:
        low, high = (at_place(curve, series, point.height_m) for series in (curve.p5, curve.p95))
        side = side_of(curve, point)
        lines.append(
            (
                point.words or "reading",
                decimals(point.height_m, 2),
                reading(point.load_kg, cell_unit),
                f"{reading(low, cell_unit)} to {reading(high, cell_unit)}",
                _side_words(side),
            )
        )
    head = ("reading", "height (m)", f"load ({unit})", f"band, P5 to P95 ({unit})", "where it lies")
    return Rows("Readings against the band", head, tuple(lines))


def _side_words(side: Side) -> str:
    return f"{side} the band" if side in ("above", "below") else side


def trial_band(trial: TrialLift) -> str:
    """Say what the cell shows in the trial lift: "expect 430 to 560 kg"."""
    return f"expect {trial_figure(trial.low)} to {trial_figure(trial.high)} {trial.unit}"


def trial_figure(value: float) -> str:
    """Write an end of the trial band without float noise and with a comma for thousands."""
    return f"{value:,.10g}".replace("-", "\u2212") if abs(value) < 1e9 else f"{value:,.3g}"


def _trial(trial: TrialLift | None, shown: Curve, x: Axis, y: Axis, theme: Theme) -> str:
    """Draw the trial band from the left edge to where the load begins to leave the water."""
    if trial is None or trial.unit != shown.y_unit:
        return ""
    size = theme.text_size
    leaves = next((place for place, _ in shown.marks), shown.x[0])
    end = max(x.at(leaves), x.start + 0.12 * (x.end - x.start))
    top, bottom = y.at(trial.high), y.at(trial.low)
    return svg.group(
        svg.element(
            "rect",
            x=x.start,
            y=top,
            width=end - x.start,
            height=max(bottom - top, 0.8),
            fill="none",
            stroke=theme.signal,
            stroke_width=1.2,
            stroke_dasharray="4 1.5",
        ),
        haloed(
            x.start + 3,
            top - 0.45 * size,
            f"trial lift: {trial_band(trial)}",
            theme,
            fill=theme.signal,
            font_weight="600",
        ),
        font_size=size,
        class_="trial",
    )


def _readings(
    curve: Curve, points: Sequence[LoadPoint], x: Axis, y: Axis, factor: float, theme: Theme
) -> str:
    parts = []
    named = 0
    for point in points:
        place = x.at(min(max(point.height_m, curve.x[0]), curve.x[-1]))
        row = y.at(point.load_kg * factor)
        side = side_of(curve, point)
        if side in ("inside", "not compared"):
            full = side == "inside"
            ground, rim = (theme.ink, theme.paper) if full else (theme.paper, theme.ink)
            parts.append(
                svg.element("circle", cx=place, cy=row, r=2.4, fill=ground, stroke=rim, stroke_width=0.8)
            )
            continue
        arms = [
            [(place - 3.4, row - 3.4), (place + 3.4, row + 3.4)],
            [(place - 3.4, row + 3.4), (place + 3.4, row - 3.4)],
        ]
        parts.append(svg.paths(arms, fill="none", stroke=theme.signal, stroke_width=1.8))
        if named < _NAMED:
            named += 1
            words = _side_words(side) + (f": {point.words}" if point.words else "")
            fits = place + 6 + theme.text_width(words) <= x.end
            parts.append(
                haloed(
                    place + (6 if fits else -6),
                    row - 4,
                    words,
                    theme,
                    text_anchor="start" if fits else "end",
                    fill=theme.signal,
                    font_weight="600",
                )
            )
    return svg.group(*parts, font_size=theme.text_size, class_="readings")
