"""The logbook itself: entries newest first, one entry as it is hashed, and the walk along the chain."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from starlette.exceptions import HTTPException
from starlette.responses import RedirectResponse, Response

from oakum.ground.errors import OakumError
from oakum.record import Entry, Logbook, UnknownSubjectError
from oakum.record.log.entries import hash_of, hashed_text
from oakum.record.log.facts import KINDS
from oakum.web.ask import TheHouse
from oakum.web.house import House
from oakum.web.jobs import Outcome, Progress
from oakum.web.render import fragment, page, wants_fragment
from oakum.web.words import kind_name

router = APIRouter()
PAGE_LENGTH = 50


@router.get("/logbook")
def logbook(
    request: Request,
    house: TheHouse,
    kind: Annotated[str, Query(max_length=40)] = "",
    about: Annotated[str, Query(max_length=100)] = "",
    start: Annotated[int, Query(ge=0, le=10_000_000)] = 0,
) -> Response:
    """List entries, newest first, all or those of one kind or about one find."""
    subject, wrong = _subject(house, about.strip())
    entries: list[Entry] = []
    if not wrong:
        entries = house.logbook.entries(
            subject, kind=kind or None, newest_first=True, limit=PAGE_LENGTH + 1, offset=start
        )
    shown = entries[:PAGE_LENGTH]
    values: dict[str, Any] = {
        "entries": shown,
        "numbers": numbers_of(house.logbook, shown),
        "names": house.names(),
        "kind_now": kind,
        "about": about,
        "more": start + PAGE_LENGTH if len(entries) > PAGE_LENGTH else None,
    }
    if wants_fragment(request):
        return fragment("entry_lines.html", **values)
    return page(
        request,
        "logbook.html",
        room="Logbook",
        wrong=wrong,
        kinds=[(name, kind_name(name)) for name in KINDS],
        total=house.logbook.count(),
        open_count=len(house.logbook.open_questions()),
        **values,
    )


@router.get("/logbook/entry/{entry_id}")
def entry_page(request: Request, house: TheHouse, entry_id: str) -> Response:
    """Show one entry: what it says, and the text its hash is made of."""
    try:
        entry = house.logbook.entry(entry_id)
    except UnknownSubjectError as error:
        raise HTTPException(404, str(error)) from error
    text = hashed_text(
        id=entry.id,
        station=entry.station,
        seq=entry.seq,
        at=entry.at,
        author=entry.author,
        kind=entry.kind,
        subject=entry.subject,
        body_text=entry.body_text,
        over=entry.over,
        prev=entry.prev,
    )
    return page(
        request,
        "entry.html",
        room="Logbook",
        entry=entry,
        text=text,
        holds=hash_of(entry) == entry.hash,
        over=[house.logbook.entry(id) for id in entry.over],
        numbers=numbers_of(house.logbook, [entry]),
        names=house.names(),
    )


@router.post("/logbook/check")
def check_chain(house: TheHouse) -> Response:
    """Begin the walk along the chain and go to its page."""

    def work(progress: Progress) -> Outcome:
        progress(0.05, f"reading {house.logbook.count():,} entries and hashing each again")
        report = house.logbook.check()
        heads = tuple(
            f"Station {station}: {seq:,} entries, last hash {digest}"
            for station, (seq, digest) in report.heads.items()
        )
        if report.ok:
            words = f"The chain is whole: {report.entries:,} entries, every hash and link as it was written."
            return Outcome(
                words, details=(*heads, *report.notes), link="/logbook", link_text="To the logbook"
            )
        bad = report.failure
        link = f"/logbook/entry/{bad.id}" if bad is not None else "/logbook"
        words = "The logbook does not hold together. " + report.words()
        return Outcome(words, good=False, details=report.damage, link=link, link_text="See where")

    job = house.jobs.start("Check the chain", work)
    return RedirectResponse(f"/jobs/{job.id}", status_code=303)


def _subject(house: House, about: str) -> tuple[str | None, str]:
    """Return the id somebody means by a number, or what is wrong with it."""
    if not about:
        return None, ""
    try:
        return house.logbook.find(about).id, ""
    except OakumError as error:
        return None, str(error)


def numbers_of(logbook: Logbook, entries: list[Entry]) -> dict[str, str]:
    """Return the find numbers of all finds these entries speak of; what is no find is left out."""
    found: dict[str, str] = {}
    others = (entry.body.get(field) for entry in entries for field in ("of", "parent", "other"))
    for subject in dict.fromkeys([*(entry.subject for entry in entries), *(id for id in others if id)]):
        own = next((e.body["number"] for e in entries if e.subject == subject and e.body.get("number")), None)
        if own is None:
            try:
                own = logbook.find(subject).number
            except OakumError:
                continue
        found[subject] = own or subject
    return found
