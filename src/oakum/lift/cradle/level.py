"""Level forces on a frame that stands: on deck or on a lorry it may slide, tip, and press its find against rails."""

from __future__ import annotations

import numpy as np

from oakum.lift.checks import Check
from oakum.lift.cradle import rules
from oakum.lift.cradle.beam import Beam, SpreadLoad, Support
from oakum.lift.cradle.errors import CradleError
from oakum.lift.cradle.grid import own_load_n_m
from oakum.lift.cradle.joints import Joint
from oakum.lift.cradle.network import solve_beam
from oakum.lift.cradle.states import FrameQuestion, FrameState, lorry_shares


def level_checks(question: FrameQuestion, state: FrameState, find_n: float, said: list[str]) -> list[Check]:
    """Return the checks against sliding and tipping of a state that stands; none for one that hangs."""
    if state.hangs:
        return []
    if state.side_share is None:
        said.append("not known which level acceleration it must stand")
        return []
    if not state.side_source.strip():
        said.append("the level acceleration has no source")
    asked = max(s.share_of_g for s in lorry_shares()) if state.key == "on lorry" else 0.0
    if state.side_share < asked:
        said.append(
            f"a level acceleration of {state.side_share:g} g is less than the {asked:g} g of EN 12195-1 for braking"
        )
    weight = find_n + sum(
        own_load_n_m(m, False, question.water_kg_m3) * m.length_m for m in question.frame.members
    )
    return [*_slides(state, weight, said), *_tips(state, said)]


def _slides(state: FrameState, weight_n: float, said: list[str]) -> list[Check]:
    assert state.side_share is not None
    if state.friction is None:
        said.append("friction under the frame is not known; none is counted")
    needed = max(state.side_share - (state.friction or 0.0), 0.0) * weight_n
    objection = None
    if state.lashings_n is None:
        objection = f"blocks and lashings must hold {needed / 1000.0:.1f} kN level; not known what they hold"
    elif needed > state.lashings_n:
        there = state.lashings_n / 1000.0
        objection = f"blocks and lashings must hold {needed / 1000.0:.1f} kN level, {there:.1f} kN there"
    basis = f"{state.side_share:g} g ({state.side_source}) less friction"
    return [
        Check("slide", "held against sliding", needed, state.lashings_n, "N", basis, rules.SLIDE, objection)
    ]


def _tips(state: FrameState, said: list[str]) -> list[Check]:
    if state.height_m is None or state.edge_m is None:
        said.append(
            "not known how high its centre lies or how far from the edge of its stands: tipping is not checked"
        )
        return []
    assert state.side_share is not None
    demand = state.side_share * state.height_m
    objection = None
    if demand > state.edge_m:
        objection = (
            f"it tips: {state.side_share:g} g times a height of {state.height_m:g} m is more than {state.edge_m:g} m "
            "to the edge; lash it down from above its centre"
        )
    return [
        Check(
            "tip",
            "stands without tipping",
            demand,
            state.edge_m,
            "m",
            "centre over the stands",
            rules.TIP,
            objection,
        )
    ]


def stop_moments(
    question: FrameQuestion, state: FrameState, met: tuple[Joint, ...], find_n: float, said: list[str]
) -> dict[str, float]:
    """Return the sideways moment, N m, in each rail that holds the find: its share, even along it, fast at joints."""
    if state.hangs or not state.stops or state.side_share is None:
        return {}
    each = state.side_share * find_n / len(state.stops)
    found = {}
    for name in state.stops:
        member = question.frame.member(name)
        places = sorted({round(j.at_m(name), 6) for j in met if name in (j.first, j.second)})
        places = [p for i, p in enumerate(places) if i == 0 or p - places[i - 1] > 1e-3]
        supports = tuple(Support(min(p, member.length_m)) for p in places)
        ei = member.e_pa * member.section.side_inertia_m4
        load = SpreadLoad(0.0, member.length_m, each / member.length_m)
        try:
            found[name] = solve_beam(
                Beam(member.length_m, ei, supports, (), (load,), name)
            ).greatest_moment_nm
        except CradleError:
            said.append(
                f'rail "{name}" cannot hold the find sideways: it is fast at {len(supports)} place only'
            )
    return found


def least_edge_m(stands: np.ndarray, centre_m: np.ndarray) -> float:
    """Return the least distance from a centre in plan to the edge round the stands (n, 2); below 0 where outside.

    For `FrameState.edge_m`: the edge is that of the smallest shape without dents round all stands.
    """
    points = [tuple(map(float, p)) for p in stands]
    ring = hull(points)
    if len(ring) < 3:
        raise CradleError("a frame stands on at least three points that do not lie in one line")
    distances = []
    for (ax, ay), (bx, by) in zip(ring, ring[1:] + ring[:1], strict=True):
        size = float(np.hypot(bx - ax, by - ay))
        distances.append(((bx - ax) * (centre_m[1] - ay) - (by - ay) * (centre_m[0] - ax)) / size)
    return float(min(distances))


def hull(points: list[tuple[float, ...]]) -> list[tuple[float, ...]]:
    """Return the corners of the hull, counter-clockwise (Andrew's chain)."""

    def half(ordered: list[tuple[float, ...]]) -> list[tuple[float, ...]]:
        chain: list[tuple[float, ...]] = []
        for p in ordered:
            while len(chain) > 1 and _turn(chain[-2], chain[-1], p) <= 1e-12:
                chain.pop()
            chain.append(p)
        return chain[:-1]

    ordered = sorted(set(points))
    return half(ordered) + half(ordered[::-1])


def _turn(a: tuple[float, ...], b: tuple[float, ...], c: tuple[float, ...]) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
