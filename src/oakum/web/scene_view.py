"""What the page needs for the view from all sides: the scene of a plan, and its water lines as a table."""

from __future__ import annotations

from dataclasses import dataclass

from oakum.desk.lifts.plan import PlanAnswer
from oakum.draw import DrawingError, Rows
from oakum.draw.scene import RigScene, rig_scene
from oakum.draw.scene_water import level_rows
from oakum.lift.raising import RaisingPlan


@dataclass(frozen=True, slots=True)
class Scenery:
    """The day its address asks for, its water lines, and the pieces that are drawn coarser than they are."""

    on: str
    rows: Rows
    coarse: tuple[str, ...]


def scene_of(answer: PlanAnswer, plan: RaisingPlan) -> RigScene:
    """Return the scene of a kept or tried plan; the weighing is the same. Raises `DrawingError`."""
    return rig_scene(plan, answer.weighed.weighing.emergence)


def scenery(answer: PlanAnswer, plan: RaisingPlan) -> Scenery | None:
    """Return what the page says of the scene; None where there is nothing to draw."""
    try:
        scene = scene_of(answer, plan)
    except DrawingError:
        return None
    return Scenery(answer.on.isoformat(), level_rows(scene.levels, plan.cell_unit), scene.coarse)
