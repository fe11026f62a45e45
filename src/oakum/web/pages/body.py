"""The body editor: a list of parts in the order of the measuring card, the text behind it, and a drawing of both.

Nothing is stored until the body is kept; until then the form itself is the state, so that a page can be sent
back and forth without a script.
"""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from starlette.responses import Response

from oakum.desk.lifts.bodies import BodyError, keep_body, mesh_files
from oakum.desk.lifts.part_list import FIELDS, PartFields, PartListError, part_list, with_part, without_part
from oakum.desk.lifts.weigh import weigh_find, weigh_text
from oakum.draw.body import body_rows, elevation, plan
from oakum.ground.errors import OakumError
from oakum.ground.materials import materials
from oakum.lift import ROLES, BodyFileError, Problem, WeightReport, starting_bodies
from oakum.lift.body.shapes import KINDS, SHAPES, alternatives
from oakum.record import Find
from oakum.web.ask import TheHouse, author_in, done, find_or_404, writer_of
from oakum.web.forms import Form, SentForm
from oakum.web.house import House
from oakum.web.pages.lifts import DRAWN
from oakum.web.render import fragment, page

router = APIRouter()
EMPTY = 'title = "{}"\nwater = "sea"\n'


@router.get("/lifts/{find_id}/body")
def editor(
    request: Request, house: TheHouse, find_id: str, start: Annotated[str, Query(max_length=40)] = ""
) -> Response:
    """Show the body that stands, or a starting body to edit, or the choice of one."""
    find = find_or_404(house, find_id)
    toml = str(find.fields.get("toml") or "")
    bodies = starting_bodies()
    if start:
        toml = bodies[start].toml if start in bodies else EMPTY.format(find.title.replace('"', "'"))
    if not toml:
        return page(request, "body_start.html", room="Lifts", find=find, bodies=bodies.values())
    return _editor_page(request, house, find, Form.of({"toml": toml, "author": writer_of(request)}))


@router.post("/lifts/{find_id}/body")
def edit(request: Request, house: TheHouse, find_id: str, form: SentForm) -> Response:
    """Do one step of the editing; only "keep" enters anything."""
    find = find_or_404(house, find_id)
    what, _, which = form.text("do").partition(":")
    index = int(which) if which.isdecimal() else None
    if what == "keep":
        return _keep(request, house, find, form)
    open_part: int | None = None
    try:
        if what == "put":
            return _put_part(request, house, find, form)
        if what == "shape":
            return _part_form(find, form)
        if what == "reshape":
            open_part = int(form.text("part_index") or -1)
        elif what == "add":
            open_part = -1
            form.typed |= {field: [""] for field in FIELDS}
        elif what == "change" and index is not None:
            parts = part_list(form.text("toml"))
            open_part = index
            form.typed |= {field: [parts[index].fields.get(field, "")] for field in FIELDS}
        elif what == "remove" and index is not None:
            form.typed["toml"] = [without_part(form.text("toml"), index)]
    except (PartListError, IndexError) as error:
        form.wrong("toml", str(error))
    return _editor_page(request, house, find, form, open_part=open_part)


def _put_part(request: Request, house: House, find: Find, form: Form) -> Response:
    """Write the part form into the text; a part with something wrong stays open in the form."""
    chosen = form.text("part_index")
    index = int(chosen) if chosen.isdecimal() else None
    old = form.text("toml")
    if form.value("name") is None:
        form.wrong("name", "Give the part a name, such as barrel.")
    if form.value("shape") is None:
        form.wrong("shape", "Choose the shape that comes nearest.")
    if form.good:
        new = with_part(old, _part_fields(form), index)
        at = index if index is not None else len(part_list(new)) - 1
        part = part_list(new)[at]
        for problem in _problems(house, find, new):
            if part.first <= problem.line <= part.last:
                form.wrong(
                    _field_of(problem),
                    f"{problem.key}: {problem.message}" if problem.key else problem.message,
                )
        if form.good:
            form.typed["toml"] = [new]
            return _editor_page(request, house, find, form)
    return _editor_page(request, house, find, form, open_part=index if index is not None else -1, status=422)


