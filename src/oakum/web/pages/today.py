"""Today: what waits for somebody, and what was written last."""

from __future__ import annotations

from datetime import UTC, date, datetime

from fastapi import APIRouter, Request
from starlette.responses import Response

from oakum.desk.today.due import due_today
from oakum.desk.today.due_gear import papers_due
from oakum.desk.today.due_plans import plans_withdrawn
from oakum.web.ask import TheHouse
from oakum.web.pages.logbook import numbers_of
from oakum.web.render import page
from oakum.web.words import day

router = APIRouter()


@router.get("/")
def today(request: Request, house: TheHouse) -> Response:
    """Show the page of the day."""
    due, on = due_today(house.logbook), date.today()
    spoken_of = [*due.last, *(reading.entry for reading in due.no_spread)]
    return page(
        request,
        "today.html",
        room="Today",
        due=due,
        papers=papers_due(house.logbook, on),
        withdrawn=plans_withdrawn(house.logbook, on),
        date=day(datetime.now(UTC)),
        numbers=numbers_of(house.logbook, spoken_of),
        jobs=house.jobs.recent(),
        names=house.names(),
    )
