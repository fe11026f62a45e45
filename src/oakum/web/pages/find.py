"""One find: all that is known of it, with its readings, photographs, relations and history."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import Response

from oakum.desk.finds.entering import INTAKE_FIELDS, FieldErrors, change_field
from oakum.ground.errors import OakumError
from oakum.record import Find, grouped, pooled
from oakum.record.log.heads import struck_ids, values
from oakum.web.ask import TheHouse, author_in, done, find_or_404, writer_of
from oakum.web.forms import Form, SentForm
from oakum.web.house import House
from oakum.web.pages.logbook import numbers_of
from oakum.web.render import page
from oakum.web.words import field_name, value_in_words

router = APIRouter()

SHOWN_FIELDS = (
    *INTAKE_FIELDS,
    "earlier_numbers",
    "context",
    "position",
    "status",
    "kind",
    "imported_from",
    "extra",
)
CHANGEABLE = frozenset(SHOWN_FIELDS) - {"imported_from", "extra"}
ALWAYS_SHOWN = frozenset(INTAKE_FIELDS)


@router.get("/finds/{find_id}")
def show_find(request: Request, house: TheHouse, find_id: str) -> Response:
    """Show a find."""
    return find_page(request, house, find_or_404(house, find_id), Form.of({"author": writer_of(request)}))


def find_page(
    request: Request, house: House, find: Find, form: Form, *, status: int = 200, at: str = ""
) -> Response:
    """Fill in the page of a find; `at` names the form on it that `form` belongs to."""
    blank = Form.of({"author": writer_of(request)})
    places = ("reading", "photo", "file", "sample", "joined", "part_of")
    return page(
        request,
        "find.html",
        room="Finds",
        status=status,
        find=find,
        facts=[(name, values(find.heads.get(name, ())), name in CHANGEABLE) for name in _shown(find)],
        readings=[pooled(several) for several in grouped(find.readings).values()],
        questions=house.logbook.open_questions(find.id),
        struck=struck_ids(find.history),
        names=house.names(),
        numbers=numbers_of(house.logbook, list(find.history)),
        forms={place: form if place == at else blank for place in places},
        at=at,
        has_body=find.fields.get("toml") is not None,
    )


def _shown(find: Find) -> list[str]:
    return [name for name in SHOWN_FIELDS if name in ALWAYS_SHOWN or name in find.heads]


@router.get("/finds/{find_id}/change/{field}")
def change_form(request: Request, house: TheHouse, find_id: str, field: str) -> Response:
    """Show the form that says something new about one field."""
    find = find_or_404(house, find_id)
    now = find.fields.get(field)
    text = "; ".join(now) if isinstance(now, list) else "" if now is None else value_in_words(now)
    return _change_page(request, house, find, field, Form.of({"value": text, "author": writer_of(request)}))


@router.post("/finds/{find_id}/change/{field}")
def change(request: Request, house: TheHouse, find_id: str, field: str, form: SentForm) -> Response:
    """Enter the new value over the old one."""
    find = find_or_404(house, find_id)
    author = author_in(form)
    if field not in CHANGEABLE:
        form.wrong("", f"{field_name(field)} cannot be changed here.")
    if form.good:
        try:
            entry = change_field(
                house.logbook, find.id, field, form.text("value"), author=author, reason=form.text("reason")
            )
        except FieldErrors as error:
            for name, sentence in error.wrong.items():
                form.wrong("value" if name == field else name, sentence)
        except OakumError as error:
            form.wrong("", str(error))
        else:
            if entry is None:
                form.wrong("value", "This is what the logbook says already; nothing was entered.")
    if not form.good:
        return _change_page(request, house, find, field, form, status=422)
    return done(f"/finds/{find.id}", "changed", author=author, anchor="known")


def _change_page(
    request: Request, house: House, find: Find, field: str, form: Form, status: int = 200
) -> Response:
    if field not in CHANGEABLE:
        form.wrong("", f"There is no field {field!r} that can be changed here.")
        status = 422
    heads = find.heads.get(field, ())
    return page(
        request,
        "find_change.html",
        room="Finds",
        status=status,
        find=find,
        field=field,
        form=form,
        heads=[head for head in heads if head.value is not None],
        names=house.names(),
    )
