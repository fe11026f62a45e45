"""Plan of a lift: verdict, rig with its controls, steps, people, gear; what is tried is shown as tried."""

from __future__ import annotations

from datetime import date
from typing import Annotated

from fastapi import APIRouter, Query, Request
from starlette.exceptions import HTTPException
from starlette.responses import RedirectResponse, Response

from oakum.desk.lifts.plan import NoRigError, PlanAnswer
from oakum.desk.lifts.plan_kept import plan_as_kept
from oakum.desk.lifts.what_if import Knobs, WhatIf, knobs_of, what_if
from oakum.ground.errors import OakumError
from oakum.report import plan_phrases as say
from oakum.report import plan_tables as tables
from oakum.web.ask import TheHouse, find_or_404
from oakum.web.house import House
from oakum.web.knobs import Controls, Turned, rig_controls
from oakum.web.pages.lifts import long_weighing
from oakum.web.plan_view import (
    Rigged,
    bag_figures,
    from_above,
    load_figure,
    rigged,
    sling_tables,
    turning_figure,
)
from oakum.web.render import fragment, page
from oakum.web.sea_view import cradle_shown, sea_knobs, sea_shown

router = APIRouter()
Day = Annotated[date | None, Query(alias="on")]


def planned_or_404(house: House, find_id: str, on: date | None) -> PlanAnswer:
    """Return the plan of a find, or end the request with a page that says why there is none."""
    find = find_or_404(house, find_id)
    if find.fields.get("toml") is None:
        raise HTTPException(404, f"{find.number or find.title} has no body yet, so no lift can be planned.")
    try:
        return plan_as_kept(house.logbook, find.id, on=on or date.today())
    except NoRigError as error:
        raise HTTPException(404, str(error)) from error


@router.get("/lifts/{find_id}/plan")
def show_plan(request: Request, house: TheHouse, find_id: str, turned: Controls, on: Day = None) -> Response:
    """Show the plan, or go where what it lacks is described."""
    find = find_or_404(house, find_id)
    if find.fields.get("toml") is None:
        return RedirectResponse(f"/lifts/{find.id}/body", status_code=303)
    if not any(head.value for head in find.heads.get("rig", ())):
        return RedirectResponse(f"/lifts/{find.id}/rig", status_code=303)
    if (job := long_weighing(house, find)) is not None:
        return RedirectResponse(f"/jobs/{job.id}", status_code=303)
    answer = planned_or_404(house, find.id, on)
    return _plan_page(request, house, answer, turned)


@router.get("/lifts/{find_id}/plan/try")
def try_it(house: TheHouse, find_id: str, turned: Controls, on: Day = None) -> Response:
    """Answer the controls: the plan with another rig, nothing entered."""
    answer = planned_or_404(house, find_id, on)
    return fragment("plan_rig.html", rigged=tried(answer, turned), find=answer.find, names=house.names())


def tried(answer: PlanAnswer, turned: Turned) -> Rigged:
    """Return the rig as the controls have it; the kept one, and why, where that cannot be tried."""
    return rigged(answer, *what_is_tried(answer, turned))


def what_is_tried(answer: PlanAnswer, turned: Turned) -> tuple[WhatIf | None, str]:
    """Return the plan as the controls have it, None where nothing is turned, and why it cannot be tried."""
    asked = turned.knobs()
    if asked == Knobs():
        return None, ""
    try:
        return what_if(answer, asked), ""
    except OakumError as error:
        return None, str(error)


def _plan_page(request: Request, house: House, answer: PlanAnswer, turned: Turned) -> Response:
    plan, find = answer.plan, answer.find
    what, refused = what_is_tried(answer, turned)
    shown = rigged(answer, what, refused)
    sea = sea_shown(answer, what, refused)
    controls, headings = sea_knobs(sea)
    names = house.names()
    kept = knobs_of(plan)
    return page(
        request,
        "plan.html",
        room="Lifts",
        find=find,
        plan=plan,
        state=answer.state,
        on=answer.on.isoformat(),
        rigged=shown,
        knobs=rig_controls(kept, shown.knobs),
        sea=sea,
        sea_knobs=controls,
        headings=headings,
        is_sea_turned=turned.is_sea,
        cradle=cradle_shown(plan),
        questions=house.logbook.open_questions(find.id),
        stage=say.STAGES[plan.stage],
        above=from_above(plan),
        load=load_figure(plan),
        bags=bag_figures(plan),
        bag_lines=() if plan.bags is None else tables.bag_lines(plan.bags, plan.cell_unit),
        turnings=[
            (one.name, tables.turning_lines(one, plan.cell_unit), turning_figure(one, plan.cell_unit))
            for one in plan.turning
        ],
        slings=sling_tables(plan),
        minutes=say.minutes_words,
        total=say.total_words(plan),
        helps=[(one, *say.help_words(one)) for one in plan.helps],
        pieces=_piece_ids(house),
        role_state=say.role_state,
        wll=say.wll_words,
        origin=say.origin_words(plan),
        names=names,
    )


def _piece_ids(house: House) -> dict[str, str]:
    """Return the id of every piece by its identity and by its name, for links."""
    found: dict[str, str] = {}
    for piece in house.logbook.gear():
        found[piece.name] = piece.id
        found[piece.identity] = piece.id
    return found
