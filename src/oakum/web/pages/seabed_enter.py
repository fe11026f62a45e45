"""Entering readings in the order of the sheet: four fields a reading, the next one at once, doubts asked beside it."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from starlette.exceptions import HTTPException
from starlette.responses import RedirectResponse, Response

from oakum.desk.seabed.bringing import bring_page
from oakum.desk.seabed.entering import enter, propose_typed
from oakum.desk.seabed.next_tapes import pairs_in, pairs_text
from oakum.desk.seabed.proposals import ProposedReading
from oakum.desk.seabed.survey import survey_lately
from oakum.desk.seabed.typed import TYPED_FIELDS, WHAT_WORDS
from oakum.ground.errors import OakumError
from oakum.web.ask import TheHouse, author_in
from oakum.web.forms import Form, SentForm
from oakum.web.house import House
from oakum.web.render import fragment, page, wants_fragment
from oakum.web.seabed_forms import SOURCES, remember_sheet, sheet_form, slate_in

router = APIRouter()
LAST_SHOWN = 12
What = Annotated[str, Query(max_length=10)]


@router.get("/seabed/enter")
def enter_form(
    request: Request, house: TheHouse, what: What = "tape", pairs: Annotated[str, Query(max_length=4000)] = ""
) -> Response:
    """Show the four fields; `pairs` are those of a printed sheet, filled in one after the other."""
    form = sheet_form(request)
    form.typed["pairs"] = [pairs_text(pairs_in(pairs))]
    if _known(what) not in ("tape", "depth", "bearing"):
        form.typed["with"] = [""]
    return _enter_page(request, house, _known(what), _next_pair(form))


@router.post("/seabed/enter")
def enter_one(request: Request, house: TheHouse, form: SentForm, what: What = "tape") -> Response:
    """Enter one reading, or ask about it and keep everything typed."""
    fields = TYPED_FIELDS[_known(what)]
    author, slate = author_in(form), slate_in(form)
    typed = {key: form.text(key) for key in (*(f.key for f in fields), "note")}
    one = propose_typed(house.logbook, what, typed, slate)
    for remark in one.faults:
        form.wrong(remark.field or fields[-1].key, remark.words)
    said = _finger(typed)
    asked = [r for r in one.doubts if form.text("asked") != said] if form.good else []
    if not form.good or asked:
        form.typed["asked"] = [said if asked else ""]
        return _enter_page(request, house, what, form, asked=one, status=200 if asked else 422)
    try:
        enter(house.logbook, [one], author=author, sure=True)
    except OakumError as error:
        form.wrong(fields[0].key, str(error))
        return _enter_page(request, house, what, form, status=422)
    done = Form({**form.typed, **{f.key: [""] for f in fields if f.key != "with"}, "note": [""], "asked": [""]})
    if what not in ("tape", "depth", "bearing"):
        done.typed["with"] = [""]
    pairs = pairs_in(form.text("pairs"))
    done.typed["pairs"] = [pairs_text([p for p in pairs if set(p) != {typed.get("from"), typed.get("to")}])]
    if wants_fragment(request):
        return remember_sheet(_enter_page(request, house, what, _next_pair(done), entered=one), form)
    rest = f"&pairs={done.text('pairs')}" if done.text("pairs") else ""
    return remember_sheet(RedirectResponse(f"/seabed/enter?what={what}{rest}", status_code=303), form)


@router.get("/seabed/enter/asked")
def ask(request: Request, house: TheHouse, what: What = "tape") -> Response:
    """Say beside the value what does not fit, while the hand is still on it; nothing is entered."""
    sent = {key: str(value) for key, value in request.query_params.items()}
    typed = {f.key: sent.get(f.key, "") for f in TYPED_FIELDS[_known(what)]}
    slate = slate_in(Form.of(sent))
    one = propose_typed(house.logbook, what, typed, slate)
    value = [r for r in (*one.faults, *one.doubts) if r.field not in ("from", "to", "mark", "line") or typed[r.field]]
    return fragment("seabed_asked.html", remarks=value if typed.get("value") else [])


@router.post("/seabed/enter/lines")
def enter_lines(request: Request, house: TheHouse, form: SentForm) -> Response:
    """Read a page of lines and go to what it proposes."""
    slate = slate_in(form)
    if form.good:
        try:
            brought = bring_page(house.logbook, form.text("lines"), slate)
        except OakumError as error:
            form.wrong("lines", str(error))
    if not form.good:
        return _enter_page(request, house, "tape", form, status=422)
    tray = house.survey_trays.put("page", brought.data, brought)
    return remember_sheet(RedirectResponse(f"/seabed/import/{tray.key}", status_code=303), form)


def _known(what: str) -> str:
    if what not in TYPED_FIELDS:
        raise HTTPException(404, f"There is no sheet for {what!r}; there are {', '.join(TYPED_FIELDS)}.")
    return what


def _finger(typed: dict[str, str]) -> str:
    """What was asked about: entered again unchanged, it was meant so."""
    return "|".join(" ".join(text.split()) for text in typed.values())


def _next_pair(form: Form) -> Form:
    """Fill in the next pair of the printed sheet."""
    pairs = pairs_in(form.text("pairs"))
    if pairs:
        form.typed["from"], form.typed["to"] = [pairs[0][0]], [pairs[0][1]]
    return form


def _enter_page(
    request: Request,
    house: House,
    what: str,
    form: Form,
    *,
    asked: ProposedReading | None = None,
    entered: ProposedReading | None = None,
    status: int = 200,
) -> Response:
    answer = survey_lately(house.logbook)
    names = sorted({name for one in answer.entries.values() for name in one.marks} | {m.name for m in answer.marks})
    beside: dict[str, list[str]] = {}
    for remark in asked.doubts if asked is not None and form.text("asked") else ():
        beside.setdefault(remark.field, []).append(remark.words)
    fields = TYPED_FIELDS[what]
    wrong = next((f.key for f in fields if f.key in form.errors or f.key in beside), "")
    values: dict[str, Any] = {
        "what": what,
        "kinds": WHAT_WORDS,
        "fields": fields,
        "form": form,
        "beside": beside,
        "first": wrong or next((f.key for f in fields if not form.text(f.key)), fields[0].key),
        "entered": entered,
        "marks": names,
        "tools": [one.name for one in answer.instruments],
        "last": tuple(answer.entries.values())[: -LAST_SHOWN - 1 : -1],
        "left": pairs_in(form.text("pairs")),
        "people": house.people(),
        "sources": SOURCES,
    }
    if wants_fragment(request):
        return fragment("seabed_enter_form.html", **values)
    values.pop("people")
    return page(request, "seabed_enter.html", room="Seabed", status=status, **values)
