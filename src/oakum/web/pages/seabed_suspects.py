"""Readings in doubt, in the order found, each with its likely cause; a named person decides, one at a time."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import Response

from oakum.desk.seabed.survey import survey_of
from oakum.web.ask import TheHouse, writer_of
from oakum.web.forms import Form
from oakum.web.render import page

router = APIRouter()


@router.get("/seabed/suspects")
def suspects(request: Request, house: TheHouse) -> Response:
    """List the readings to doubt, and those that were rejected."""
    answer = survey_of(house.logbook)
    solution = answer.solution
    doubted = {one.id for one in solution.suspects}
    return page(
        request,
        "seabed_suspects.html",
        room="Seabed",
        found=[(one, answer.entries[one.id]) for one in solution.suspects if one.id in answer.entries],
        others={id: answer.entries[id] for one in solution.suspects for id in one.others if id in answer.entries},
        whole=solution.whole,
        without=solution.without_suspects.whole if solution.without_suspects is not None else None,
        rejected=[one for one in answer.entries.values() if one.rejected is not None],
        asked=[
            one
            for one in answer.entries.values()
            if one.word("doubt") and one.id not in doubted and one.rejected is None
        ],
        names=house.names(),
        named=list(house.names().items()),
        form=Form.of({"author": writer_of(request), "back": "suspects"}),
    )
