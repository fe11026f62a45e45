"""What holds the frame up: stands, lifting points and posts, and where members press across their grain."""

from __future__ import annotations

import math

from oakum.ground.gravity import G_M_S2
from oakum.lift.checks import Check
from oakum.lift.cradle import rules
from oakum.lift.cradle.frame import Member
from oakum.lift.cradle.frame_answer import StandLoad
from oakum.lift.cradle.grid import GridResult
from oakum.lift.cradle.joints import Joint
from oakum.lift.cradle.states import FrameQuestion, FrameState
from oakum.lift.cradle.strength import Forces, strength_checks
from oakum.lift.cradle.timber import Duration, factor


def member_strength(name: str, member: Member, duration: Duration, forces: Forces, basis: str) -> list[Check]:
    """Return the checks of a member's strength, its timber wet (service class 3)."""
    return list(strength_checks(name, member.section, member.material, 3, duration, forces, basis))


def bearing_on(
    question: FrameQuestion,
    state: FrameState,
    member: Member,
    grids: list[GridResult],
    met: tuple[Joint, ...],
) -> tuple[float, float]:
    """Return the force across the grain and the length it bears on, where pressure is greatest; 0 where nowhere."""
    worst, found = 0.0, (0.0, 1.0)
    for joint in met:
        if joint.name not in grids[0].ties or member.name not in (joint.first, joint.second):
            continue
        other = question.frame.member(joint.other(member.name))
        force = max(abs(g.ties[joint.name]) for g in grids)
        on = min(other.section.width_m, member.length_m)
        if force / on > worst:
            worst, found = force / on, (force, on)
    for stand in state.stands:
        if stand.lifts or stand.bearing_m is None or grids[0].stands[stand.name][0] != member.name:
            continue
        force = max(g.stands[stand.name][1] for g in grids)
        if force / stand.bearing_m > worst:
            worst, found = force / stand.bearing_m, (force, stand.bearing_m)
    return found


def stand_loads(state: FrameState, grids: list[GridResult]) -> tuple[StandLoad, ...]:
    """Return what each stand carries, at the worst centre for it."""
    return tuple(
        StandLoad(s.name, grids[0].stands[s.name][0], max(g.stands[s.name][1] for g in grids))
        for s in state.stands
    )


def stand_checks(
    question: FrameQuestion,
    state: FrameState,
    stands: tuple[StandLoad, ...],
    duration: Duration,
    said: list[str],
) -> list[Check]:
    """Return the checks of lifting points against their tags and of posts against thrust."""
    checks = []
    if state.hangs and state.sling_deg is None:
        said.append("not known how the sling legs stand: how hard they press the frame together is not given")
    for stand, load in zip(state.stands, stands, strict=True):
        if stand.lifts:
            checks.append(_point(state, stand.name, load.force_n, stand.wll_kg))
        elif stand.bearing_m is None:
            said.append(f'stand "{stand.name}": not known on what length the member bears there')
        if stand.post is not None:
            post = question.frame.member(stand.post)
            forces = Forces(0.0, 0.0, 0.0, factor("load_factor") * load.force_n, post.length_m)
            checks += member_strength(post.name, post, duration, forces, f"{state.key}, thrust in the post")
    return checks


def _point(state: FrameState, name: str, force_n: float, wll_kg: float | None) -> Check:
    sine = 1.0 if state.sling_deg is None else math.sin(math.radians(state.sling_deg))
    pull = force_n / sine / G_M_S2
    title = f'lifting point "{name}"'
    objection = None
    if wll_kg is None:
        objection = f"{title}: {pull:,.0f} kg; no tag, no rating"
    elif pull > wll_kg:
        objection = f"{title}: {pull:,.0f} kg against {wll_kg:,.0f} kg on its tag"
    return Check(
        f"point:{name}", title, pull, wll_kg, "kg", f"{state.key}, pull along the leg", rules.POINT, objection
    )
