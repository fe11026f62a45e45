"""Lifts: what each described find weighs in every state, and the hook load at any height out of the water."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from starlette.exceptions import HTTPException
from starlette.responses import JSONResponse, RedirectResponse, Response

from oakum.desk.finds.measures import measure_of, reading_of
from oakum.desk.lifts.bodies import finds_with_body
from oakum.desk.lifts.weigh import HOOK_LOAD, UNDER_WATER, LiftAnswer, NoBodyError, load_at, weigh_find
from oakum.draw import Rows
from oakum.draw.bars import driver_bars, driver_rows
from oakum.draw.body import body_rows, elevation, plan
from oakum.draw.curves import band, band_rows
from oakum.ground.errors import OakumError
from oakum.lift import LevelLoad, mesh_names, report_dict
from oakum.record import Find
from oakum.report import phrases
from oakum.report.weight_sheet import weight_sheet_pdf
from oakum.web.ask import TheHouse, author_in, done, find_or_404, writer_of
from oakum.web.forms import Form, SentForm
from oakum.web.house import House
from oakum.web.jobs import Job, Outcome, Progress
from oakum.web.render import fragment, page
from oakum.web.words import height_words, level_words

router = APIRouter()
DRAWN = 400.0  # units across a drawing: legible on a telephone, not coarse on a desk
Height = Annotated[float | None, Query(ge=-1000, le=1000, allow_inf_nan=False)]


@dataclass(frozen=True, slots=True)
class Level:
    """What the page shows for one height of the lowest point above the water."""

    height_m: float
    load: str
    within: str
    words: str
    under_water: str | None
    elevation_svg: str
    curve_svg: str
    body_rows: Rows
    curve_rows: Rows


@router.get("/lifts")
def lifts(request: Request, house: TheHouse) -> Response:
    """List the finds whose body is described."""
    lifts = finds_with_body(house.logbook)
    return page(request, "lifts.html", room="Lifts", lifts=lifts, names=house.names())


@router.get("/lifts/{find_id}")
def lift(
    request: Request,
    house: TheHouse,
    find_id: str,
    level: Height = None,
    slide: Height = None,
    step: Height = None,
) -> Response:
    """Show what a find weighs."""
    find = find_or_404(house, find_id)
    if find.fields.get("toml") is None:
        return RedirectResponse(f"/lifts/{find.id}/body", status_code=303)
    if (job := long_weighing(house, find)) is not None:
        return RedirectResponse(f"/jobs/{job.id}", status_code=303)
    height = (level if level is not None else slide or 0.0) + (step or 0.0)
    return _lift_page(request, house, find, Form.of({"author": writer_of(request)}), height=height)


@router.get("/lifts/{find_id}/level")
def level_fragment(house: TheHouse, find_id: str, level: Height = None, slide: Height = None) -> Response:
    """Answer one height of the slider or of the number field beside it."""
    answer = _weighed(house, find_id)
    height = level if level is not None else slide
    return fragment("level.html", level=_level(house, answer, height or 0.0), report=answer.report)


@router.get("/lifts/{find_id}/report.json")
def report_json(house: TheHouse, find_id: str) -> Response:
    """Give the report with units in its keys."""
    answer = _weighed(house, find_id)
    return JSONResponse(report_dict(answer.report), headers=_named(answer, "json"))


@router.get("/lifts/{find_id}/sheet.pdf")
def sheet_pdf(house: TheHouse, find_id: str) -> Response:
    """Give the weight sheet."""
    answer = _weighed(house, find_id)
    pdf = weight_sheet_pdf(answer.report, date=datetime.now(UTC).astimezone().date())
    return Response(pdf, media_type="application/pdf", headers=_named(answer, "pdf"))


@router.post("/lifts/{find_id}/cell")
def enter_cell_reading(request: Request, house: TheHouse, find_id: str, form: SentForm) -> Response:
    """Enter what the load cell read under water."""
    find = find_or_404(house, find_id)
    author = author_in(form)
    text = form.need("reading", "Write what the load cell read, such as 445 ± 12 kg.")
    covers = form.need("covers", "Choose what hung on the cell.")
    if form.good:
        _enter_reading(house, find, form, text, covers, author)
    if not form.good:
        return _lift_page(request, house, find, form, status=422)
    return done(f"/lifts/{find.id}", "reading", author=author, anchor="cell")


def _enter_reading(house: House, find: Find, form: Form, text: str, covers: str, author: str) -> None:
    try:
        body = reading_of(
            text,
            "mass",
            quantity=HOOK_LOAD,
            state=UNDER_WATER,
            instrument=form.text("instrument"),
            note=form.text("note"),
            frame={"with": True, "without": False}.get(form.text("frame")),
        )
    except (OakumError, ValueError) as error:
        form.wrong("reading", str(error))
        return
    if form.value("gear") is not None:
        try:
            body["gear"] = measure_of(form.text("gear"), "mass")
        except (OakumError, ValueError) as error:
            form.wrong("gear", str(error))
            return
    if "sd" not in body:
        form.wrong(
            "reading",
            "Write how sure the reading is as well, such as 445 ± 12 kg: it decides what it weighs.",
        )
        return
    try:
        house.logbook.append("reading", find.id, body | {"covers": covers}, author=author)
    except OakumError as error:
        form.wrong("", str(error))


def long_weighing(house: House, find: Find) -> Job | None:
    """Begin the first weighing of a body with a mesh as long work; None where it is quick or was done."""
    key = (find.id, *(head.entry.id for head in find.heads["toml"]))
    if key in house.weighed or not any(mesh_names(head.value or "") for head in find.heads["toml"]):
        return None

    def work(progress: Progress) -> Outcome:
        progress(0.1, "reading the mesh, then weighing it")
        weigh_find(house.logbook, find.id)
        house.weighed.add(key)
        return Outcome(f"{find.title} is weighed.", link=f"/lifts/{find.id}", link_text="What it weighs")

    return house.jobs.start(f"Weigh {find.number or find.title}", work)


def _weighed(house: House, find_id: str) -> LiftAnswer:
    find = find_or_404(house, find_id)
    try:
        return weigh_find(house.logbook, find.id)
    except NoBodyError as error:
        raise HTTPException(404, str(error)) from error


def _named(answer: LiftAnswer, ending: str) -> dict[str, str]:
    name = "".join(c if c.isalnum() or c == "-" else "_" for c in answer.find.number or "find")
    return {"Content-Disposition": f'attachment; filename="weights_{name}.{ending}"'}


def _level(house: House, answer: LiftAnswer, height_m: float) -> Level:
    curve = answer.report.emergence
    height_m = min(max(height_m, curve.x[0]), curve.x[-1])
    load: LevelLoad = load_at(house.logbook, answer.find.id, height_m)
    under = load.under_water
    likely, _, within = level_words(load.p5_kg, load.best_kg, load.p95_kg).partition("; ")
    return Level(
        height_m=round(height_m, 2),
        load=likely,
        within=within,
        words=height_words(height_m),
        under_water=None if under is None else f"{100 * under:.0f} % of the body is under water",
        elevation_svg=elevation(answer.report, height_m=height_m, width=DRAWN),
        curve_svg=band(curve, at=height_m, width=DRAWN),
        body_rows=body_rows(answer.report),
        curve_rows=band_rows(curve),
    )


def _lift_page(
    request: Request, house: House, find: Find, cell: Form, *, status: int = 200, height: float = 0.0
) -> Response:
    answer = weigh_find(house.logbook, find.id)
    report = answer.report
    peak = phrases.peak_state(report)
    values: dict[str, Any] = {}
    if report.draining is not None:
        values = {"draining_svg": band(report.draining, width=DRAWN), "draining_rows": band_rows(report.draining)}
    return page(
        request,
        "lift.html",
        room="Lifts",
        status=status,
        find=find,
        report=report,
        questions=answer.questions,
        peak=peak,
        drivers_svg=driver_bars(peak.load_kg, peak.title, width=DRAWN),
        drivers_rows=driver_rows(peak.load_kg, peak.title),
        plan_svg=plan(report, width=DRAWN),
        body_rows=body_rows(report),
        level=_level(house, answer, height),
        level_low=math.floor(report.emergence.x[0] * 10) / 10,
        level_high=math.ceil(report.emergence.x[-1] * 10) / 10,
        hanging_words=phrases.hanging_words(report),
        cell_words=phrases.conditioning_words(report),
        breakout_words=phrases.breakout_words(report),
        cell=cell,
        names=house.names(),
        **({"draining_svg": None, "draining_rows": None} | values),
    )
