"""The parts of a cradle's report: each asks one kernel with the find's weight, and says what it was asked with."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from oakum.ground.estimate import Estimate, weighted_quantile
from oakum.ground.gravity import G_M_S2
from oakum.lift.checks import Check
from oakum.lift.cradle.errors import CradleError
from oakum.lift.cradle.frame import Array
from oakum.lift.cradle.frame_answer import CradleAnswer
from oakum.lift.cradle.frame_solve import frame_answer
from oakum.lift.cradle.level import least_edge_m
from oakum.lift.cradle.limp import LimpAnswer, greatest_spacing_m, limp_answer
from oakum.lift.cradle.padding import padding_answer
from oakum.lift.cradle.plan import Bearing, CradlePlan, CradleState, Pad, Tray
from oakum.lift.cradle.report import CradleLoads, PadReport, StrapsIn
from oakum.lift.cradle.states import FrameQuestion, FrameState, StateKey
from oakum.lift.cradle.straps import bearing_check, straps_answer

Refused = list[tuple[str, str]]

_TRAY_DRAWS = 1000


def p95(values: Array, weights: Array | None) -> float:
    """Return the 95th percentile of draws."""
    return float(weighted_quantile(np.asarray(values, dtype=np.float64), 0.95, weights))


def loaded_state(plan: CradlePlan, state: CradleState, loads: CradleLoads) -> FrameState:
    """Return a state with the find in it; the edge of its stands from their places where nobody typed it."""
    weight = loads.water_n if state.is_wet else loads.air_n
    centre = loads.centre_water_m if state.is_wet else loads.centre_air_m
    place = np.asarray(centre, dtype=np.float64)[..., :2] - np.asarray(plan.at_m[:2])
    found = state.loaded(weight, place, loads.weights)
    if found.hangs or found.edge_m is not None or len(state.stands) < 3:
        return found
    ends = [weighted_quantile(place.reshape(-1, 2)[:, i], (0.05, 0.95), loads.weights) for i in (0, 1)]
    corners = [np.array([x, y]) for x in ends[0] for y in ends[1]]
    stands = np.array([s.at_m for s in state.stands])
    return replace(found, edge_m=math.floor(1000.0 * min(least_edge_m(stands, c) for c in corners)) / 1000.0)


def frame_part(
    plan: CradlePlan, loads: CradleLoads, refused: Refused, keys: frozenset[StateKey] | None = None
) -> CradleAnswer | None:
    """Return the frame through the states that could be answered, the others noted with why; `keys`: only these."""
    if plan.frame is None:
        return None
    states = []
    for state in plan.states:
        if keys is not None and state.key not in keys:
            continue
        if state.is_wet and float(np.min(loads.water_n)) <= 0.0:
            words = "the find may float under water: hold it down, and look at its densities again"
            refused.append((f"frame, {state.key}", words))
        else:
            states.append(state)
    try:
        return _asked(plan, loads, states) if states else None
    except CradleError:
        pass  # one of them: ask each alone
    answers = []
    for state in states:
        try:
            answers.append(_asked(plan, loads, [state]))
        except CradleError as error:
            refused.append((f"frame, {state.key}", str(error)))
    if not answers:
        return None
    said = dict.fromkeys(o for a in answers for o in a.objections)
    return replace(answers[0], states=tuple(s for a in answers for s in a.states), objections=tuple(said))


def _asked(plan: CradlePlan, loads: CradleLoads, states: list[CradleState]) -> CradleAnswer:
    assert plan.frame is not None
    return frame_answer(
        FrameQuestion(
            plan.frame,
            plan.rests,
            tuple(loaded_state(plan, state, loads) for state in states),
            loads.water_kg_m3,
            plan.sag_m,
            plan.service_class_known,
        )
    )


def frame_checks(answer: CradleAnswer) -> list[Check]:
    """Return the checks of all states, each with its state in key and title."""
    return [
        replace(c, key=f"{s.key}:{c.key}", title=f"{c.title}, {s.key}") for s in answer.states for c in s.checks
    ]


def straps_part(plan: CradlePlan, loads: CradleLoads, refused: Refused) -> tuple[StrapsIn, ...]:
    """Return the straps under water and in air, motion of that state counted where it is known."""
    if plan.straps is None:
        return ()
    found = []
    for words, weight, state in (
        ("under water", loads.water_n, plan.state("in water")),
        ("in air", loads.air_n, plan.state("clear")),
    ):
        factor = None if state is None else state.vertical_factor
        if p95(weight, loads.weights) <= 0.0:
            refused.append((f"straps, {words}", "the find floats: nothing lies in the straps"))
            continue
        try:
            answer = straps_answer(np.maximum(weight, 0.0) * (factor or 1.0), plan.straps, loads.weights)
        except CradleError as error:
            refused.append((f"straps, {words}", str(error)))
            continue
        times = f", times {factor:g} for motion" if factor is not None else ", nothing added for motion"
        checks = tuple(
            replace(c, key=f"{c.key}:{words}", title=f"{c.title}, {words}", basis=f"{c.basis}{times}")
            for c in answer.checks
        )
        said = [f"{words}: {o}" for o in answer.objections]
        if factor is None:
            said.append(f"straps {words}: not known by how much motion adds to the weight; nothing is added")
        found.append(StrapsIn(words, factor, replace(answer, checks=checks, objections=tuple(said))))
    return tuple(found)


def air_factor(plan: CradlePlan) -> float | None:
    """Return the greatest vertical factor of the states out of the water, None where none is known."""
    return max((s.vertical_factor for s in plan.states if not s.is_wet and s.vertical_factor is not None), default=None)


def bearing_part(
    plan: CradlePlan, loads: CradleLoads, said: list[str], questions: list[str]
) -> tuple[Check, ...]:
    """Return the check of each surface that bears, in air, with the greatest motion of the states there."""
    if not plan.bearings:
        return ()
    factor = air_factor(plan)
    if factor is None:
        said.append("bearing in air: not known by how much motion adds to the weight; nothing is added")
    shares = [b.share for b in plan.bearings]
    total = sum(s for s in shares if s is not None)
    if None not in shares and abs(total - 1.0) > 0.01:
        questions.append(f"the surfaces that bear carry {100.0 * total:.0f} % of the weight: what of the rest?")
    return tuple(_bearing(b, loads, factor, len(plan.bearings) == 1, said) for b in plan.bearings)


def _bearing(bearing: Bearing, loads: CradleLoads, factor: float | None, alone: bool, said: list[str]) -> Check:
    if bearing.share is None and not alone:
        said.append(f"{bearing.name}: not known what share of the weight it carries; all of it is counted")
    share = 1.0 if bearing.share is None else bearing.share
    weight = loads.air_n * share * (factor or 1.0)
    check = bearing_check(bearing.name, weight, bearing.area_m2, bearing.allowable_pa, loads.weights)
    basis = f"{check.basis}, in air, {100.0 * share:g} % of it"
    return replace(
        check,
        key=f"bearing:{bearing.name}",
        title=f"{bearing.name}, bearing",
        basis=basis if factor is None else f"{basis}, times {factor:g} for motion",
    )


def pads_part(plan: CradlePlan, loads: CradleLoads, said: list[str], refused: Refused) -> tuple[PadReport, ...]:
    """Return what every kind of pad does at depth and in air."""
    return tuple(_pad(pad, loads, air_factor(plan), said, refused) for pad in plan.pads)


def _pad(
    pad: Pad, loads: CradleLoads, factor: float | None, said: list[str], refused: Refused
) -> PadReport:
    name = f'pad "{pad.foam.name}"'
    wet = air = strain = None
    if pad.share is None:
        said.append(f"{name}: not known what share of the weight lies on each; only the water presses it here")
    else:
        wet = pad.share * max(p95(loads.water_n, loads.weights), 0.0) / pad.area_m2
        air = pad.share * p95(loads.air_n, loads.weights) * (factor or 1.0) / pad.area_m2
        strain = pad.foam.strain_under(air)
        if strain is None and pad.foam.curve is not None:
            most = pad.foam.curve[-1][1] / 1000.0
            said.append(
                f"{name} is pressed with {air / 1000.0:.1f} kPa in air, beyond the {most:g} kPa its curve goes to: "
                "use a stiffer foam or more area"
            )
    depth = None
    if loads.depth_m is None:
        refused.append((name, "the depth it is raised from is not known, nor how the foam shrinks there"))
    else:
        try:
            depth = padding_answer(
                pad.foam, pad.area_m2, loads.depth_m, loads.water_kg_m3, pad.density_kg_m3, wet or 0.0
            )
            said += depth.objections
        except CradleError as error:
            refused.append((name, str(error)))
    return PadReport(pad, depth, air, strain)


def tray_part(tray: Tray | None, water_kg_m3: float, refused: Refused) -> LimpAnswer | None:
    """Return what the thin find does on its bars; None where it could not be asked, which is noted."""
    if tray is None:
        return None
    name = f'tray of "{tray.find.name}"'
    if tray.density_kg_m3 is None:
        refused.append((name, "its density full of water is not known: weigh a piece in water and in air"))
        return None
    if tray.spacing_m is None:
        refused.append((name, "not known how far apart the bars lie"))
        return None
    try:
        return limp_answer(
            tray.find, density_draws(tray.density_kg_m3), water_kg_m3, tray.spacing_m, tray.comes_out
        )
    except CradleError as error:
        refused.append((name, str(error)))
        return None


def density_draws(density: Estimate) -> Array:
    """Return evenly spaced quantiles of an estimate, in place of draws."""
    places = (np.arange(_TRAY_DRAWS) + 0.5) / _TRAY_DRAWS
    return np.array([density.quantile(float(p)) for p in places])


def greatest_bars_m(tray: Tray, water_kg_m3: float) -> float | None:
    """Return the greatest distance of bars in the state the find leaves the water in, None where not known."""
    if tray.density_kg_m3 is None:
        return None
    off = water_kg_m3 if tray.comes_out == "in a tub of water" else 0.0
    load = (tray.density_kg_m3.quantile(0.95) - off) * G_M_S2 * tray.find.thickness_m
    return greatest_spacing_m(tray.find, load) if load > 0.0 else None
