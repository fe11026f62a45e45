"""How does it come up? The plan of a find's lift: weights, rig, gear, people and hazards from the logbook."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from functools import lru_cache

from oakum.desk.gear.standing import GearStanding, gear_standing, register_of
from oakum.desk.lifts.happened import learnt_minutes
from oakum.desk.lifts.hazards import hazards_of, in_situ_of
from oakum.desk.lifts.kept import Kept
from oakum.desk.lifts.plan_blocks import split_questions
from oakum.desk.lifts.plan_rests import Parts, parts_of
from oakum.desk.lifts.plan_solved import solved_for
from oakum.desk.lifts.plan_state import PlanState, plan_state
from oakum.desk.lifts.vessels import KeptVessel, papers_of, vessel_named
from oakum.desk.lifts.weigh import LiftAnswer, cell_readings, weigh_find
from oakum.desk.people import roles_of
from oakum.ground.errors import OakumError
from oakum.lift.raising import PlanContext, RaisingPlan, RigPlan, gear_uses, parse_rig, raising_plan
from oakum.lift.raising.fingerprint import fingerprint
from oakum.lift.raising.gear_use import gear_items
from oakum.lift.vessel import VesselPapers
from oakum.lift.weights.weighing import Weighing
from oakum.record import Find, Logbook

PLAN_DRAWS = 10_000

_KEPT = 8


class NoRigError(OakumError):
    """The find has no rig to plan with yet."""


@dataclass(frozen=True, slots=True)
class PlanAnswer:
    """A planned lift: the plan, the find, the rig text it rests on, its state, and the weighing behind it.

    `parts` are what a briefing or a release of this plan rests on; `on` is the day it is planned for; `context`
    is what the logbook knew besides weights and rig.
    """

    plan: RaisingPlan
    find: Find
    rig_toml: str
    state: PlanState
    weighed: LiftAnswer
    parts: Parts
    on: date
    context: PlanContext


def plan_find(
    logbook: Logbook, number_or_id: str, *, on: date, draws: int = PLAN_DRAWS, with_helps: bool = True
) -> PlanAnswer:
    """Plan the lift of a find on the day `on`, from everything the logbook knows.

    Raises `NoBodyError` or `NoRigError` where it has none, `BodyFileError` or `RigFileError` where a text
    cannot be taken.
    """
    weighed = weigh_find(logbook, number_or_id, draws=draws)
    find = weighed.find
    rig_toml, rig = rig_of(find)
    return plan_with(logbook, weighed, rig_toml, rig, on=on, with_helps=with_helps)


def rig_of(find: Find) -> tuple[str, RigPlan]:
    """Return the rig text of a find, and the rig. Where two stand, the newest; the release is blocked then."""
    texts = [str(head.value) for head in find.heads.get("rig", ()) if head.value is not None]
    if not texts:
        raise NoRigError(
            f"{find.number or find.title} has no rig yet: describe hook, legs or bags on its plan page, or give "
            "it a rig file."
        )
    return texts[-1], _parsed(texts[-1], find.number or "rig")


_parsed = lru_cache(maxsize=16)(parse_rig)


def plan_with(
    logbook: Logbook,
    weighed: LiftAnswer,
    rig_toml: str,
    rig: RigPlan,
    *,
    on: date,
    with_helps: bool = True,
) -> PlanAnswer:
    """Plan a weighed find with a rig that may differ from the one in the logbook: a slider, a text not yet kept."""
    find = weighed.find
    day = on.isoformat()
    people = {person.id: person for person in logbook.people()}
    keys = {use.piece.key for use in gear_uses(rig) if use.piece.key}
    standing = gear_standing(logbook, on)
    gear = {key: item for key, item in register_of(standing).items() if key in keys}
    used = pieces_used(standing, keys)
    carrier = aboard(logbook, rig)
    parts = parts_of(find, used, carrier.kept)
    readings = cell_readings(find)
    report = weighed.weighing.report
    items = gear_items(gear_uses(rig), gear, day)
    mark = fingerprint(report, rig, items, readings, carrier.papers, weighed.cradle)
    state = plan_state(find.history, mark, parts)
    roles = roles_of(find, people, rig, on)
    ids = {one.piece.id for pieces in used.values() for one in pieces}
    if carrier.kept is not None:
        ids.add(carrier.kept.id)
    blocked_by, others = split_questions(logbook, find.id, ids, roles)
    context = PlanContext(
        on=day,
        gear=gear,
        roles=roles,
        hazards=hazards_of(find, people, on),
        in_situ=in_situ_of(find),
        stage=state.stage,
        number=find.number or "",
        readings=readings,
        minutes=learnt_minutes(logbook),
        blocked_by=blocked_by,
        open_questions=(*carrier.questions, *others),
        withdrawn=state.withdrawn,
        vessel=carrier.papers,
        cradle=weighed.cradle,
    )
    plan = _planned(logbook, weighed, rig, context, parts, with_helps)
    return PlanAnswer(plan, find, rig_toml, state, weighed, parts, on, context)


@dataclass(frozen=True, slots=True)
class Aboard:
    """The vessel the rig file names: as kept and as read, or why not."""

    kept: KeptVessel | None = None
    papers: VesselPapers | None = None
    questions: tuple[str, ...] = ()


def aboard(logbook: Logbook, rig: RigPlan) -> Aboard:
    """Return the vessel of a rig; one that cannot be read is a question, and the plan objects that it is not known."""
    name = "" if rig.sea is None else rig.sea.vessel
    if not name:
        return Aboard()
    kept = None
    try:
        kept = vessel_named(logbook, name)
        return Aboard(kept, papers_of(logbook, kept.id))
    except OakumError as error:
        return Aboard(kept, None, (f"vessel of the lift: {error}",))


def pieces_used(standing: tuple[GearStanding, ...], keys: set[str]) -> dict[str, tuple[GearStanding, ...]]:
    """Return the pieces behind every key of the rig: one, or several where tags cannot be told apart."""
    found: dict[str, tuple[GearStanding, ...]] = {}
    for one in standing:
        for key in {one.item.key, one.piece.identity} & keys:
            found[key] = (*found.get(key, ()), one)
    return found


_kept: Kept[tuple[Weighing, RaisingPlan]] = Kept(_KEPT)


def _planned(
    logbook: Logbook,
    weighed: LiftAnswer,
    rig: RigPlan,
    context: PlanContext,
    parts: Parts,
    with_helps: bool,
) -> RaisingPlan:
    """Plan, or take the plan from the newest ones: the weighing is the same object while it rests on the same.

    Vessel and cradle are known by their parts: a long table of theirs is not all in its `repr`.
    """
    key = (
        str(logbook.path),
        weighed.find.id,
        len(weighed.bodies),
        id(weighed.weighing.sums),
        repr(rig),
        repr(replace(context, vessel=None, cradle=None)),
        parts,
        with_helps,
    )
    held = _kept.get(key)
    if held is not None and held[0].sums is weighed.weighing.sums:
        return held[1]
    before = solved_for(weighed.weighing, rig, context, parts)
    plan = raising_plan(weighed.weighing, rig, context, with_helps=with_helps, before=before)
    _kept.put(key, (weighed.weighing, plan))
    return plan
