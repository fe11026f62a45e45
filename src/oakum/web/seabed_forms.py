"""What the pages of the seabed share: who read it and when, from a form; and the sheet that is being entered."""

from __future__ import annotations

from datetime import date
from urllib.parse import quote, unquote

from fastapi import Request
from starlette.responses import Response

from oakum.desk.seabed.typed import Slate
from oakum.web.ask import own_offset, writer_of
from oakum.web.forms import Form

SHEET_COOKIE = "oakum-sheet"
SHEET_FIELDS = ("author", "seen_by", "day", "dive", "with")
SOURCES = (("slate", "the slate"), ("sheet", "a sheet"), ("photo", "a photograph"), ("memory", "memory"))


def slate_in(form: Form) -> Slate:
    """Return what holds for every reading of the sheet; notes what is wrong with it beside its field."""
    day = form.value("day") or ""
    if day:
        try:
            date.fromisoformat(day)
        except ValueError:
            form.wrong("day", "Write the day as 2026-06-12, or leave it empty where it is not known.")
    reader = form.value("seen_by") or ""
    if day and not reader:
        form.wrong("seen_by", "Choose who read it; where only the role is known, choose the role.")
    return Slate(
        day=day,
        zone=own_offset(),
        dive=form.value("dive") or "",
        seen_by=reader,
        seen_from=form.value("seen_from") or "slate",
    )


def sheet_form(request: Request) -> Form:
    """Return the form to begin with: who wrote last, and the sheet that was being entered in this browser."""
    kept = dict(
        part.split("=", 1) for part in unquote(request.cookies.get(SHEET_COOKIE, "")).split("&") if "=" in part
    )
    values = {name: unquote(kept.get(name, "")) for name in SHEET_FIELDS}
    values["author"] = values["author"] or writer_of(request)
    values["day"] = values["day"] or date.today().isoformat()
    values["seen_by"] = values["seen_by"] or "diver"
    return Form.of(values)


def remember_sheet(answer: Response, form: Form) -> Response:
    """Let the browser remember what holds for the sheet until tomorrow."""
    text = "&".join(f"{name}={quote(form.text(name), safe='')}" for name in SHEET_FIELDS)
    answer.set_cookie(SHEET_COOKIE, quote(text), httponly=True, samesite="strict", max_age=12 * 3600)
    return answer
