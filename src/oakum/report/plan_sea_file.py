"""Sea, vessel and cradle in the file of a lift plan: their drawings set for paper, their tables and sentences."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from oakum.draw import DrawingError, cradle, heel, sea_limit, splash_cases
from oakum.draw.load_chart import AtRadius, load_chart
from oakum.draw.rows import Rows
from oakum.draw.theme import PRINT
from oakum.ground.errors import OakumError
from oakum.lift.cradle import built
from oakum.lift.raising.plan import RaisingPlan
from oakum.report import plan_cradle
from oakum.report import plan_sea as say

_TALLEST = 0.52  # of the width, for the vessel's section
_CHART = 0.45
_CURVE = 0.4
_FRAME = 0.72


def sea_data(plan: RaisingPlan) -> dict[str, Any] | None:
    """Return the section of the sea, None where the rig has no sea."""
    sea = plan.seaway
    if sea is None:
        return None
    unit, asked, curve, splash = plan.cell_unit, sea.asked, sea.curve, sea.splash
    crossing = say.crossing_range(plan)
    pictures = []
    if curve is not None:
        pictures += _picture(
            lambda: sea_limit.sea_limit(curve, hs_m=asked.hs_m, tz_s=asked.tz_s, theme=PRINT, tall=_CURVE),
            "Significant wave height at which an objection appears against mean period; figures in the table below",
            "Where an objection appears",
        )
    if splash is not None:
        pictures += _picture(
            lambda: splash_cases.splash_cases(
                splash, body=sea.body, bears_kg=say.bears_kg(splash), cell_unit=unit, theme=PRINT
            ),
            f"Load cases in Hs {splash.hs_m:.2f} m: still load and what waves make of it; figures in the table below",
            f"Load cases, Hs {splash.hs_m:.2f} m",
        )
    return {
        "lead": [say.skipper_lead(sea), sea.first],
        "facts": [list(pair) for pair in say.sea_facts(asked, sea.vessel_title, sea.line_n_m)]
        + ([[f"Hook load crossing the surface, {crossing[0]}", crossing[1]]] if crossing else []),
        "pictures": pictures,
        "limits": _rows(sea_limit.sea_limit_rows(curve)) if curve is not None and curve.points else None,
        "cases": _rows(splash_cases.splash_rows(splash, unit)) if splash is not None and splash.cases else None,
        "lines": list(say.limit_words(sea)),
        "objections": list(say.sea_said(sea, "objections")),
        "cautions": list(say.sea_said(sea, "cautions")),
    }


def vessel_data(plan: RaisingPlan) -> dict[str, Any] | None:
    """Return the section of the vessel, None where the rig has no sea."""
    sea = plan.seaway
    if sea is None:
        return None
    unit, worst, papers = plan.cell_unit, say.worst_vessel(sea), sea.papers
    pictures = []
    if worst is not None and papers is not None:
        radius = sea.asked.radius_m
        if radius is not None:
            pictures += _picture(
                lambda: heel.heel(
                    worst, papers.vessel, papers.head(radius), cell_unit=unit, theme=PRINT, tallest=_TALLEST
                ),
                "; ".join(heel.heel_lines(worst, unit)),
                f"In section, the load {worst.state}",
            )
        chart = papers.chart_for(sea.asked.waters)
        if chart is not None:
            at = None
            if worst.upright_m is not None:
                heeled = None if worst.radius_m is None else worst.radius_m.p95
                at = AtRadius(worst.upright_m, worst.load_kg.p95, heeled)
            pictures += _picture(
                lambda: load_chart(
                    chart, at=at, factor=chart.factor_in(sea.asked.waters), theme=PRINT, height=_CHART * PRINT.width
                ),
                f"Load chart {chart.name}: load against radius, with the load {worst.state} at the 95th percentile",
                f"Load chart \u201c{chart.name}\u201d{f', {chart.page}' if chart.page else ''}",
            )
    return {
        "title": sea.vessel_title or say.NOT_KNOWN,
        "book": say.book_words(sea),
        "loss": f"{say.loss_words(worst)}.",
        "pictures": pictures,
        "rows": _rows(heel.vessel_rows(sea.vessel, unit)) if sea.vessel else None,
        "notes": [f"row {n.row}: {n.why}" for n in sea.vessel[0].chart_notes] if sea.vessel else [],
        "objections": list(say.vessel_said(sea, "objections")),
        "cautions": list(say.vessel_said(sea, "cautions")),
    }


def cradle_section(plan: RaisingPlan) -> dict[str, Any] | None:
    """Return the section of the cradle, None where the find has none."""
    report = plan.cradle
    if report is None:
        return None
    unit, frame, answer = plan.cell_unit, report.plan, report.frame
    pictures: list[dict[str, Any]] = []
    use = None
    if answer is not None and frame.frame is not None:
        pictures = _picture(
            lambda: cradle.frame_use(frame, answer, theme=PRINT, width=_FRAME * PRINT.width),
            "The frame from above with the use of each member; figures in the table below",
            "Use of each member that bends",
            _FRAME,
        )
        use = _rows(cradle.use_rows(frame, answer, built(frame).marks))
    return {
        "title": frame.title,
        "lead": plan_cradle.cradle_lead(report),
        "pictures": pictures,
        "use": use,
        "states": _rows(plan_cradle.state_rows(report, unit)) if answer is not None else None,
        "stands": _rows(plan_cradle.stand_rows(report, unit)) if answer is not None else None,
        "lines": list(plan_cradle.touch_lines(report, unit)),
        "advice": list(report.advice),
        "objections": list(report.objections),
        "cautions": list(report.cautions),
        "build": "" if frame.frame is None else "Drawing, cutting list and order of assembly: the cradle's own sheet.",
    }


def _picture(draw: Callable[[], str], alt: str, title: str, share: float = 1.0) -> list[dict[str, Any]]:
    """Return a drawing as the template takes it, nothing where what it needs is not known."""
    try:
        return [{"svg": draw(), "alt": alt, "width": share * PRINT.width, "title": title}]
    except (DrawingError, OakumError):
        return []


def _rows(rows: Rows) -> dict[str, Any]:
    return {"caption": rows.caption, "head": list(rows.head), "lines": [list(line) for line in rows.lines]}
