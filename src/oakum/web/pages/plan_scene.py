"""The rig in space as JSON: what the view from all sides draws, for the kept rig or one that is tried."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query
from starlette.exceptions import HTTPException
from starlette.responses import JSONResponse, Response

from oakum.draw import DrawingError
from oakum.draw.scene_json import scene_dict
from oakum.web.ask import TheHouse
from oakum.web.knobs import Controls
from oakum.web.pages.plan import Day, planned_or_404, tried
from oakum.web.scene_view import scene_of

router = APIRouter()


@router.get("/lifts/{find_id}/plan/scene.json")
def scene_json(
    house: TheHouse,
    find_id: str,
    turned: Controls,
    on: Day = None,
    have: Annotated[str, Query(max_length=40)] = "",
) -> Response:
    """Answer the scene; `have` is the mark of the pieces a page has, which are then left out."""
    answer = planned_or_404(house, find_id, on)
    shown = tried(answer, turned)
    try:
        return JSONResponse(scene_dict(scene_of(answer, shown.plan), have=have))
    except DrawingError as error:
        raise HTTPException(404, str(error)) from error
