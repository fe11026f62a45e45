"""What the page after the lift shows: readings against the bands, as a drawing and as rows."""

from __future__ import annotations

from collections.abc import Mapping

from oakum.draw.curves import band_rows
from oakum.draw.hook_load import LoadPoint, hook_load, reading_rows
from oakum.lift.raising import Comparison, LoadRead, RaisingPlan
from oakum.web.plan_view import DRAWN, Figure


def load_points(compared: Comparison, names: Mapping[str, str]) -> tuple[LoadPoint, ...]:
    """Return the readings whose height over the water is known, each with when and by whom."""
    return tuple(
        LoadPoint(row.read.height_m, row.read.reading_kg, read_words(row.read, names))
        for row in compared.readings
        if row.read.height_m is not None and row.verdict != "not compared"
    )


def read_words(read: LoadRead, names: Mapping[str, str]) -> str:
    """Say when and by whom a reading was taken."""
    time = read.time.partition("T")[2] or read.time
    by = "" if read.by is None else names.get(read.by, read.by).partition(",")[0]
    return ", ".join(part for part in (time, by) if part)


def load_figure(plan: RaisingPlan, compared: Comparison, names: Mapping[str, str]) -> Figure:
    """Draw the hook load with the readings of the lift."""
    points = load_points(compared, names)
    svg = hook_load(plan.weight.emergence, trial=plan.trial, points=points, cell_unit=plan.cell_unit, width=DRAWN)
    words = "Hook load against height, with what the cell showed; a cross lies outside the band."
    rows = (
        reading_rows(plan.weight.emergence, points, plan.cell_unit)
        if points
        else band_rows(plan.weight.emergence)
    )
    return Figure(svg, words, rows)
