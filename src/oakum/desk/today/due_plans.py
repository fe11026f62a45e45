"""Plans that need somebody: a release, or a briefing, that no longer holds."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from oakum.desk.gear.standing import gear_standing
from oakum.desk.lifts.plan import aboard, pieces_used, plan_find, rig_of
from oakum.desk.lifts.plan_rests import DESCRIBED, changed, parts_of
from oakum.ground.errors import OakumError
from oakum.lift.raising import gear_uses
from oakum.record import Find, Logbook

_KINDS = ("plan.briefed", "plan.released")


@dataclass(frozen=True, slots=True)
class WithdrawnPlan:
    """A find whose plan was briefed or released, and why that no longer holds."""

    find: Find
    why: str


def plans_withdrawn(logbook: Logbook, on: date) -> tuple[WithdrawnPlan, ...]:
    """Return the plans whose release or briefing no longer holds on the day `on`.

    Only a plan of which body, rig, cradle, vessel, readings or gear changed since is worked out again.
    """
    finds = dict.fromkeys(
        entry.subject for kind in _KINDS for entry in logbook.entries(kind=kind, newest_first=True)
    )
    found = []
    for find_id in finds:
        find = logbook.find(find_id)
        try:
            why = _why(logbook, find, on)
        except OakumError as error:
            why = f"the plan cannot be made any more: {error}"
        if why:
            found.append(WithdrawnPlan(find, why))
    return tuple(found)


def _why(logbook: Logbook, find: Find, on: date) -> str | None:
    _, rig = rig_of(find)
    keys = {use.piece.key for use in gear_uses(rig) if use.piece.key}
    parts = parts_of(find, pieces_used(gear_standing(logbook, on), keys), aboard(logbook, rig).kept)
    said = [entry for entry in find.history if entry.kind in _KINDS]
    if not any(changed(entry.body["rests_on"], parts, also=DESCRIBED) for entry in said):
        return None
    return plan_find(logbook, find.id, on=on, with_helps=False).state.withdrawn
