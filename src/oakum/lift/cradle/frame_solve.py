"""One frame through its states: members, joints, stands, lifting points, sag, sliding and tipping."""

from __future__ import annotations

import math

import numpy as np

from oakum.ground.estimate import spread_of, weighted_quantile
from oakum.lift.checks import Check
from oakum.lift.cradle import rules
from oakum.lift.cradle.errors import CradleError, positive
from oakum.lift.cradle.frame import Array, Member
from oakum.lift.cradle.frame_answer import CradleAnswer, MemberUse, StateAnswer
from oakum.lift.cradle.frame_parts import frame_numbers
from oakum.lift.cradle.frame_stands import bearing_on, member_strength, stand_checks, stand_loads
from oakum.lift.cradle.grid import GridResult, solved_grid
from oakum.lift.cradle.joints import Joint, joints
from oakum.lift.cradle.level import level_checks, stop_moments
from oakum.lift.cradle.sharing import shares
from oakum.lift.cradle.states import FrameQuestion, FrameState
from oakum.lift.cradle.steel import SteelGrade
from oakum.lift.cradle.strength import Forces
from oakum.lift.cradle.timber import Duration, factor, k_def

LASTING = ("permanent", "long", "medium")
"""Durations under which timber creeps."""

_MOST_SKEW_FREE = 3


def frame_answer(question: FrameQuestion) -> CradleAnswer:
    """Return the frame solved and checked in each of its states.

    `CradleError` for a frame that cannot be: rests off their members, stands under none, a frame that tips off.
    """
    _checked(question)
    met = joints(question.frame)
    said = _frame_objections(question, met)
    states = tuple(_state(question, state, met) for state in question.states)
    said += [f"{s.key}: {o}" for s in states for o in s.objections]
    return CradleAnswer(
        question.frame.title, states, met, tuple(dict.fromkeys(said)), rules.ASSUMPTIONS, rules.CAUTIONS
    )


def _checked(question: FrameQuestion) -> None:
    positive("the density of the water", question.water_kg_m3, "kg/m³")
    if not question.states:
        raise CradleError("name at least one state: in water, clear, on deck or on lorry")
    for rest in question.rests:
        length = question.frame.member(rest.member).length_m
        if not 0.0 <= rest.from_m < rest.to_m <= length + 1e-9:
            raise CradleError(
                f'rest "{rest.name}" runs from {rest.from_m:g} to {rest.to_m:g} m, its member from 0 to {length:g} m'
            )
    for state in question.states:
        weight = np.asarray(state.find_n)
        if weight.ndim != 1 or not np.all(np.isfinite(weight)) or np.any(weight <= 0.0):
            raise CradleError(f"{state.key}: the find's weight is a row of draws above 0 N")
        if state.vertical_factor is not None and state.vertical_factor < 1.0:
            raise CradleError(
                f"{state.key}: the vertical factor multiplies the weight and is at least 1; got "
                f"{state.vertical_factor:g}"
            )


def _frame_objections(question: FrameQuestion, met: tuple[Joint, ...]) -> list[str]:
    said = []
    if not question.service_class_known:
        said.append("not said how wet the timber is; service class 3 is taken")
    for member in question.frame.members:
        if member.section.is_hollow and member.ends is None:
            said.append(f'tube "{member.name}": not known whether it is open, drilled or sealed')
        if member.section.is_hollow and member.ends == "sealed":
            said.append(
                f'tube "{member.name}" is sealed: water presses it in at depth; drill it at both ends'
            )
        if not any(member.name in (j.first, j.second) for j in met):
            said.append(f'member "{member.name}" meets no other: check its ends, or make it longer')
    if any(s.is_wet for s in question.states):
        least = frame_numbers(question.frame, question.water_kg_m3).submerged_kg[0]
        if least < 0.0:
            said.append(
                f"the frame may float with {-least:,.0f} kg: soak its timber and type the density, or weight it"
            )
    for joint in met:
        if joint.how == "cuts into":
            said.append(
                f'joint {joint.name}: "{joint.first}" and "{joint.second}" run through each other; a notch '
                "weakens both and is not checked"
            )
    return said


def _centres(state: FrameState) -> list[Array]:
    """Return the likely centre and the corners of its box, P5 to P95, where it has draws."""
    centre = np.asarray(state.centre_m, dtype=np.float64)
    if centre.ndim == 1:
        return [centre]
    low, mid, high = (
        np.array([float(weighted_quantile(centre[:, i], q, state.use_weights)) for i in (0, 1)])
        for q in (0.05, 0.5, 0.95)
    )
    corners = [np.array([x, y]) for x in (low[0], high[0]) for y in (low[1], high[1])]
    return [mid, *(c for c in corners if np.abs(c - mid).max() > 1e-3)]


