"""The load on its slings, under water and in air, on one rig cut once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from oakum.ground.estimate import weighted_quantile
from oakum.lift.checks import Check, Rule
from oakum.lift.raising.gear_use import wll_kg
from oakum.lift.raising.loads import Draw
from oakum.lift.raising.plan import GearItem
from oakum.lift.raising.rig_plan import Piece, RigFitting, RigHook, RigLeg, RigPlan
from oakum.lift.slings import (
    Fitting,
    Hook,
    HookAt,
    HookByLengths,
    HookOver,
    HookTrimmed,
    Leg,
    Rig,
    Ruling,
    SlingAnswer,
    SlingError,
    hook_over,
    sling_answer,
)

STATES = ("under water", "in air")

HOOK = Rule(
    "hook",
    "the hook load, rigging and trapped water with it, is at most what hook, runner and hoist bear",
    "WLL by the tag, or the load chart at the radius and in the state of the sea",
    mark="practice, no source",
)


@dataclass(frozen=True, slots=True)
class Hung:
    """What the slings say: an answer a state, or why there is none; checks, objections, what is open."""

    answers: Mapping[str, SlingAnswer]
    checks: tuple[Check, ...]
    objections: tuple[str, ...]
    open_questions: tuple[str, ...] = ()
    assumptions: tuple[str, ...] = ()
    advice: tuple[str, ...] = ()
    refused: tuple[str, ...] = ()  # states without an answer, and why; among the objections too


def hang_on_legs(
    rig: RigPlan, draw: Draw, gear: Mapping[str, GearItem], *, elastic_draws: int = 1000
) -> Hung:
    """Return the load on the legs of a rig, in both states.

    The legs are cut once: where the hook is to be over the hanging point, it is over the one of the state in
    which the load is to hang level, and stays there, so that in the other state the load tilts.
    """
    hook = rig.hook
    if not rig.legs or hook is None:
        return Hung({}, (), ())
    answers: dict[str, SlingAnswer] = {}
    refused: list[str] = []
    for state in STATES:
        try:
            made = Rig(
                legs=tuple(_legs(rig, gear)),
                hook=_hook(rig, hook, draw, state),
                ruling=Ruling(rig.sharing or "bound", rig.hitches or "EU"),
                tilt_limit_deg=hook.tilt_limit_deg,
                rigging_kg=_rigging_kg(draw, state),
                length_tolerance_m=hook.length_tolerance_m,
                matched=rig.matched,
                top=_top(hook, draw, gear),
            )
            answers[state] = sling_answer(draw.load(state), made, elastic_draws=elastic_draws)
        except SlingError as error:
            refused.append(f"{state}: {error}")
    return Hung(
        answers,
        hardest(answers),
        (*refused, *said_of(answers, "objections"), *not_chosen(rig, hook)),
        said_of(answers, "open_questions"),
        (*said_of(answers, "assumptions"), *_cut(hook)),
        said_of(answers, "advice"),
        tuple(refused),
    )


def not_chosen(rig: RigPlan, hook: RigHook) -> tuple[str, ...]:
    """Return what the rig file leaves unsaid about its legs, as objections."""
    found = []
    if rig.sharing is None:
        found.append(
            "which rule shares the load between the legs is not chosen; the bound, the strictest, is taken"
        )
    if rig.hitches is None and any(leg.hitch in ("choke", "basket") for leg in rig.legs):
        found.append("whose factors for choke and basket hitches govern is not chosen; EU or US")
    if hook.place == "over the hanging point" and hook.level is None:
        found.append(
            "not known whether the legs are cut to hang it level under water or in air; in air is taken"
        )
    for leg in rig.legs:
        for what, value in (("what it is made of", leg.kind), ("its hitch", leg.hitch)):
            if value is None:
                found.append(f'leg "{leg.name}": {what} is not known')
        if leg.wll_for is None and leg.hitch not in (None, "straight"):
            found.append(f'leg "{leg.name}": not known for which hitch its tag gives the WLL')
        for what, fitting in (("shackle", leg.shackle), ("eye on the load", leg.eye)):
            if fitting is None:
                found.append(f'leg "{leg.name}": its {what} is not described and not checked')
    if hook.top is None:
        found.append("the ring or shackle that gathers the legs is not described and not checked")
    return tuple(found)


def hook_check(rig: RigPlan, draw: Draw, gear: Mapping[str, GearItem]) -> tuple[Check, ...]:
    """Return the check of the hook: the 95th percentile of the greater of the two hook loads."""
    if rig.hook is None:
        return ()
    heads = {
        state: float(weighted_quantile(load, 0.95, draw.weights))
        for state, load in zip(STATES, (draw.hook_water_kg, draw.hook_air_kg), strict=True)
    }
    state = max(heads, key=lambda s: heads[s])
    capacity = wll_kg(rig.hook.piece, gear)
    objection = None
    if capacity is None:
        objection = "hook: what hook, runner and hoist bear is not known"
    elif heads[state] > capacity:
        objection = f"hook: {heads[state]:,.0f} kg {state} against {capacity:,.0f} kg"
    if draw.rigging_air_kg is None:
        unknown = "what hangs between hook and load is not weighed: write rigging in the rig file"
        objection = f"{objection}; {unknown}" if objection else f"hook: {unknown}"
    basis = f"95th percentile of the hook load {state}, still water"
    return (Check("hook", "hook", heads[state], capacity, "kg", basis, HOOK, objection),)


def hardest(answers: Mapping[str, SlingAnswer]) -> tuple[Check, ...]:
    """Return each check in the state in which the piece is used hardest, the state in its title."""
    found: dict[str, Check] = {}
    for state, answer in answers.items():
        for check in answer.checks:
            told = replace(check, title=f"{check.title}, {state}")
            known = found.get(check.key)
            if known is None or _used(told) > _used(known):
                found[check.key] = told
    return tuple(found.values())


def _used(check: Check) -> tuple[bool, float]:
    return check.utilisation is None, check.utilisation if check.utilisation is not None else check.demand


def said_of(answers: Mapping[str, SlingAnswer], what: str) -> tuple[str, ...]:
    """Return what the answers of both states say, naming the state where only one says it."""
    told = {state: getattr(answer, what) for state, answer in answers.items()}
    every = dict.fromkeys(line for lines in told.values() for line in lines)
    found = []
    for line in every:
        states = [state for state, lines in told.items() if line in lines]
        found.append(line if len(states) == len(STATES) else f"{states[0]}: {line}")
    return tuple(found)


def _cut(hook: RigHook) -> tuple[str, ...]:
    if hook.place == "trimmed":
        return (
            "the legs are trimmed under water until the load hangs level; in air the hook is taken over the "
            "likely point of that, which overstates the tilt",
        )
    return ()


def _hook(rig: RigPlan, hook: RigHook, draw: Draw, state: str) -> Hook:
    """Return the hook of one state; the legs are the same in both."""
    match hook.place:
        case "at a point" if hook.at_m is not None:
            return HookAt(hook.at_m)
        case "by leg lengths":
            return HookByLengths()
        case "trimmed" if state == "under water":
            return HookTrimmed(hook.height_m or 0.0)
        case _:
            height = hook.height_m or 0.0
            if not height > 0.0:
                return HookOver(height)  # refused there, with its reason
            level = max(leg.at_m[2] for leg in rig.legs) + height
            under = hook.place == "trimmed" or hook.level == "under water"
            x, y, z = hook_over(draw.load("under water" if under else "in air"), level)
            return HookAt((float(x), float(y), float(z)))


def _legs(rig: RigPlan, gear: Mapping[str, GearItem]) -> list[Leg]:
    return [
        Leg(
            name=leg.name,
            attachment_m=leg.at_m,
            wll_kg=None if _rating_unknown(leg) else wll_kg(leg.piece, gear),
            kind=leg.kind or "other",
            hitch=leg.hitch or "straight",
            wll_for=leg.wll_for or "straight",
            length_m=leg.length_m,
            gear=leg.piece.key,
            choke_angle_deg=leg.choke_angle_deg,
            basket_deg=leg.basket_deg,
            diameter_m=leg.diameter_m,
            bend_diameter_m=leg.bend_diameter_m,
            ea_n=leg.ea_n,
            stiffness_n_m=leg.stiffness_n_m,
            shackle=_fitting(leg.shackle, leg.name, gear),
            eye=_fitting(leg.eye, leg.name, gear),
        )
        for leg in rig.legs
    ]


def _top(hook: RigHook, draw: Draw, gear: Mapping[str, GearItem]) -> Fitting | None:
    """Return the ring at the hook; without the weight of the rigging its load is not known, so no rating."""
    found = _fitting(hook.top, "hook ring", gear)
    if found is not None and draw.rigging_air_kg is None:
        return replace(found, wll_kg=None)
    return found


def _rating_unknown(leg: RigLeg) -> bool:
    """Whether something the rating goes by is not known, so that there is none."""
    unclear = leg.wll_for is None and leg.hitch not in (None, "straight")
    return leg.kind is None or leg.hitch is None or unclear


def _fitting(fitting: RigFitting | None, name: str, gear: Mapping[str, GearItem]) -> Fitting | None:
    if fitting is None:
        return None
    piece: Piece = fitting.piece
    return Fitting(
        fitting.kind, piece.key or name, wll_kg(piece, gear), fitting.axis, fitting.off_line_deg, piece.key
    )


def _rigging_kg(draw: Draw, state: str) -> float | None:
    found = draw.rigging_water_kg if state == "under water" else draw.rigging_air_kg
    return None if found is None else float(np.quantile(found, 0.95))
