"""The cradle sheet, A4: cutting list to read wet, what to buy, drawing, order of assembly, joints, what it bears."""

from __future__ import annotations

import datetime
import textwrap
from dataclasses import replace
from typing import Any

from oakum.draw.cradle import (
    VIEWS,
    assembly_drawing,
    assembly_rows,
    joint_rows,
    sheet_scale,
    use_rows,
)
from oakum.draw.rows import Rows
from oakum.draw.theme import PRINT
from oakum.draw.utilisation import rule_words, utilisation_bars, utilisation_rows
from oakum.lift.cradle import Built, CradlePlan, CradleReport, CutLine, built
from oakum.report import phrases
from oakum.report.pdf import SheetError, compile_pdf
from oakum.report.plan_cradle import touch_lines

_ROOM_WIDTH_PT = 400.0
_ROOM_HEIGHT_PT = 480.0  # one view, without its measures
_CHECKS = 8
_LISTED = 24
_WET = replace(PRINT, text_size=11.0)
"""Ink on paper with marks and measures that are still read wet."""
NOT_WEIGHED = "Not weighed: what it bears under its find is not known."


def cradle_sheet_pdf(
    plan: CradlePlan,
    report: CradleReport | None = None,
    *,
    date: datetime.date,
    number: str = "",
    demo: bool = False,
) -> bytes:
    """Return the sheet of a cradle as an archival PDF; `report` None: it stands under no weighed find.

    `date` is printed and stored; the same cradle and date give the same bytes. `SheetError` for a cradle without a
    frame and without anything that touches the find.
    """
    return compile_pdf("cradle_sheet", cradle_data(plan, report, number=number, demo=demo), date=date)


def cradle_data(
    plan: CradlePlan, report: CradleReport | None = None, *, number: str = "", demo: bool = False
) -> dict[str, Any]:
    """Return everything the sheet says as text, rows and drawings, in the order it is set."""
    if plan.frame is None and report is None:
        raise SheetError(
            f'"{plan.title}" has no members to saw, and no find was weighed that its straps and beds would bear'
        )
    made = built(plan) if plan.frame is not None else None
    objections = list(report.objections) if report is not None else [NOT_WEIGHED]
    return {
        "number": number,
        "title": plan.title,
        "short": textwrap.shorten(plan.title, 60, placeholder=" \u2026"),
        "demo": phrases.DEMO if demo else "",
        "governs": phrases.PLANNING_SUPPORT,
        "objections": objections,
        "verdict": "" if objections else report.verdict if report is not None else "",
        "mark": plan.mark,
        "notes": " ".join(plan.notes.split()),
        "cut": [] if made is None else cut_lines(made),
        "buy": [] if made is None else buy_lines(made),
        "cut_objections": [] if made is None else list(made.cutting.objections),
        "drawings": [] if made is None else _drawings(plan, made),
        "scale": "" if made is None else f"1:{_scale(plan)}",
        "steps": [] if made is None else step_lines(made),
        "joints": None if made is None else _rows(joint_rows(made, None if report is None else report.frame)),
        "members": None if made is None else _rows(assembly_rows(made)),
        "use": _use(plan, report, made),
        "touch": [] if report is None else list(touch_lines(report, "kg")),
        "bars": _bars(report),
        "checks": None if report is None else _rows(_check_rows(report)),
        "rules": [] if report is None else list(dict.fromkeys(rule_words(c) for c in report.checks)),
        "advice": [] if report is None else list(report.advice),
        "questions": [] if report is None else list(report.open_questions),
        "cautions": [] if report is None else list(report.cautions),
        "assumptions": [] if report is None else list(report.assumptions),
    }


def cut_lines(made: Built) -> list[dict[str, str]]:
    """Return the cutting list as it is read at the saw: letter, how many, section, length, ends, marks."""
    return [
        {
            "letter": letter,
            "count": str(line.count),
            "section": line.section,
            "material": line.material,
            "length": f"{1000.0 * line.length_m:,.0f}",
            "ends": ends_words(line),
            "marks": run_of([made.marks[name] for name in line.members]),
            "members": ", ".join(line.members),
        }
        for letter, line in zip(made.letters, made.cutting.lines, strict=True)
    ]


