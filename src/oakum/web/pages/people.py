"""People: names beside the logbook, which knows only their ids; a name can be erased."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import Response

from oakum.ground.errors import OakumError
from oakum.record.fact_checks import ROLES
from oakum.web.ask import TheHouse, done
from oakum.web.forms import Form, SentForm
from oakum.web.house import House
from oakum.web.render import page

router = APIRouter()


@router.get("/logbook/people")
def people(request: Request, house: TheHouse) -> Response:
    """List who is registered."""
    return _people_page(request, house, Form())


@router.post("/logbook/people")
def add_person(request: Request, house: TheHouse, form: SentForm) -> Response:
    """Register a person."""
    name = form.need("name", "Write the name, or the alias the person wants to be known by.")
    role = form.need("role", "Choose what the person does.")
    if form.good:
        try:
            house.logbook.add_person(name, role)
        except OakumError as error:
            form.wrong("name", str(error))
    if not form.good:
        return _people_page(request, house, form, status=422)
    return done("/logbook/people", "person")


@router.post("/logbook/people/{person_id}/erase")
def erase_person(request: Request, house: TheHouse, person_id: str, form: SentForm) -> Response:
    """Forget a name; entries keep the id, which then stands for nobody."""
    if form.text("sure") != "yes":
        form.wrong("", "Tick the box beside the name to erase it; it cannot be brought back.")
        return _people_page(request, house, form, status=422)
    house.logbook.erase_person(person_id)
    return done("/logbook/people", "erased")


def _people_page(request: Request, house: House, form: Form, status: int = 200) -> Response:
    roles = [(role, role.replace("-", " ")) for role in sorted(ROLES - {"program"})]
    return page(
        request,
        "people.html",
        room="Logbook",
        status=status,
        form=form,
        registered=house.logbook.people(),
        roles=roles,
    )
