"""The rig editor: legs and bags as a list, the text behind them, and the plan it would make.

Nothing is stored until the rig is kept; until then the form itself is the state, so that a page can be sent back
and forth without a script.
"""

from __future__ import annotations

from datetime import date
from typing import Annotated, Any, Literal, get_args

from fastapi import APIRouter, Query, Request
from starlette.responses import Response

from oakum.desk.finds.entering import FieldErrors
from oakum.desk.lifts.plan import plan_with
from oakum.desk.lifts.rig_rows import FIELDS, RigRow, What, rig_rows, with_rig_row, without_rig_row
from oakum.desk.lifts.rig_sea import SEA_FIELDS, has_sea, sea_fields, with_sea_fields
from oakum.desk.lifts.rigs import RigError, keep_rig
from oakum.desk.lifts.toml_rows import TomlRowError
from oakum.desk.lifts.vessels import vessels
from oakum.desk.lifts.weigh import NoBodyError, weigh_find
from oakum.desk.lifts.what_if import Knobs, rig_text_with
from oakum.ground.errors import OakumError
from oakum.lift import Problem
from oakum.lift.raising import RigFileError, example_rig, parse_rig
from oakum.lift.slings import FittingKind, Hitch, LegKind
from oakum.lift.vessel import Waters
from oakum.record import Find
from oakum.web.ask import TheHouse, author_in, done, find_or_404, writer_of
from oakum.web.forms import Form, SentForm
from oakum.web.house import House
from oakum.web.knobs import Controls
from oakum.web.pages.plan import planned_or_404
from oakum.web.plan_view import rigged
from oakum.web.render import page

router = APIRouter()
EMPTY = """title = "Rig of {}"
cell_unit = "not known"

[rules]
sharing = "bound"
hitches = "EU"

[hook]
place = "over the hanging point"
level = "in air"
height = "2 m"
"""
EXAMPLE_PLAN_DRAWS = 10_000
SEA_LABELS = (
    ("vessel", "Vessel", "Her name, as under Vessels."),
    ("heading", "Heading to the waves", "As her motions name it: beam seas."),
    ("waters", "Waters", ""),
    ("hs", "Significant wave height Hs", "0.4 m"),
    ("tz", "Mean wave period Tz", "5 s"),
    ("depth", "Depth of the water at the lift", "14 m"),
    ("radius", "Radius of the boom head", "From where the load chart counts: 4 m."),
    ("wind", "Wind", "8 m/s or 16 kn"),
    ("hoist_speed", "Hoist speed at the load", "0.1 m/s"),
)
"""Field, label and hint of the sea's short form."""
Opened = tuple[What | Literal["sea"], int]
"""What stands open in a short form: a leg, a bag or the sea, and which row; -1 is a new one."""


@router.get("/lifts/{find_id}/rig")
def editor(
    request: Request,
    house: TheHouse,
    find_id: str,
    turned: Controls,
    start: Annotated[str, Query(max_length=40)] = "",
) -> Response:
    """Show the rig that stands, with what was tried put into it; or a rig to begin with; or the choice of one."""
    find = find_or_404(house, find_id)
    form = Form.of({"author": writer_of(request)})
    toml = str(find.fields.get("rig") or "")
    if start:
        toml = example_rig() if start == "example" else EMPTY.format(find.title.replace('"', "'"))
    elif toml and turned.knobs() != Knobs():
        try:
            toml, changes = rig_text_with(planned_or_404(house, find.id, None), turned.knobs())
        except OakumError as error:
            form.wrong("toml", f"{error} The text is the one that is kept.")
        else:
            form.typed["reason"] = ["; ".join(changes)]
    if not toml:
        return page(request, "plan_rig_start.html", room="Lifts", find=find)
    form.typed["toml"] = [toml]
    return _editor_page(request, house, find, form)


@router.post("/lifts/{find_id}/rig")
def edit(request: Request, house: TheHouse, find_id: str, form: SentForm) -> Response:
    """Do one step of the editing; only "keep" enters anything."""
    find = find_or_404(house, find_id)
    do, _, rest = form.text("do").partition(":")
    which, _, number = rest.partition(":")
    what: What = "bag" if which == "bag" else "leg"
    index = int(number) if number.isdecimal() else None
    if do == "keep":
        return _keep(request, house, find, form)
    opened: Opened | None = None
    try:
        if do == "put" and which == "sea":
            return _put_sea(request, house, find, form)
        if do == "put":
            return _put(request, house, find, form, what)
        if do == "sea":
            opened = "sea", 0
            form.typed |= {field: [value] for field, value in sea_fields(form.text("toml")).items()}
        if do == "add":
            opened = what, -1
            form.typed |= {field: [""] for field in FIELDS[what]}
        elif do == "change" and index is not None:
            row = rig_rows(form.text("toml"), what)[index]
            opened = what, index
            form.typed |= {field: [row.fields.get(field, "")] for field in FIELDS[what]}
        elif do == "remove" and index is not None:
            form.typed["toml"] = [without_rig_row(form.text("toml"), what, index)]
    except (TomlRowError, IndexError) as error:
        form.wrong("toml", str(error))
    return _editor_page(request, house, find, form, opened=opened)


