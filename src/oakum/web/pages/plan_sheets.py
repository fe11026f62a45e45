"""The sheets of a plan: for the deck, for each role, for the file, and the plan as JSON."""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import Annotated

from fastapi import APIRouter, Query
from starlette.exceptions import HTTPException
from starlette.responses import JSONResponse, Response

from oakum.desk.demo.project import is_demo
from oakum.desk.lifts.happened import happened
from oakum.desk.lifts.plan import PlanAnswer
from oakum.desk.lifts.sea_run_kept import kept_run
from oakum.draw.hook_load import LoadPoint
from oakum.lift.raising import plan_dict
from oakum.report import SheetError, deck_sheet_pdf, plan_file_pdf, role_cards_pdf
from oakum.web.after_view import load_points
from oakum.web.ask import TheHouse
from oakum.web.house import House
from oakum.web.pages.plan import Day, planned_or_404

router = APIRouter()


@router.get("/lifts/{find_id}/plan/deck.pdf")
def deck(house: TheHouse, find_id: str, on: Day = None) -> Response:
    """Give the deck sheet."""
    answer = planned_or_404(house, find_id, on)
    try:
        pdf = deck_sheet_pdf(answer.plan, date=_today(), demo=is_demo(house.logbook))
    except SheetError as error:
        raise HTTPException(422, str(error)) from error
    return _pdf(answer, pdf, "deck")


@router.get("/lifts/{find_id}/plan/cards.pdf")
def cards(
    house: TheHouse,
    find_id: str,
    role: Annotated[list[str] | None, Query()] = None,
    on: Day = None,
) -> Response:
    """Give a card for each role, or for those that are named."""
    answer = planned_or_404(house, find_id, on)
    try:
        pdf = role_cards_pdf(
            answer.plan, date=_today(), names=house.names(), roles=role, demo=is_demo(house.logbook)
        )
    except SheetError as error:
        raise HTTPException(422, str(error)) from error
    return _pdf(answer, pdf, "cards")


@router.get("/lifts/{find_id}/plan/file.pdf")
def whole(house: TheHouse, find_id: str, on: Day = None) -> Response:
    """Give the whole plan for the file."""
    answer = planned_or_404(house, find_id, on)
    seas = kept_run(house.logbook.folder, answer)
    pdf = plan_file_pdf(
        answer.plan,
        date=_today(),
        names=house.names(),
        points=_points(house, answer),
        seas=seas,
        seas_fit=seas is not None and seas.fits(answer),
        demo=is_demo(house.logbook),
    )
    return _pdf(answer, pdf, "plan")


@router.get("/lifts/{find_id}/plan/plan.json")
def as_json(house: TheHouse, find_id: str, on: Day = None) -> Response:
    """Give the plan with units in its keys; people by id."""
    answer = planned_or_404(house, find_id, on)
    return JSONResponse(plan_dict(answer.plan), headers=_named(answer, "plan", "json"))


def _points(house: House, answer: PlanAnswer) -> tuple[LoadPoint, ...]:
    return load_points(happened(house.logbook, answer).compared, house.names())


def _pdf(answer: PlanAnswer, pdf: bytes, what: str) -> Response:
    return Response(pdf, media_type="application/pdf", headers=_named(answer, what, "pdf"))


def _named(answer: PlanAnswer, what: str, ending: str) -> dict[str, str]:
    name = "".join(c if c.isalnum() or c == "-" else "_" for c in answer.find.number or "find")
    return {"Content-Disposition": f'attachment; filename="{what}_{name}.{ending}"'}


def _today() -> date:
    return datetime.now(UTC).astimezone().date()
