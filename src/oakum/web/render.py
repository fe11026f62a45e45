"""From answers to pages: the templates, their filters, and the frame every page shares."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from functools import cache
from pathlib import Path
from typing import Any
from urllib.parse import quote

from fastapi import Request
from jinja2 import Environment, PackageLoader, StrictUndefined, select_autoescape
from markupsafe import Markup
from starlette.responses import HTMLResponse, Response

from oakum import __version__
from oakum.draw.theme import stylesheet
from oakum.web import words
from oakum.web.house import House

STATIC = Path(__file__).parent / "static"
ROOMS = (
    ("Today", "/"), ("Seabed", "/seabed"), ("Finds", "/finds"), ("Lifts", "/lifts"), ("Gear", "/gear"),
    ("Logbook", "/logbook"),
)  # fmt: skip
SAID = {
    "entered": "Entered. The number is given and will not be used again.",
    "changed": "Changed by a new entry. The earlier words stay in the history.",
    "struck": "Struck out. The entry stays in the logbook with your reason.",
    "settled": "Settled, with your reason.",
    "reading": "The reading stands beside the others.",
    "photo": "The photograph is kept as it was sent.",
    "file": "The file is kept as it was sent.",
    "linked": "Entered.",
    "body": "The body is kept. The weights below are computed from it.",
    "imported": "The accepted rows have been entered.",
    "listed": "The piece is listed.",
    "withdrawn": "Withdrawn. Every plan that uses it objects from now on.",
    "back": "Back in use.",
    "rig": "The rig is kept. The plan below is made with it.",
    "cradle": "The cradle is kept. It counts in the weights and in the plan.",
    "vessel": "The papers of the vessel are kept. Every plan that lifts from her is made with them.",
    "role": "The role is given.",
    "hazard": "The answer is kept.",
    "decision": "The decision is recorded.",
    "briefed": "Briefed as it stands now.",
    "released": "Your release is entered.",
    "done": "The lift is entered as done.",
    "abandoned": "The plan is abandoned.",
    "event": "Entered as it happened.",
    "log": "The log is kept as it came, and read.",
    "competence": "Kept beside the name.",
    "rejected": "Rejected. The reading stays in the logbook and on every list, and no longer counts.",
    "restored": "Taken back in. The reading counts again.",
    "readings": "The accepted readings have been entered.",
    "mark": "Kept. The plan is worked out with it.",
    "laid": "Laid on the plan. It moves with the marks it hangs on.",
    "off": "Taken off the plan. The entry and the file stay.",
    "tied": "The site is tied to the map grid. Nothing is given to anybody by that.",
    "given": "The release is entered. What it permits can be fetched below.",
    "person": "Added. The name stays outside the logbook and can be erased.",
}


@cache
def static_address(name: str) -> str:
    """Return the address of a shipped file, with a mark of its content so that browsers may keep it."""
    digest = hashlib.sha256((STATIC / name).read_bytes()).hexdigest()[:12]
    return f"/static/{name}?v={digest}"


@cache
def drawing_css_address() -> str:
    """Return the address of the style sheet of the drawings."""
    return f"/drawing.css?v={hashlib.sha256(stylesheet().encode()).hexdigest()[:12]}"


@cache
def environment() -> Environment:
    """Return the templates; everything a person typed is escaped, and a missing value is an error."""
    made = Environment(
        loader=PackageLoader("oakum.web"),
        autoescape=select_autoescape(default=True, default_for_string=True),
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters.update(
        clock=words.clock,
        day=words.day,
        entry_time=words.entry_time,
        columns=words.columns,
        shown=words.shown,
        value=words.value_in_words,
        field=words.field_name,
        label=words.label,
        named=words.with_names,
        kind=words.kind_name,
        percent=words.percent,
        path=lambda text: quote(str(text), safe=""),
        drawing=Markup,
    )
    made.globals.update(static=static_address, version=__version__, rooms=ROOMS)
    return made


def page(request: Request, template: str, *, room: str = "", status: int = 200, **values: Any) -> Response:
    """Fill in a whole page."""
    house: House = request.app.state.house
    text = (
        environment()
        .get_template(template)
        .render(
            project=house.title,
            note=house.logbook.note,
            room=room,
            path=request.url.path,
            drawing_css=drawing_css_address(),
            said=SAID.get(request.query_params.get("said", "")),
            people=house.people(),
            **values,
        )
    )
    return HTMLResponse(text, status_code=status)


def fragment(template: str, *, status: int = 200, **values: Any) -> Response:
    """Fill in a piece of a page."""
    return HTMLResponse(environment().get_template(template).render(**values), status_code=status)


def message(
    request: Request, status: int, title: str, sentences: Sequence[str], link: tuple[str, str] | None = None
) -> Response:
    """Make a page that only says something."""
    return page(request, "message.html", status=status, title=title, sentences=sentences, link=link)


def wants_fragment(request: Request) -> bool:
    """Whether the piece is to be put into a page that stands already."""
    return request.headers.get("hx-request") == "true"