def _put(request: Request, house: House, find: Find, form: Form, what: What) -> Response:
    """Write the short form into the text; a row with something wrong stays open in the form."""
    chosen = form.text("row_index")
    index = int(chosen) if chosen.isdecimal() else None
    form.need("name", f"Give the {what} a name, such as {'bow port' if what == 'leg' else 'red'}.")
    if form.good:
        new = with_rig_row(form.text("toml"), what, {field: form.text(field) for field in FIELDS[what]}, index)
        rows = rig_rows(new, what)
        row = rows[index if index is not None else -1]
        for problem in _problems(find, new):
            if row.first <= problem.line <= row.last:
                key = problem.key.partition(" of ")[0]
                field = key if key in FIELDS[what] else "x" if key == "at" else "name"
                form.wrong(field, f"{problem.key}: {problem.message}" if problem.key else problem.message)
        if form.good:
            form.typed["toml"] = [new]
            return _editor_page(request, house, find, form)
    opened: Opened = (what, index if index is not None else -1)
    return _editor_page(request, house, find, form, opened=opened, status=422)


def _put_sea(request: Request, house: House, find: Find, form: Form) -> Response:
    """Write the sea into the text; where something is wrong it stays open in the form."""
    new = with_sea_fields(form.text("toml"), {field: form.text(field) for field in SEA_FIELDS})
    for problem in _problems(find, new):
        key, _, of = problem.key.partition(" of ")
        if of == "seaway":
            form.wrong(key if key in SEA_FIELDS else "vessel", f"{key}: {problem.message}")
    if not form.good:
        return _editor_page(request, house, find, form, opened=("sea", 0), status=422)
    form.typed["toml"] = [new]
    return _editor_page(request, house, find, form)


def _keep(request: Request, house: House, find: Find, form: Form) -> Response:
    author = author_in(form)
    if form.good:
        try:
            keep_rig(house.logbook, find.id, form.text("toml"), author=author, reason=form.text("reason"))
        except RigFileError as error:
            count = len(error.problems)
            form.wrong("toml", f"{count} to put right in the text; each stands below with its line.")
        except FieldErrors as error:
            for name, said in error.wrong.items():
                form.wrong(name, said)
        except RigError as error:
            form.wrong("toml", str(error))
        except OakumError as error:
            form.wrong("", str(error))
    if not form.good:
        return _editor_page(request, house, find, form, status=422)
    return done(f"/lifts/{find.id}/plan", "rig", author=author)


def _problems(find: Find, toml: str) -> tuple[Problem, ...]:
    try:
        parse_rig(toml, name=find.number or "rig")
    except RigFileError as error:
        return error.problems
    return ()


def _editor_page(
    request: Request,
    house: House,
    find: Find,
    form: Form,
    *,
    opened: Opened | None = None,
    status: int = 200,
) -> Response:
    toml = form.text("toml")
    legs: tuple[RigRow, ...] = ()
    bags: tuple[RigRow, ...] = ()
    sea: dict[str, str] | None = None
    shown: dict[str, Any] = {"rigged": None}
    problems = _problems(find, toml)
    try:
        legs, bags = rig_rows(toml, "leg"), rig_rows(toml, "bag")
        sea = sea_fields(toml) if has_sea(toml) else None
        if not problems:
            weighed = weigh_find(house.logbook, find.id, draws=EXAMPLE_PLAN_DRAWS)
            rig = parse_rig(toml, name=find.number or "rig")
            shown = {
                "rigged": rigged(
                    plan_with(house.logbook, weighed, toml, rig, on=date.today(), with_helps=False), None
                )
            }
    except TomlRowError:
        pass  # the problems say so, with the line
    except NoBodyError as error:
        form.wrong("", str(error))
    except OakumError as error:
        form.wrong("toml", str(error))
    kept = [head.value for head in find.heads.get("rig", ()) if head.value is not None]
    return page(
        request,
        "plan_rig_edit.html",
        room="Lifts",
        status=status,
        find=find,
        form=form,
        legs=legs,
        bags=bags,
        sea=sea,
        sea_labels=SEA_LABELS,
        waters=_pairs(Waters),
        vessels=[kept.title for kept in vessels(house.logbook)],
        problems=problems,
        opened=opened,
        here=f"/lifts/{find.id}/rig",
        is_kept=kept == [toml],
        was_kept=bool(kept),
        names=house.names(),
        leg_kinds=_pairs(LegKind),
        hitches=_pairs(Hitch),
        fittings=[pair for pair in _pairs(FittingKind) if pair[0] not in ("shackle", "ring")],
        gear=[piece.identity for piece in house.logbook.gear()],
        **shown,
    )


def _pairs(literal: Any) -> list[tuple[str, str]]:
    return [(value, value) for value in get_args(literal)]
