"""The cradle of a find: drawings, what it bears, what is sawn; its text to edit, and the sheet to build it from."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from starlette.exceptions import HTTPException
from starlette.responses import RedirectResponse, Response

from oakum.desk.demo.project import is_demo
from oakum.desk.finds.entering import FieldErrors
from oakum.desk.lifts.cradles import (
    CradleShown,
    CradleUnknownError,
    cradle_of,
    keep_cradle,
    parsed_cradle,
    show_cradle,
    shown_with,
)
from oakum.draw.cradle import VIEWS, assembly_drawing, assembly_rows, frame_use, joint_rows, use_rows
from oakum.draw.utilisation import utilisation_bars, utilisation_rows
from oakum.ground.errors import OakumError
from oakum.lift import Problem
from oakum.lift.cradle import STARTING_CRADLES, CradleError, CradleFileError, built, starting_cradle
from oakum.record import Find
from oakum.report import SheetError, cradle_sheet_pdf
from oakum.report.cradle_sheet import buy_lines, cut_lines, step_lines
from oakum.report.plan_cradle import cradle_lead, stand_rows, state_rows, touch_lines
from oakum.web.ask import TheHouse, author_in, done, find_or_404, writer_of
from oakum.web.forms import Form, SentForm
from oakum.web.house import House
from oakum.web.render import page

router = APIRouter()
DRAWN = 420.0
_BARS = 12


@router.get("/lifts/{find_id}/cradle")
def show(request: Request, house: TheHouse, find_id: str) -> Response:
    """Show the cradle that stands; the choice of one to begin with where there is none."""
    find = find_or_404(house, find_id)
    try:
        if cradle_of(find) is None:
            return page(request, "cradle_start.html", room="Lifts", find=find, starts=STARTING_CRADLES)
    except CradleFileError:
        return RedirectResponse(f"/lifts/{find.id}/cradle/edit", status_code=303)
    shown = show_cradle(house.logbook, find.id)
    return page(request, "cradle.html", room="Lifts", find=find, **cradle_view(shown))


@router.get("/lifts/{find_id}/cradle/edit")
def editor(
    request: Request, house: TheHouse, find_id: str, start: Annotated[str, Query(max_length=40)] = ""
) -> Response:
    """Show the text of the cradle, or one to begin with."""
    find = find_or_404(house, find_id)
    form = Form.of({"author": writer_of(request)})
    held = [str(head.value) for head in find.heads.get("cradle", ()) if head.value is not None]
    try:
        toml = starting_cradle(start) if start else held[-1] if held else ""
    except CradleError as error:
        raise HTTPException(404, str(error)) from error
    if not toml:
        return RedirectResponse(f"/lifts/{find.id}/cradle", status_code=303)
    form.typed["toml"] = [toml]
    return _editor_page(request, house, find, form)


@router.post("/lifts/{find_id}/cradle/edit")
def edit(request: Request, house: TheHouse, find_id: str, form: SentForm) -> Response:
    """Look at a text, or keep it; only "keep" enters anything."""
    find = find_or_404(house, find_id)
    if form.text("do") != "keep":
        return _editor_page(request, house, find, form)
    author = author_in(form)
    if form.good:
        try:
            keep_cradle(house.logbook, find.id, form.text("toml"), author=author, reason=form.text("reason"))
        except CradleFileError as error:
            form.wrong("toml", f"{len(error.problems)} to put right in the text; each stands below with its line.")
        except FieldErrors as error:
            for name, said in error.wrong.items():
                form.wrong(name, said)
        except CradleUnknownError as error:
            form.wrong("toml", str(error))
        except OakumError as error:
            form.wrong("", str(error))
    if not form.good:
        return _editor_page(request, house, find, form, status=422)
    return done(f"/lifts/{find.id}/cradle", "cradle", author=author)


@router.get("/lifts/{find_id}/cradle/sheet.pdf")
def sheet(house: TheHouse, find_id: str) -> Response:
    """Give the sheet to build the cradle from."""
    find = find_or_404(house, find_id)
    try:
        shown = show_cradle(house.logbook, find.id)
    except CradleUnknownError as error:
        raise HTTPException(404, str(error)) from error
    try:
        pdf = cradle_sheet_pdf(
            shown.plan,
            shown.report,
            date=datetime.now(UTC).astimezone().date(),
            number=find.number or "",
            demo=is_demo(house.logbook),
        )
    except SheetError as error:
        raise HTTPException(422, str(error)) from error
    name = "".join(c if c.isalnum() or c == "-" else "_" for c in find.number or "find")
    headers = {"Content-Disposition": f'attachment; filename="cradle_{name}.pdf"'}
    return Response(pdf, media_type="application/pdf", headers=headers)


def cradle_view(shown: CradleShown) -> dict[str, Any]:
    """Return everything a page shows of a cradle."""
    plan, report = shown.plan, shown.report
    values: dict[str, Any] = {"shown": shown, "plan": plan, "report": report, "made": None, "use": None, "bars": None}
    if plan.frame is not None:
        made = built(plan)
        frame = None if report is None else report.frame
        values |= {
            "made": made,
            "cut": cut_lines(made),
            "buy": buy_lines(made),
            "steps": step_lines(made),
            "drawings": [(v, assembly_drawing(plan, made, v, width=DRAWN)) for v in VIEWS],
            "members": assembly_rows(made),
            "joints": joint_rows(made, frame),
        }
        if frame is not None:
            values["use"] = (frame_use(plan, frame, width=DRAWN), use_rows(plan, frame, made.marks))
    if report is not None:
        some = report.checks[:_BARS]
        values |= {
            "lead": cradle_lead(report),
            "bars": (utilisation_bars(some, governing=report.governing, width=DRAWN), utilisation_rows(some)),
            "more": utilisation_rows(report.checks[_BARS:]),
            "states": state_rows(report, "kg"),
            "stands": stand_rows(report, "kg"),
            "touch": touch_lines(report, "kg"),
        }
    return values


def _editor_page(
    request: Request, house: House, find: Find, form: Form, *, status: int = 200
) -> Response:
    toml = form.text("toml")
    problems: tuple[Problem, ...] = ()
    tried: dict[str, Any] = {"shown": None}
    try:
        plan = parsed_cradle(toml, find.number or "cradle")
        tried = cradle_view(shown_with(house.logbook, find, toml, plan))
    except CradleFileError as error:
        problems = error.problems
    kept = [head.value for head in find.heads.get("cradle", ()) if head.value is not None]
    return page(
        request,
        "cradle_edit.html",
        room="Lifts",
        status=status,
        find=find,
        form=form,
        problems=problems,
        here=f"/lifts/{find.id}/cradle/edit",
        is_kept=kept == [toml],
        was_kept=bool(kept),
        **tried,
    )
