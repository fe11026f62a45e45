"""Roles of a lift: who holds each, whether they said yes, and whether they are in the water."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query, Request
from starlette.responses import Response

from oakum.desk.finds.entering import FieldErrors
from oakum.desk.people import give_role
from oakum.ground.errors import OakumError
from oakum.lift.raising import RoleHeld
from oakum.web.ask import TheHouse, author_in, done, find_or_404, person_in, writer_of
from oakum.web.forms import Form, SentForm
from oakum.web.house import House
from oakum.web.pages.plan import planned_or_404
from oakum.web.render import page

router = APIRouter()
FLAG = {"yes": True, "no": False}
RoleName = Annotated[str, Query(max_length=100)]


@router.get("/lifts/{find_id}/plan/role")
def role_form(request: Request, house: TheHouse, find_id: str, role: RoleName = "") -> Response:
    """Ask who holds a role."""
    held = _held(house, find_id, role)
    form = Form.of({"author": writer_of(request), "role": role})
    if held is not None:
        said = {True: "yes", False: "no", None: ""}
        form.typed["person"] = [held.person or ""]
        form.typed["confirmed"] = [said[held.confirmed]]
        form.typed["in_water"] = [said[held.in_water]]
    return _role_page(request, house, find_id, held, form)


@router.post("/lifts/{find_id}/plan/role")
def give(request: Request, house: TheHouse, find_id: str, form: SentForm) -> Response:
    """Give the role."""
    find = find_or_404(house, find_id)
    author = author_in(form)
    role = form.need("role", "Name the role, such as lift leader.")
    person = person_in(form, house, "person", "Choose the named person who holds it.")
    if form.good:
        try:
            entry = give_role(
                house.logbook,
                find.id,
                role,
                person,
                author=author,
                confirmed=FLAG.get(form.text("confirmed")),
                in_water=FLAG.get(form.text("in_water")),
                reason=form.text("reason"),
            )
        except FieldErrors as error:
            for name, words in error.wrong.items():
                form.wrong(name, words)
        except OakumError as error:
            form.wrong("role", str(error))
        else:
            if entry is None:
                form.wrong("person", "This is what the logbook says already; nothing was entered.")
    if not form.good:
        return _role_page(request, house, find.id, _held(house, find.id, role), form, status=422)
    return done(f"/lifts/{find.id}/plan", "role", author=author, anchor="roles")


def _held(house: House, find_id: str, role: str) -> RoleHeld | None:
    plan = planned_or_404(house, find_id, None).plan
    return next((one for one in plan.roles if one.role.casefold() == role.casefold()), None)


def _role_page(
    request: Request, house: House, find_id: str, held: RoleHeld | None, form: Form, status: int = 200
) -> Response:
    needs = () if held is None else tuple(one for one in held.needs if one != "none")
    people = house.logbook.people()
    return page(
        request,
        "plan_role.html",
        room="Lifts",
        status=status,
        find=find_or_404(house, find_id),
        held=held,
        needs=needs,
        form=form,
        named=[(person.id, f"{person.name}, {person.role}") for person in people],
        able=[
            person.name for person in people if needs and all(person.competence(one) for one in needs)
        ],
    )