def _state(question: FrameQuestion, state: FrameState, met: tuple[Joint, ...]) -> StateAnswer:
    said: list[str] = []
    vertical = _vertical(state, said)
    duration: Duration = state.duration or "permanent"
    if state.duration is None:
        said.append("not known how long the load lasts; it is counted as permanent")
    find = float(weighted_quantile(np.asarray(state.find_n), 0.95, state.use_weights))
    grids = []
    for centre in _centres(state):
        share, known = shares(question.rests, question.frame, centre)
        grids.append(solved_grid(question, state, met, find, share, vertical))
    if not known:
        said.append("not known how the find's weight is shared between its rests; equal springs are taken")
    checks: list[Check] = []
    uses = []
    thrusts = _thrusts(question, state, met, grids)
    stops = stop_moments(question, state, met, find, said)
    for k, member in enumerate(grids[0].members):
        thrust = thrusts.get(member.name, 0.0)
        use, found = _member(question, state, member, grids, k, met, thrust, duration)
        uses.append(use)
        checks += found
    for name, moment in stops.items():
        member = question.frame.member(name)
        forces = Forces(0.0, 0.0, side_moment_nm=factor("load_factor") * moment)
        checks += member_strength(f"{name}, sideways", member, duration, forces, "find held sideways")
    stands = stand_loads(state, grids)
    checks += stand_checks(question, state, stands, duration, said)
    checks += level_checks(question, state, find, said)
    said += [c.objection for c in checks if c.objection is not None]
    ties = {n: max((g.ties[n] for g in grids), key=abs) for n in grids[0].ties}
    return StateAnswer(
        state.key,
        spread_of(state.find_n, "N", state.use_weights),
        stands,
        tuple(uses),
        tuple(ties.items()),
        tuple(sorted(checks, key=_hardest, reverse=True)),
        tuple(dict.fromkeys(said)),
    )


def _hardest(check: Check) -> tuple[bool, float]:
    return check.utilisation is None, check.utilisation or 0.0


def _vertical(state: FrameState, said: list[str]) -> float:
    """Return what loads are multiplied with: the vertical factor, and skew where four points or more lift."""
    times = 1.0
    if state.vertical_factor is None:
        said.append("not known by how much motion adds to the weight; nothing is added")
    else:
        times = state.vertical_factor
        if not state.vertical_source.strip():
            said.append("the vertical factor has no source")
    points = sum(s.lifts for s in state.stands)
    if state.hangs and points > _MOST_SKEW_FREE:
        if state.skew_factor is None:
            said.append(
                f"{points} lifting points share as the legs' lengths allow: a skew factor is not given (1.25 for "
                "matched slings in marine practice, 2 where nothing is known)"
            )
        else:
            times *= max(state.skew_factor, 1.0)
    return times


def _thrusts(
    question: FrameQuestion, state: FrameState, met: tuple[Joint, ...], grids: list[GridResult]
) -> dict[str, float]:
    """Return the level thrust, N, in each member by inclined sling legs: on the one lifted and the one next to it."""
    if not state.hangs or state.sling_deg is None or state.sling_deg >= 90.0:
        return {}
    found: dict[str, float] = {}
    slope = math.tan(math.radians(state.sling_deg))
    for stand in state.stands:
        member, _ = grids[0].stands[stand.name]
        thrust = max(g.stands[stand.name][1] for g in grids) / slope
        place = np.asarray(stand.at_m)
        near = [
            j for j in met if member in (j.first, j.second) and question.frame.member(j.other(member)).bends
        ]
        names = [member]
        if near:
            nearest = min(near, key=lambda j: float(np.hypot(*(np.asarray(j.point_m[:2]) - place))))
            names.append(nearest.other(member))
        for name in names:
            found[name] = max(found.get(name, 0.0), thrust)
    return found


def _member(
    question: FrameQuestion,
    state: FrameState,
    member: Member,
    grids: list[GridResult],
    k: int,
    met: tuple[Joint, ...],
    thrust_n: float,
    duration: Duration,
) -> tuple[MemberUse, list[Check]]:
    moment, shear, sag = (max(each) for each in zip(*(g.results[k].greatest() for g in grids), strict=True))
    times = factor("load_factor")
    bearing, on = bearing_on(question, state, member, grids, met)
    forces = Forces(
        times * moment, times * shear, 0.0, times * thrust_n, member.length_m, times * bearing, on
    )
    basis = (
        f"{state.key}, 95th percentile of the weight, worst of {len(grids)} centres, load factor {times:g}"
    )
    checks = member_strength(member.name, member, duration, forces, basis)
    lasting = sag
    if duration in LASTING and not isinstance(member.material, SteelGrade):
        lasting = sag * (1.0 + k_def(3))
    objection = None
    if question.sag_m is None:
        objection = f"{member.name} sags {1000.0 * lasting:.1f} mm; not known how much the find bears"
    elif lasting > question.sag_m:
        objection = f"{member.name} sags {1000.0 * lasting:.1f} mm, {1000.0 * question.sag_m:.1f} mm allowed"
    title = f"{member.name}, sag"
    checks.append(
        Check(f"{member.name}:sag", title, lasting, question.sag_m, "m", basis, rules.DEFLECTION, objection)
    )
    used = max((c.utilisation or 0.0) for c in checks)
    return MemberUse(member.name, moment, shear, sag, lasting, used), checks
