"""The grid of runners and bearers under one state: who carries what, solved with all crossings at once."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from oakum.ground.gravity import G_M_S2
from oakum.lift.cradle.beam import Beam, BeamResult, PointLoad, SpreadLoad, Support
from oakum.lift.cradle.errors import CradleError
from oakum.lift.cradle.frame import Array, Member
from oakum.lift.cradle.joints import Joint
from oakum.lift.cradle.network import Tie, solve_network
from oakum.lift.cradle.sharing import rest_loads
from oakum.lift.cradle.states import FrameQuestion, FrameState, Stand


@dataclass(frozen=True, slots=True, eq=False)
class GridResult:
    """Members that bend, solved for the find's weight and the frame's own, no factors but the one given.

    `stands`: name -> (member, reaction up, N). `ties`: joint name -> force between its members, N.
    """

    members: tuple[Member, ...]
    results: tuple[BeamResult, ...]
    stands: dict[str, tuple[str, float]]
    ties: dict[str, float]


def own_load_n_m(member: Member, wet: bool, water_kg_m3: float) -> float:
    """Return a member's own weight per metre, N/m, at the upper end of its density; water inside tubes with it.

    Under water what it displaces is taken off; a floating one pulls up and is counted as nothing.
    """
    section = member.section
    density = member.density().quantile(0.95)
    mass = density * section.area_m2
    inside = section.outside_m2 - section.area_m2
    if wet:
        displaced = section.outside_m2 if member.ends == "sealed" else section.area_m2
        return max(mass - water_kg_m3 * displaced, 0.0) * G_M_S2
    held = 0.0 if member.ends == "sealed" or not section.is_hollow else water_kg_m3 * inside
    return (mass + held) * G_M_S2


def solved_grid(
    question: FrameQuestion,
    state: FrameState,
    met: tuple[Joint, ...],
    find_n: float,
    share: Array,
    factor: float,
) -> GridResult:
    """Return the grid solved under `factor` times the find's weight, `share` (rests, 2) of it, and all own weight.

    Rails, posts and braces load the members they meet, each joint alike. `CradleError` where a stand is under no
    member that bends, or the frame tips off its stands.
    """
    frame = question.frame
    bending = tuple(m for m in frame.members if m.bends)
    index = {m.name: k for k, m in enumerate(bending)}
    spread: list[list[SpreadLoad]] = [[] for _ in bending]
    for k, member in enumerate(bending):
        own = own_load_n_m(member, state.is_wet, question.water_kg_m3)
        if own > 0.0:
            spread[k].append(SpreadLoad(0.0, member.length_m, factor * own))
    for rest, part in zip(question.rests, share, strict=True):
        member = frame.member(rest.member)
        if member.name not in index:
            raise CradleError(
                f'rest "{rest.name}" is on "{member.name}", a {member.kind}: rest it on a runner or bearer'
            )
        spread[index[member.name]] += rest_loads(rest, factor * find_n * part)
    points: list[list[PointLoad]] = [[] for _ in bending]
    for line, at, force in _hung_on(question, state, met, index):
        points[line].append(PointLoad(at, factor * force))
    supports: list[list[Support]] = [[] for _ in bending]
    where: dict[str, tuple[int, int]] = {}
    for stand in state.stands:
        k, at = under(bending, stand, frame.tolerance_m)
        where[stand.name] = (k, len(supports[k]))
        supports[k].append(Support(at, stand.name, stand.stiffness_n_m, pushes_only=True))
    crossings = [j for j in met if j.first in index and j.second in index]
    beams = [
        Beam(
            m.length_m,
            m.e_pa * m.section.inertia_m4,
            tuple(supports[k]),
            tuple(points[k]),
            tuple(spread[k]),
            m.name,
        )
        for k, m in enumerate(bending)
    ]
    ties = [Tie(index[j.first], j.first_at_m, index[j.second], j.second_at_m) for j in crossings]
    results = solve_network(beams, ties)
    stands = {name: (bending[k].name, results[k].reactions_n[i]) for name, (k, i) in where.items()}
    forces = {}
    for joint in crossings:
        places = results[index[joint.first]].tie_n
        forces[joint.name] = min(places, key=lambda p: abs(p[0] - joint.first_at_m))[1]
    return GridResult(bending, results, stands, forces)


def _hung_on(
    question: FrameQuestion, state: FrameState, met: tuple[Joint, ...], index: dict[str, int]
) -> list[tuple[int, float, float]]:
    """Return (member, place, weight) of what rails, posts and braces put on the members that bend.

    A member that meets none of them hands its weight on to those that do, all joints alike.
    """
    rest = {
        m.name: own_load_n_m(m, state.is_wet, question.water_kg_m3) * m.length_m
        for m in question.frame.members
        if not m.bends
    }
    found = []
    loose = 0.0
    touching: list[tuple[int, float]] = []
    for name, weight in rest.items():
        on = [(index[j.other(name)], j.at_m(j.other(name))) for j in met
              if name in (j.first, j.second) and j.other(name) in index]  # fmt: skip
        touching += on
        if on:
            found += [(k, at, weight / len(on)) for k, at in on]
        else:
            loose += weight
    if loose > 0.0 and touching:
        found += [(k, at, loose / len(touching)) for k, at in touching]
    elif loose > 0.0:
        each = loose / len(index)
        found += [(k, 0.5 * question.frame.member(n).length_m, each) for n, k in index.items()]
    return [(k, at, w) for k, at, w in found if w > 0.0]


def under(bending: tuple[Member, ...], stand: Stand, tolerance_m: float) -> tuple[int, float]:
    """Return which member a stand is under, the lowest where several, and where along it."""
    found = []
    for k, member in enumerate(bending):
        from_start = np.asarray(stand.at_m) - np.asarray(member.start_m[:2])
        way = member.way[:2]
        along = float(from_start @ way)
        off = abs(float(from_start @ np.array([-way[1], way[0]])))
        reach = 0.5 * member.section.width_m + tolerance_m
        if off <= reach and -tolerance_m <= along <= member.length_m + tolerance_m:
            found.append((member.start_m[2], k, min(max(along, 0.0), member.length_m)))
    if not found:
        raise CradleError(
            f'stand "{stand.name}" at {stand.at_m[0]:g}, {stand.at_m[1]:g} m is under no runner or bearer'
        )
    _, k, along = min(found)
    return k, along
