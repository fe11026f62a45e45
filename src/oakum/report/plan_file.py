"""The file of a lift plan: everything it says, A4, as archival PDF."""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from typing import Any

from oakum.desk.lifts.sea_run import SeaRun
from oakum.draw import ascent, rig, turning
from oakum.draw.hook_load import LoadPoint, plan_curve, reading_rows
from oakum.draw.rows import Rows
from oakum.draw.utilisation import amounts_words, percent_words, rule_words
from oakum.lift.raising.plan import RaisingPlan, TurningAnswer
from oakum.report import phrases, plan_pictures
from oakum.report import plan_phrases as say
from oakum.report import plan_tables as tables
from oakum.report.pdf import compile_pdf
from oakum.report.plan_sea import crossing_range, skipper_lead
from oakum.report.plan_sea_file import cradle_section, sea_data, vessel_data
from oakum.report.plan_seas import seas_data
from oakum.report.weight_sheet import state_rows

_HALF = 0.5


def plan_file_pdf(
    plan: RaisingPlan,
    *,
    date: datetime.date,
    names: Mapping[str, str],
    points: Sequence[LoadPoint] = (),
    seas: SeaRun | None = None,
    seas_fit: bool = False,
    demo: bool = False,
) -> bytes:
    """Return the whole plan as an archival PDF.

    `names` are people by id. `points` are load-cell readings of the lift itself, shown against the bands. `seas` is
    the kept result of many seas, `seas_fit` whether it is of this plan. `demo` prints on every page that the figures
    are invented.
    """
    data = file_data(plan, names, points, demo=demo) | {"seas": seas_data(seas, fits=seas_fit)}
    return compile_pdf("plan_file", data, date=date)


def file_data(
    plan: RaisingPlan, names: Mapping[str, str], points: Sequence[LoadPoint] = (), *, demo: bool = False
) -> dict[str, Any]:
    """Return everything the file says as text, rows and drawings, in the order it is set."""
    unit = plan.cell_unit
    return {
        "title": plan.title,
        "number": plan.number,
        "short": say.short_title(plan),
        "stage": say.stage_words(plan),
        "demo": phrases.DEMO if demo else "",
        "governs": phrases.PLANNING_SUPPORT,
        "verdict": list(say.verdict_lines(plan)),
        "objected": bool(plan.objections),
        "blocked": list(plan.blocked_by),
        "summary": _summary(plan),
        "trial": say.trial_sentence(plan.trial),
        "bars": plan_pictures.bar_pictures(plan),
        "bars_said": plan_pictures.bars_words(plan),
        "rig": plan_pictures.rig_pictures(plan),
        "legs": _rows(rig.rig_rows(plan)) if plan.views else None,
        "places": _rows(rig.place_rows(plan)) if plan.views else None,
        "load": plan_pictures.load_picture(plan, points),
        "readings": _rows(reading_rows(plan_curve(plan), points, unit)) if points else None,
        "gear": _rows(tables.gear_rows(plan)),
        "states": _rows(state_rows(plan.weight)),
        "slings": [
            {
                "title": f"Slings {answer.load}",
                "lines": list(tables.sling_lines(answer, unit)),
                "rows": _rows(tables.sling_rows(answer, unit)),
            }
            for answer in (plan.under_water, plan.in_air)
            if answer is not None
        ],
        "spreaders": [
            {"title": f"Spreader {state}", "lines": list(tables.spreader_lines(answer, unit))}
            for state, answer in plan.spreaders
        ],
        "advice": list(plan.advice),
        "bags": _bags(plan),
        "turning": [_turning(answer, unit) for answer in plan.turning],
        "sea": sea_data(plan),
        "vessel": vessel_data(plan),
        "cradle": cradle_section(plan),
        "checks": _checks(plan),
        "rules": _rules(plan),
        "steps": _rows(tables.step_rows(plan)),
        "total": say.total_words(plan),
        "go": _rows(tables.go_rows(plan)),
        "hazards": _rows(tables.hazard_rows(plan, names)),
        "in_situ": plan.in_situ or "",
        "roles": _rows(tables.role_rows(plan, names)),
        "helps": _rows(tables.help_rows(plan)),
        "questions": list(plan.open_questions),
        "assumptions": list(plan.assumptions),
        "cautions": list(plan.cautions),
        "not_covered": list(plan.not_covered),
        "origin": say.origin_words(plan),
    }


def _summary(plan: RaisingPlan) -> list[list[str]]:
    """Return the figures of the first page: what, how much."""
    return [
        *([f"hook load {state}", words] for state, words in say.hook_lines(plan)),
        *_at_sea(plan),
        ["governs", say.governing_words(plan).removeprefix("Governs: ").rstrip(".")],
        ["whole lift", say.total_words(plan).removeprefix("Whole lift: ").rstrip(".")],
    ]


def _at_sea(plan: RaisingPlan) -> list[list[str]]:
    """Return what the first page says of the crossing."""
    if plan.seaway is None:
        return []
    crossing = crossing_range(plan)
    found = [] if crossing is None else [[f"hook load through the surface, {crossing[0]}", crossing[1]]]
    return [*found, ["the sea", skipper_lead(plan.seaway).rstrip(".")]]


def _bags(plan: RaisingPlan) -> dict[str, Any] | None:
    if plan.bags is None:
        return None
    return {
        "lines": list(tables.bag_lines(plan.bags, plan.cell_unit)),
        "pictures": plan_pictures.bag_pictures(plan),
        "failed": _rows(ascent.failed_rows(plan.bags, plan.cell_unit)),
    }


def _turning(answer: TurningAnswer, unit: str) -> dict[str, Any]:
    return {
        "title": f"Turning: {answer.name}",
        "lines": list(tables.turning_lines(answer, unit)),
        "picture": plan_pictures.turning_picture(answer, unit),
        "frame": _rows(turning.frame_rows(answer.frame, unit)) if answer.frame is not None else None,
    }


def _checks(plan: RaisingPlan) -> list[dict[str, Any]]:
    """Return every check; those that object, are not known or use half are `full`, the others take a line each."""
    numbers = {rule: i for i, rule in enumerate(_rules(plan), 1)}
    return [
        {
            "title": check.title,
            "used": percent_words(check),
            "amounts": amounts_words(check, plan.cell_unit),
            "basis": f"{check.basis}; rule {numbers[rule_words(check)]}",
            "rule": str(numbers[rule_words(check)]),
            "full": check.objection is not None or check.utilisation is None or check.utilisation >= _HALF,
            "objection": check.objection or "",
        }
        for check in plan.checks
    ]


def _rules(plan: RaisingPlan) -> list[str]:
    """Return every rule once, in the order of the checks."""
    return list(dict.fromkeys(rule_words(check) for check in plan.checks))


def _rows(rows: Rows) -> dict[str, Any]:
    return {"caption": rows.caption, "head": list(rows.head), "lines": [list(line) for line in rows.lines]}
