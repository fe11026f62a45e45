"""Turnings and rollings on the seabed, each with what pulls, what holds and which member carries when."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

import numpy as np

from oakum.ground.gravity import G_M_S2
from oakum.lift.checks import Check
from oakum.lift.raising.gear_use import wll_kg
from oakum.lift.raising.loads import Draw
from oakum.lift.raising.plan import GearItem, TurningAnswer
from oakum.lift.raising.rig_plan import RigFrameStep, RigPlan, RigPull, RigRolling, RigTurning
from oakum.lift.turning import (
    BagPull,
    Bearing,
    FramePart,
    FrameStep,
    HandPull,
    LinePull,
    Pull,
    Roller,
    Section,
    TurningError,
    frame_steps,
    roll,
    turn_over,
)

TURNING_DRAWS = 1000
"""Draws a turning uses, at every angle: its percentiles are good to about 4 % of the width."""


def turned_on_the_bed(rig: RigPlan, draw: Draw, gear: Mapping[str, GearItem]) -> tuple[TurningAnswer, ...]:
    """Return every turning and rolling of a rig; one that cannot be computed comes with why."""
    few = draw.first(TURNING_DRAWS)
    found = [_asked(t.name, _turn(t, few, gear)) for t in rig.turning]
    found += [_asked(r.name, _roll(r, few, gear)) for r in rig.rolling]
    return tuple(found)


def turning_objections(found: tuple[TurningAnswer, ...]) -> tuple[str, ...]:
    """Return what stands against the turnings, each with its name."""
    said: list[str] = []
    for answer in found:
        lines = [answer.refused] if answer.refused else []
        for part in (answer.turn, answer.frame, answer.roll):
            lines += [] if part is None else list(part.objections)
        said += [f'turning "{answer.name}": {line}' for line in dict.fromkeys(lines)]
    return tuple(said)


def turning_checks(found: tuple[TurningAnswer, ...]) -> tuple[Check, ...]:
    """Return the checks of all turnings, each with the turning's name in its title."""
    made: list[Check] = []
    for answer in found:
        checks: list[Check] = []
        for part in (answer.turn, answer.roll):
            checks += [] if part is None else list(part.checks)
        if answer.frame is not None:
            checks += [load.check for step in answer.frame.steps for load in step.loads]
        made += [
            replace(c, key=f"turning:{answer.name}:{c.key}", title=f"{c.title}, {answer.name}")
            for c in checks
        ]
    return tuple(made)


def _asked(name: str, make: Callable[[], TurningAnswer]) -> TurningAnswer:
    try:
        return make()
    except TurningError as error:
        return TurningAnswer(name, refused=str(error))


def _turn(turning: RigTurning, draw: Draw, gear: Mapping[str, GearItem]) -> Callable[[], TurningAnswer]:
    def make() -> TurningAnswer:
        section = _section(turning, draw)
        pull = _pull(turning.pull, gear)
        if pull is None:
            raise TurningError("what turns it is not described; name a bag, a line or hands")
        answer = turn_over(
            section,
            pull,
            hold=_pull(turning.hold, gear),
            bed_friction=turning.bed_friction,
            to_deg=turning.to_deg,
        )
        frame = None
        if turning.frame:
            frame = frame_steps(section, [_step(step, gear) for step in turning.frame])
        return TurningAnswer(turning.name, turn=answer, frame=frame)

    return make


def _section(turning: RigTurning, draw: Draw) -> Section:
    axis = 0 if turning.across == "x" else 1
    return Section(
        turning.outline,
        turning.edge,
        draw.water_kg * G_M_S2,
        draw.water_m[:, [axis, 2]],
        turning.clockwise,
        draw.weights,
    )


def _roll(rolling: RigRolling, draw: Draw, gear: Mapping[str, GearItem]) -> Callable[[], TurningAnswer]:
    def make() -> TurningAnswer:
        axis = 0 if rolling.across == "x" else 1
        off = np.hypot(*(draw.water_m[:, [axis, 2]] - np.array(rolling.axis_m)).T)
        roller = Roller(rolling.radius_m, draw.water_kg * G_M_S2, off, rolling.start_deg, draw.weights)
        answer = roll(
            roller,
            slope_deg=rolling.slope_deg,
            pull_height_m=rolling.pull_height_m,
            bed_friction=rolling.bed_friction,
            line_wll_kg=wll_kg(rolling.piece, gear),
            chock_m=rolling.chock_m,
            push_kg=rolling.push_kg,
        )
        return TurningAnswer(rolling.name, roll=answer)

    return make


def _step(step: RigFrameStep, gear: Mapping[str, GearItem]) -> FrameStep:
    return FrameStep(
        step.name,
        step.from_deg,
        step.to_deg,
        tuple(Bearing(b.name, b.member, b.at_m, b.bears_kg) for b in step.bearings),
        tuple(FramePart(p.name, p.submerged_kg, p.at_m) for p in step.parts),
        _pull(step.pull, gear),
    )


def _pull(pull: RigPull | None, gear: Mapping[str, GearItem]) -> Pull | None:
    if pull is None:
        return None
    if pull.way == "bag":
        return BagPull(pull.at_m, pull.lift_kg)
    if pull.way == "hands":
        return HandPull(pull.at_m, pull.people, pull.each_kg)
    assert pull.anchor_m is not None  # the rig file asks for it
    return LinePull(pull.at_m, pull.anchor_m, wll_kg(pull.piece, gear), pull.holding_kg, pull.through_block)
