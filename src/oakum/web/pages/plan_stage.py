"""Moving a plan on: briefed, released by two named people, lifted, given up."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated, Literal

from fastapi import APIRouter, Path, Request
from starlette.responses import Response

from oakum.desk.finds.entering import FieldErrors
from oakum.desk.lifts.plan_stages import abandon, brief, finish, release
from oakum.ground.errors import OakumError
from oakum.report import plan_phrases as say
from oakum.web.ask import TheHouse, done, person_in, writer_of
from oakum.web.forms import Form, SentForm
from oakum.web.house import House
from oakum.web.pages.plan import Day, planned_or_404
from oakum.web.render import page

router = APIRouter()
Move = Literal["brief", "release", "done", "abandon"]


@dataclass(frozen=True, slots=True)
class Asked:
    """What a page asks before a plan moves on."""

    title: str
    lead: str
    button: str
    said: str


ASKED: dict[Move, Asked] = {
    "brief": Asked(
        "It was briefed",
        "Everybody heard the plan as it stands below and said their role. What changes afterwards asks for "
        "another briefing.",
        "Enter the briefing",
        "briefed",
    ),
    "release": Asked(
        "Release it",
        "You release this plan as one of two named people: these weights, this rig, this gear. Any change "
        "afterwards withdraws the release.",
        "I release this plan",
        "released",
    ),
    "done": Asked(
        "It was lifted",
        "Then enter what happened, while everybody still knows.",
        "Enter it as done",
        "done",
    ),
    "abandon": Asked(
        "Give it up",
        "The plan stays in the logbook with the reason; a new briefing begins a new one.",
        "Give it up",
        "abandoned",
    ),
}
TheMove = Annotated[Move, Path()]


@router.get("/lifts/{find_id}/plan/stage/{move}")
def stage_form(request: Request, house: TheHouse, find_id: str, move: TheMove, on: Day = None) -> Response:
    """Ask for the name under it."""
    form = Form.of({"author": writer_of(request)})
    return _stage_page(request, house, find_id, move, on, form)


@router.post("/lifts/{find_id}/plan/stage/{move}")
def move_on(
    request: Request, house: TheHouse, find_id: str, move: TheMove, form: SentForm, on: Day = None
) -> Response:
    """Enter it."""
    author = person_in(form, house, "author", "Choose your name: a role is not enough here.")
    if form.good:
        try:
            _enter(house, find_id, move, on or date.today(), form, author)
        except FieldErrors as error:
            for name, words in error.wrong.items():
                form.wrong(name, f"{words[:1].upper()}{words[1:]}")
        except OakumError as error:
            form.wrong("", str(error))
    if not form.good:
        return _stage_page(request, house, find_id, move, on, form, status=422)
    where = "after" if move == "done" else "plan"
    return done(f"/lifts/{find_id}/{where}", ASKED[move].said, author=author)


def _enter(house: House, find_id: str, move: Move, on: date, form: Form, author: str) -> None:
    note = form.text("note")
    match move:
        case "brief":
            brief(house.logbook, find_id, on=on, author=author, note=note)
        case "release":
            release(house.logbook, find_id, on=on, author=author, despite=form.text("despite"), note=note)
        case "done":
            finish(house.logbook, find_id, on=on, author=author, note=note)
        case "abandon":
            abandon(house.logbook, find_id, form.text("why"), author=author, note=note)


def _stage_page(
    request: Request, house: House, find_id: str, move: Move, on: date | None, form: Form, status: int = 200
) -> Response:
    answer = planned_or_404(house, find_id, on)
    names = house.names()
    return page(
        request,
        "plan_stage.html",
        room="Lifts",
        status=status,
        find=answer.find,
        plan=answer.plan,
        state=answer.state,
        stage=say.STAGES[answer.plan.stage],
        summary=(*say.hook_lines(answer.plan), ("", say.governing_words(answer.plan))),
        fingerprint=answer.plan.fingerprint,
        move=move,
        asked=ASKED[move],
        on=answer.on.isoformat(),
        form=form,
        named=list(names.items()),
        names=names,
    )
