"""The weight sheet: what the director holds in the hand, A4, as PDF."""

from __future__ import annotations

import datetime
import textwrap
from collections.abc import Callable
from typing import Any

from oakum.draw import bars, body, curves
from oakum.draw.rows import Rows, figure, spread_figures
from oakum.draw.theme import PRINT
from oakum.lift.weights.report import Curve, StateWeight, WeightReport
from oakum.report import phrases
from oakum.report.pdf import compile_pdf

_ROOM_WIDTH_PT = 440.0  # between the dimension line and the right margin
_ROOM_HEIGHT_PT = 400.0  # one drawing, without its words
_HALF_WIDTH_PT = 236.0


def weight_sheet_pdf(report: WeightReport, *, date: datetime.date, demo: bool = False) -> bytes:
    """Return the weight sheet as an archival PDF.

    `date` is printed and stored; the same report and date give the same bytes. `demo` prints on every page
    that the figures are invented.
    """
    return compile_pdf("weight_sheet", sheet_data(report, demo=demo), date=date)


def sheet_data(report: WeightReport, *, demo: bool = False) -> dict[str, Any]:
    """Return everything the sheet says as text, rows and drawings, in the order it is set."""
    peak = phrases.peak_state(report)
    return {
        "title": report.title,
        "short": textwrap.shorten(report.title, 60, placeholder=" \u2026"),
        "demo": phrases.DEMO if demo else "",
        "governs": phrases.PLANNING_SUPPORT,
        "verdict": list(phrases.verdict_lines(report)),
        "objected": bool(report.objections),
        "states": [_state(s, s is peak) for s in report.states],
        "peak": f"{peak.title}: {peak.load_kg.words()}.",
        "drivers": [_drivers(peak), _drivers(report.state("submerged"))],
        "cautions": list(report.cautions),
        "questions": list(report.open_questions),
        "assumptions": list(report.assumptions),
        **_drawings(report),
        "points": _points(report),
        "hanging": list(phrases.hanging_words(report)),
        "curves": [_curve(c) for c in (report.emergence, report.draining) if c is not None],
        "cell": list(phrases.conditioning_words(report)),
        "breakout": phrases.breakout_words(report),
        "parts": _rows(part_rows(report)),
        "sums": sum_lines(report),
        "origin": phrases.origin_words(report),
    }


def state_rows(report: WeightReport) -> Rows:
    """Return the five weight states with low, likely and high hook load, kg."""
    lines = tuple((s.title, *spread_figures(s.load_kg), s.explanation) for s in report.states)
    return Rows(
        "Hook load in every state",
        ("state", "low, P5 (kg)", "likely (kg)", "high, P95 (kg)", "what it holds"),
        lines,
    )


def part_rows(report: WeightReport) -> Rows:
    """Return the part list: role, shape, material, likely volume and masses."""
    lines = tuple(
        (
            part.name,
            part.role,
            f"{part.shape}; {part.material}" if part.material else part.shape,
            figure(part.volume_m3.best * 1000),
            figure(part.mass_kg.best),
            figure(part.submerged_kg.best),
        )
        for part in report.parts
    )
    head = ("part", "role", "shape and material", "volume (l)", "in air (kg)", "under water (kg)")
    return Rows("Parts, likely values", head, lines)


def sum_lines(report: WeightReport) -> list[str]:
    """Say volume and mass of the object with its crust, and how much of the hook load is the frame of its cradle."""
    said = [
        f"Object with its crust, volume: {report.volume_m3.words()}.",
        f"Object with its crust, saturated, in air: {report.mass_kg.words()}.",
    ]
    if report.frame is not None:
        said.append(f"Frame of the cradle, part of the hook load: {report.frame.figures}.")
    return said


def _state(state: StateWeight, is_peak: bool) -> dict[str, Any]:
    low, best, high = spread_figures(state.load_kg)
    return {
        "title": state.title,
        "says": state.explanation,
        "low": low,
        "best": best,
        "high": high,
        "peak": is_peak,
    }


def _drivers(state: StateWeight) -> dict[str, Any]:
    drawing = bars.driver_bars(state.load_kg, state.title, theme=PRINT, width=_HALF_WIDTH_PT)
    shown = bars.shown_drivers(state.load_kg)
    said = "; ".join(f"{d.label} {bars.percent(d.share)}" for d in shown)
    return {
        "title": state.title,
        "svg": drawing,
        "width": _HALF_WIDTH_PT,
        "alt": f"What drives the width, {state.title}: {said or bars.nothing_drives(state.load_kg)}",
    }


def _drawings(report: WeightReport) -> dict[str, Any]:
    scale = body.sheet_scale(report, width_pt=_ROOM_WIDTH_PT, height_pt=_ROOM_HEIGHT_PT)
    draw: tuple[tuple[str, Callable[..., str], bool], ...] = (
        ("From the front", body.elevation, False),
        ("From above", body.plan, True),
    )
    return {
        "scale": f"1:{scale}",
        "drawings": [
            {
                "title": title,
                "svg": drawn(report, theme=PRINT, scale=scale, with_legend=with_legend),
                "width": PRINT.width,
                "alt": f"{title}: {report.title} at 1:{scale} with its centres and hanging points",
            }
            for title, drawn, with_legend in draw
        ],
    }


def _curve(curve: Curve) -> dict[str, Any]:
    drawing = curves.band(curve, theme=PRINT, height=0.42 * PRINT.width)
    first, last = curve.best[0], curve.best[-1]
    return {
        "title": f"{curve.y_name[:1].upper()}{curve.y_name[1:]} against {curve.x_name}",
        "svg": drawing,
        "width": PRINT.width,
        "alt": f"{curve.y_name} against {curve.x_name}: likely {first:,.0f} at the start, "
        f"{last:,.0f} {curve.y_unit} at the end; the band is P5 to P95",
    }


def _points(report: WeightReport) -> dict[str, Any]:
    """Return the points with each likely place apart from its range, for cells of two lines."""
    rows = body.body_rows(report)
    lines = [[line[0], *([*cell.partition(" ")][::2] for cell in line[1:])] for line in rows.lines]
    return {"caption": rows.caption, "head": list(rows.head), "lines": lines}


def _rows(rows: Rows) -> dict[str, Any]:
    return {"caption": rows.caption, "head": list(rows.head), "lines": [list(line) for line in rows.lines]}