def _keep(request: Request, house: House, find: Find, form: Form) -> Response:
    author = author_in(form)
    if form.good:
        try:
            keep_body(house.logbook, find, form.text("toml"), author=author, reason=form.text("reason"))
        except BodyFileError as error:
            form.wrong(
                "toml", f"{len(error.problems)} to put right in the text; each stands below with its line."
            )
        except BodyError as error:
            form.wrong("reason", str(error))
        except OakumError as error:
            form.wrong("", str(error))
    if not form.good:
        return _editor_page(request, house, find, form, status=422)
    return done(f"/lifts/{find.id}", "body", author=author)


def _part_fields(form: Form) -> dict[str, str]:
    """Return the fields of the part form; measures that the chosen shape does not have are taken out."""
    fields = {field: form.text(field) for field in FIELDS}
    wanted = _measures(form.text("shape"))
    for field in _every_measure():
        if field not in wanted:
            fields[field] = ""
    if fields.get("count", "").strip() == "1":
        fields["count"] = ""
    return fields


def _measures(shape: str) -> list[str]:
    """Return the keys a shape is measured by, each with the other ways of measuring the same."""
    if shape == "lump":
        return ["mass", "volume"]
    if shape not in SHAPES:
        return []
    return [way for key in SHAPES[shape].keys for way in alternatives(key) if way in FIELDS]


def _every_measure() -> set[str]:
    return {way for kind in SHAPES for way in _measures(kind)} | {"mass", "volume"}


def _field_of(problem: Problem) -> str:
    key, _, what = problem.key.partition(" of ")
    if what.startswith("coat"):
        return {"thickness": "crust", "covers": "crust_covers", "material": "crust_material"}.get(
            key, "crust"
        )
    return key if key in FIELDS else "name"


def _problems(house: House, find: Find, toml: str) -> tuple[Problem, ...]:
    try:
        weigh_text(toml, name=find.number or "body", files=mesh_files(house.logbook, find, toml))
    except BodyFileError as error:
        return error.problems
    return ()


def _weighed(house: House, find: Find, toml: str) -> WeightReport:
    """Weigh the text; the one that is kept with its load-cell readings, as its own page does."""
    if find.fields.get("toml") == toml:
        return weigh_find(house.logbook, find.id).report
    return weigh_text(toml, name=find.number or "body", files=mesh_files(house.logbook, find, toml))


def _part_form(find: Find, form: Form) -> Response:
    return fragment(
        "part_form.html", form=form, open_part=form.text("part_index"), **_part_form_values(find, form)
    )


def _part_form_values(find: Find, form: Form) -> dict[str, Any]:
    try:
        names = [part.fields.get("name", "") for part in part_list(form.text("toml"))]
    except PartListError:
        names = []
    return {
        "here": f"/lifts/{find.id}/body",
        "part_names": [(name, name) for name in names if name],
        "shapes": KINDS,
        "roles": [(role, role) for role in ROLES if role != "object"],
        "materials": list(materials()),
        "measures": _measures(form.text("shape")),
    }


def _editor_page(
    request: Request,
    house: House,
    find: Find,
    form: Form,
    *,
    open_part: int | None = None,
    status: int = 200,
) -> Response:
    toml = form.text("toml")
    parts: tuple[PartFields, ...] = ()
    problems: tuple[Problem, ...] = ()
    drawn: dict[str, Any] = {"report": None}
    try:
        parts = part_list(toml)
        report = _weighed(house, find, toml)
        drawn = {
            "report": report,
            "elevation_svg": elevation(report, width=DRAWN),
            "plan_svg": plan(report, width=DRAWN),
            "rows": body_rows(report),
        }
    except BodyFileError as error:
        problems = error.problems
    except PartListError as error:
        form.wrong("toml", str(error))
    except OakumError as error:
        form.wrong("", str(error))
    kept = find.fields.get("toml")
    return page(
        request,
        "body.html",
        room="Lifts",
        status=status,
        find=find,
        form=form,
        parts=parts,
        problems=problems,
        open_part=open_part,
        is_kept=kept is not None and kept == toml,
        was_kept=kept is not None,
        **drawn,
        **_part_form_values(find, form),
    )
