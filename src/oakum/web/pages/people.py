"""People: names and competences beside the logbook, which knows only their ids; both can be erased."""

from __future__ import annotations

from datetime import date

from fastapi import APIRouter, Request
from starlette.responses import Response

from oakum.desk.lifts.hazards import ASKS_FOR
from oakum.desk.people import enter_competence
from oakum.ground.errors import OakumError
from oakum.record import NEVER_LAPSES
from oakum.record.log.fact_checks import ROLES
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


@router.post("/logbook/people/competence")
def keep_competence(request: Request, house: TheHouse, form: SentForm) -> Response:
    """Say what a person is qualified or fit for, or forget it; none of it enters the logbook."""
    person = form.need("person", "Choose whose competence it is.")
    name = form.need("competence", "Name the competence, such as slinger.")
    if form.good and form.text("do") == "forget":
        if not house.logbook.remove_competence(person, name):
            form.wrong("competence", "No competence of this name is kept of this person.")
    elif form.good:
        try:
            enter_competence(
                house.logbook, person, name, until=form.text("until"), evidence=form.text("evidence")
            )
        except OakumError as error:
            form.wrong("until" if "until" in str(error) else "competence", str(error))
    if not form.good:
        return _people_page(request, house, form, status=422)
    return done("/logbook/people", "competence")


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
    registered, day = house.logbook.people(), date.today().isoformat()
    kept = {held.competence for person in registered for held in person.competences}
    return page(
        request,
        "people.html",
        room="Logbook",
        status=status,
        form=form,
        registered=registered,
        named=list(house.names().items()),
        known=sorted(kept | set(ASKS_FOR.values())),
        never=NEVER_LAPSES,
        lapsed=lambda held: held.holds_on(day) is False,
        roles=roles,
    )