def ends_words(line: CutLine) -> str:
    """Say how the ends of a line are sawn."""
    angles = (line.start_off_deg, line.end_off_deg)
    if not any(angles):
        return "both ends square"
    said = " and ".join(f"{a:.0f}\u00b0 off square" if a else "square" for a in angles)
    if angles[0] == angles[1]:
        said = f"both ends {angles[0]:.0f}\u00b0 off square"
    if line.parallel is not None:
        said += ", cuts parallel" if line.parallel else ", cuts leaning against each other"
    return said


def buy_lines(made: Built) -> list[str]:
    """Say what to buy, and what is sawn from each length."""
    said = []
    for use in dict.fromkeys(made.cutting.stock):
        pieces = " + ".join(f"{1000.0 * p:,.0f}" for p in use.pieces_m)
        said.append(
            f"{made.cutting.stock.count(use)} \u00d7 {use.section} {use.material}, {use.stock_m:g} m: saw {pieces} mm, "
            f"{1000.0 * use.left_m:,.0f} mm left"
        )
    return said


def step_lines(made: Built) -> list[dict[str, str]]:
    """Return the order of assembly: what to do, with which pieces, which joints are made then."""
    return [
        {
            "words": step.words,
            "marks": run_of(sorted(step.marks, key=lambda m: (m[0], len(m), m))),
            "joints": f"joints {run_of(step.joints)}" if step.joints else "",
        }
        for step in made.steps
    ]


def run_of(marks: tuple[str, ...] | list[str]) -> str:
    """Write marks with runs drawn together: "B1 to B5, C1, J2 to J4"."""
    found: list[list[str]] = []
    for mark in marks:
        last = found[-1][-1] if found else ""
        if last and _next(last) == mark:
            found[-1].append(mark)
        else:
            found.append([mark])
    return ", ".join(f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(run) for run in found)


def _next(mark: str) -> str:
    head = mark.rstrip("0123456789")
    return f"{head}{int(mark[len(head):]) + 1}" if head != mark else ""


def _scale(plan: CradlePlan) -> int:
    return sheet_scale(plan, width_pt=_ROOM_WIDTH_PT, height_pt=_ROOM_HEIGHT_PT)


def _drawings(plan: CradlePlan, made: Built) -> list[dict[str, Any]]:
    scale = _scale(plan)
    return [
        {
            "title": f"{view.words[:1].upper()}{view.words[1:]}",
            "svg": assembly_drawing(plan, made, view, theme=_WET, scale=scale),
            "width": PRINT.width,
            "alt": f"{plan.title} {view.words} at 1:{scale}, every piece with its mark, places of centre lines in mm",
        }
        for view in VIEWS
    ]


def _use(plan: CradlePlan, report: CradleReport | None, made: Built | None) -> dict[str, Any] | None:
    if report is None or report.frame is None or made is None:
        return None
    return _rows(use_rows(plan, report.frame, made.marks))


def _bars(report: CradleReport | None) -> dict[str, Any] | None:
    if report is None or not report.checks:
        return None
    some = report.checks[:_CHECKS]
    drawing = utilisation_bars(some, governing=report.governing, theme=PRINT)
    said = "; ".join(c.title for c in some)
    return {"svg": drawing, "width": PRINT.width, "alt": f"How hard the cradle is used: {said}", "shown": len(some)}


def _check_rows(report: CradleReport) -> Rows:
    """Return the checks that are used most, and all whose limit is not known; their rules are listed apart."""
    some = (*report.checks[:_LISTED], *(c for c in report.checks[_LISTED:] if c.utilisation is None))
    rows = utilisation_rows(some)
    left = len(report.checks) - len(some)
    caption = f"{len(some)} checks, the hardest first" + (f"; {left} more are used less" if left else "")
    return Rows(caption, rows.head[:4], tuple(line[:4] for line in rows.lines))


def _rows(rows: Rows) -> dict[str, Any]:
    return {"caption": rows.caption, "head": list(rows.head), "lines": [list(line) for line in rows.lines]}
