"""Which tape to take next, for the marks that matter, and the sheets for the slate."""

from __future__ import annotations

from datetime import date
from typing import Annotated
from urllib.parse import urlencode

from fastapi import APIRouter, Query, Request
from starlette.responses import Response

from oakum.desk.demo.project import is_demo
from oakum.desk.seabed.next_tapes import LONGEST_M, marks_without_depth, pairs_text, tapes_for_tomorrow
from oakum.desk.seabed.survey import survey_of
from oakum.ground.errors import OakumError
from oakum.ground.quantities import QuantityError, read
from oakum.report import TapeLine, depth_sheet_pdf, tape_sheet_pdf
from oakum.seabed.network.names import natural
from oakum.seabed.network.next_tape import TapePlan
from oakum.web.ask import TheHouse
from oakum.web.forms import Form
from oakum.web.house import House
from oakum.web.render import message, page

router = APIRouter()
Marks = Annotated[list[str] | None, Query(max_length=500)]
Short = Annotated[str, Query(max_length=20)]


@router.get("/seabed/next")
def next_tape(
    request: Request, house: TheHouse, mark: Marks = None, count: Short = "12", longest: Short = ""
) -> Response:
    """Rank the pairs that are not taped yet."""
    form = Form({"mark": mark or [], "count": [count], "longest": [longest or f"{LONGEST_M:g}"]})
    plan = _ranked(house, form)
    answer = survey_of(house.logbook)
    query = urlencode([*(("mark", m) for m in form.every("mark")), ("count", count), ("longest", form.text("longest"))])
    return page(
        request,
        "seabed_next.html",
        room="Seabed",
        status=200 if form.good else 422,
        form=form,
        plan=plan,
        marks=sorted((m.name for m in answer.solution.marks), key=natural),
        unsolved=answer.solution.unsolved,
        chosen=set(form.every("mark")),
        query=query,
        pairs=pairs_text([(t.a, t.b) for t in plan.tapes]) if plan else "",
    )


@router.get("/seabed/sheets/tape.pdf")
def tape_sheet(
    request: Request,
    house: TheHouse,
    mark: Marks = None,
    count: Short = "12",
    longest: Short = "",
    paper: Short = "a5",
    expected: Short = "",
) -> Response:
    """Print tomorrow's tape sheet; with count 0 an empty one."""
    form = Form({"mark": mark or [], "count": [count], "longest": [longest or f"{LONGEST_M:g}"]})
    plan = _ranked(house, form) if count != "0" else None
    if not form.good:
        return message(request, 422, "No sheet", [said for _, said in form.listed()], ("/seabed/next", "Ask again"))
    lines = [TapeLine(t.a, t.b, t.length_m) for t in plan.tapes] if plan else []
    data = tape_sheet_pdf(
        lines,
        date=date.today(),
        paper=paper,
        title=house.title,
        expected=expected == "yes",
        demo=is_demo(house.logbook),
    )
    return _pdf(data, "tape-sheet.pdf")


@router.get("/seabed/sheets/depth.pdf")
def depth_sheet(
    house: TheHouse, mark: Marks = None, bench: Annotated[str, Query(max_length=100)] = "", paper: Short = "a5"
) -> Response:
    """Print the depth sheet: the marks asked for, or those that have no depth yet."""
    data = depth_sheet_pdf(
        mark or marks_without_depth(house.logbook),
        date=date.today(),
        paper=paper,
        title=house.title,
        bench=bench,
        demo=is_demo(house.logbook),
    )
    return _pdf(data, "depth-sheet.pdf")


def _ranked(house: House, form: Form) -> TapePlan | None:
    text = form.text("count").strip()
    count = int(text) if text.isdecimal() else 0
    if not count:
        form.wrong("count", f'"{text}" is no number of tapes; write a whole number, such as 12.')
    longest = LONGEST_M
    try:
        longest = read(form.text("longest"), "length", unit="m").value
    except QuantityError as error:
        form.wrong("longest", f"{error}.")
    if not form.good:
        return None
    try:
        return tapes_for_tomorrow(house.logbook, marks=form.every("mark"), count=count, longest_m=longest)
    except OakumError as error:
        form.wrong("longest" if "longest" in str(error) else "count", str(error))
        return None


def _pdf(data: bytes, name: str) -> Response:
    return Response(
        data, media_type="application/pdf", headers={"Content-Disposition": f'inline; filename="{name}"'}
    )
