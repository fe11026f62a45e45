"""Plan of a lift: verdict, rig with its controls, steps, people, gear; what is tried is shown as tried."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated

from fastapi import APIRouter, Depends, Query, Request
from starlette.exceptions import HTTPException
from starlette.responses import RedirectResponse, Response

from oakum.desk.lifts.plan import NoRigError, PlanAnswer
from oakum.desk.lifts.plan_kept import plan_as_kept
from oakum.desk.lifts.what_if import MOST_BAGS, Knobs, knobs_of, what_if
from oakum.ground.errors import OakumError
from oakum.report import plan_phrases as say
from oakum.report import plan_tables as tables
from oakum.web.ask import TheHouse, find_or_404
from oakum.web.house import House
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

router = APIRouter()
STEP = {"bags": 1.0, "hook": 0.1, "legs": 0.1}
Metres = Annotated[float | None, Query(gt=0, le=100, allow_inf_nan=False)]
Day = Annotated[date | None, Query(alias="on")]


@dataclass(frozen=True, slots=True)
class Turned:
    """The controls as they came. `shown_*` is what stood in them before, so that the one that was moved is known."""

    bags: Annotated[int | None, Query(ge=0, le=1000)] = None
    hook: Metres = None
    legs: Metres = None
    shown_hook: Metres = None
    shown_legs: Metres = None
    step: Annotated[str, Query(max_length=20)] = ""

    def knobs(self) -> Knobs:
        """Return what is asked for: of hook and legs only the one that was moved, else the hook."""
        bags, hook, legs = self.bags, self.hook, self.legs
        what, _, by = self.step.partition(":")
        sign = {"more": 1.0, "less": -1.0}.get(by, 0.0)
        if what == "bags" and bags is not None:
            bags += int(sign)
        if what == "hook" and hook is not None:
            return Knobs(bags, round(hook + sign * STEP["hook"], 3))
        if what == "legs" and legs is not None:
            return Knobs(bags, None, round(legs + sign * STEP["legs"], 3))
        if legs is not None and (hook is None or (legs != self.shown_legs and hook == self.shown_hook)):
            return Knobs(bags, None, legs)
        return Knobs(bags, hook)


Controls = Annotated[Turned, Depends(Turned)]


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
    return _plan_page(request, house, answer, _tried(answer, turned))


@router.get("/lifts/{find_id}/plan/try")
def try_it(house: TheHouse, find_id: str, turned: Controls, on: Day = None) -> Response:
    """Answer the controls: the plan with another rig, nothing entered."""
    answer = planned_or_404(house, find_id, on)
    return fragment("plan_rig.html", rigged=_tried(answer, turned), find=answer.find, names=house.names())


def _tried(answer: PlanAnswer, turned: Turned) -> Rigged:
    asked = turned.knobs()
    if asked == Knobs():
        return rigged(answer, None)
    try:
        return rigged(answer, what_if(answer, asked))
    except OakumError as error:
        return rigged(answer, None, str(error))


def _plan_page(request: Request, house: House, answer: PlanAnswer, shown: Rigged) -> Response:
    plan, find = answer.plan, answer.find
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
        knobs=_controls(kept, shown.knobs),
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


def _controls(kept: Knobs, now: Knobs) -> list[tuple[str, str, float, float, float, float, float]]:
    """Return name, label, value, least, most, step and step of the buttons of every control this rig has."""
    found: list[tuple[str, str, float, float, float, float, float]] = []
    if kept.bags is not None and now.bags is not None:
        found.append(("bags", "Bags", now.bags, 1, MOST_BAGS, 1, 1))
    for name, label, was, value in (
        ("hook", "Hook over the topmost eye, m", kept.hook_m, now.hook_m),
        ("legs", "Legs, mean length, m", kept.legs_m, now.legs_m),
    ):
        if was is not None and value is not None:
            low, high = round(max(0.3 * was, 0.1), 1), round(2.5 * was, 1)
            found.append((name, label, round(value, 2), low, high, 0.01, STEP[name]))
    return found


def _piece_ids(house: House) -> dict[str, str]:
    """Return the id of every piece by its identity and by its name, for links."""
    found: dict[str, str] = {}
    for piece in house.logbook.gear():
        found[piece.name] = piece.id
        found[piece.identity] = piece.id
    return found
