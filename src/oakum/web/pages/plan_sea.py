"""The sea of a plan turned: another height, period, heading, depth or radius, and what then is objected."""

from __future__ import annotations

from fastapi import APIRouter
from starlette.responses import Response

from oakum.web.ask import TheHouse
from oakum.web.knobs import Controls
from oakum.web.pages.plan import Day, planned_or_404, what_is_tried
from oakum.web.render import fragment
from oakum.web.sea_view import sea_shown

router = APIRouter()


@router.get("/lifts/{find_id}/plan/sea/try")
def try_sea(house: TheHouse, find_id: str, turned: Controls, on: Day = None) -> Response:
    """Answer the controls of the sea: what changes under "Through the surface" and "Vessel", nothing entered."""
    answer = planned_or_404(house, find_id, on)
    return fragment(
        "plan_sea_tried.html",
        sea=sea_shown(answer, *what_is_tried(answer, turned)),
        is_sea_turned=turned.is_sea,
        find=answer.find,
        names=house.names(),
    )
