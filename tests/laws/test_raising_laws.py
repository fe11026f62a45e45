"""Laws of the plan: what must not change, and what must never make it look better."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from oakum.lift import parse_body, starting_bodies, weighing_of
from oakum.lift.raising import (
    GearItem,
    Hazard,
    PlanContext,
    RaisingPlan,
    RigPlan,
    RoleHeld,
    example_rig,
    gear_uses,
    parse_rig,
    raising_plan,
    roles_needed,
)
from oakum.lift.raising.loads import Draw, drawn_loads
from oakum.lift.raising.rig_plan import Piece, Point
from oakum.lift.raising.solved import Asked, solve

RIG = parse_rig(example_rig())
WLL_KG = {"S": 1000, "K": 2000, "F": 1500, "H": 2500, "R": 4000, "P": 250, "C": 250, "B": 75}
BODY = parse_body(starting_bodies()["capstan"].toml)
WEIGHING = weighing_of(BODY, rng=np.random.default_rng(4), draws=600, seed=4)
DRAW = drawn_loads(WEIGHING.sums, WEIGHING.use, None)
KEYS = tuple(dict.fromkeys(use.piece.key for use in gear_uses(RIG)))
GEAR = {
    key: GearItem(key, "gear", float(WLL_KG[key[0]]), "", "2027-06-01", "2027-03-01", "vessel", None)
    for key in KEYS
}
LOADED = ("hook", "sling:", "shackle:", "eye:", "top", "bag-lift", "bag-relief-lost")


def turned(point: Point, angle: float) -> Point:
    x, y, z = point
    return (float(x * np.cos(angle) - y * np.sin(angle)), float(x * np.sin(angle) + y * np.cos(angle)), z)


def turned_cloud(cloud: np.ndarray, angle: float) -> np.ndarray:
    x, y, z = cloud.T
    return np.column_stack((x * np.cos(angle) - y * np.sin(angle), x * np.sin(angle) + y * np.cos(angle), z))


def solved(
    rig: RigPlan, draw: Draw, gear: dict[str, GearItem] = GEAR
) -> dict[str, tuple[float, float | None]]:
    found = solve(rig, Asked(draw, None, 1026.0, gear), elastic_draws=0)
    assert not found.hung.refused
    return {c.key: (c.demand, c.utilisation) for c in found.checks}


@settings(max_examples=25, deadline=None)
@given(
    angle=st.floats(-np.pi, np.pi),
    place=st.sampled_from(("over the hanging point", "trimmed", "at a point")),
    sharing=st.sampled_from(("bound", "set EU", "set US")),
)
def test_turning_the_whole_rig_about_the_vertical_changes_nothing(
    angle: float, place: str, sharing: str
) -> None:
    assert RIG.hook is not None and RIG.bags is not None
    at = (0.05, -0.1, 3.6)
    rig = replace(RIG, hook=replace(RIG.hook, place=place, at_m=at), sharing=sharing)  # type: ignore[arg-type]
    bags = tuple(replace(b, at_m=turned(b.at_m, angle)) for b in RIG.bags.bags if b.at_m is not None)
    round_it = replace(
        rig,
        legs=tuple(replace(leg, at_m=turned(leg.at_m, angle)) for leg in rig.legs),
        hook=replace(rig.hook, at_m=turned(at, angle)) if rig.hook else None,
        bags=replace(RIG.bags, bags=bags),
    )
    draw = replace(DRAW, water_m=turned_cloud(DRAW.water_m, angle), air_m=turned_cloud(DRAW.air_m, angle))
    before, after = solved(rig, DRAW), solved(round_it, draw)
    assert before.keys() == after.keys()
    loose = (
        1e-6 if place == "at a point" else 0.05
    )  # a median of x and y is no point of the load: it may move by mm
    for key, (demand, _) in before.items():
        assert after[key][0] == pytest.approx(demand, rel=loose, abs=0.3 if loose > 1e-3 else 1e-6), key


@settings(max_examples=25, deadline=None)
@given(factor=st.floats(1.0, 2.0), place=st.sampled_from(("over the hanging point", "trimmed", "at a point")))
def test_a_heavier_load_never_lowers_a_utilisation(factor: float, place: str) -> None:
    """Of all that bears it; excess lift of bags falls with the weight, and is checked on the lesser weight."""
    assert RIG.hook is not None
    rig = replace(RIG, hook=replace(RIG.hook, place=place, at_m=(0.05, -0.1, 3.6)))  # type: ignore[arg-type]
    heavier = replace(DRAW, water_kg=factor * DRAW.water_kg, air_kg=factor * DRAW.air_kg)
    light, heavy = solved(rig, DRAW), solved(rig, heavier)
    for key, (_, used) in light.items():
        if key.startswith(LOADED) and used is not None:
            after = heavy[key][1]
            assert after is not None and after >= used * (1.0 - 1e-9), key


def context(
    gear: dict[str, GearItem] = GEAR, roles: tuple[RoleHeld, ...] = (), hazards: tuple[Hazard, ...] = ()
) -> PlanContext:
    return PlanContext("2026-07-01", gear, roles, hazards, "it would be lost")


ROLES = tuple(
    RoleHeld(r.role, r.duty, f"p-{i:08d}", r.needs, "2027-12-31", True, r.in_water)
    for i, r in enumerate(roles_needed(RIG))
)
HAZARDS = tuple(
    Hazard(key, key, "excluded", "p-00000001", "2026-05-01", None)
    for key in ("charge", "pressure", "gas", "remains", "venerated")
)


def objected(plan: RaisingPlan) -> set[str]:
    """What is objected to: checks, pieces, roles and hazards by their key."""
    return (
        {f"check {c.key}" for c in plan.checks if c.objection}
        | {f"gear {g.key}" for g in plan.gear if g.objection}
        | {f"role {r.role}" for r in plan.roles if r.objection}
        | {f"hazard {h.key}" for h in plan.hazards if h.objection}
    )


def planned(rig: RigPlan, ctx: PlanContext) -> RaisingPlan:
    return raising_plan(WEIGHING, rig, ctx, with_helps=False)


PAPERS = st.sampled_from((None, "2025-01-01", "2026-07-01", "2027-01-01"))
PIECE = st.tuples(PAPERS, PAPERS, st.sampled_from((None, 100.0, 5000.0)), st.sampled_from((None, "cut")))


@settings(max_examples=30, deadline=None)
@given(pieces=st.lists(PIECE, min_size=len(KEYS), max_size=len(KEYS)), lost=st.integers(0, len(KEYS) - 1))
def test_taking_a_certificate_away_never_takes_an_objection_away(
    pieces: list[tuple[str | None, str | None, float | None, str | None]], lost: int
) -> None:
    gear = {
        key: replace(GEAR[key], certificate_until=c, inspection_until=i, wll_kg=w, objection=o)
        for key, (c, i, w, o) in zip(KEYS, pieces, strict=True)
    }
    key = KEYS[lost]
    less = {**gear, key: replace(gear[key], certificate_until=None)}
    before, after = (planned(RIG, context(g, ROLES, HAZARDS)) for g in (gear, less))
    assert objected(before) <= objected(after)
    assert len(after.objections) >= len(before.objections)


def _leg(i: int, **changes: object) -> Callable[[RigPlan], RigPlan]:
    def change(rig: RigPlan) -> RigPlan:
        legs = list(rig.legs)
        legs[i] = replace(legs[i], **changes)  # type: ignore[arg-type]
        return replace(rig, legs=tuple(legs))

    return change


def _hook(**changes: object) -> Callable[[RigPlan], RigPlan]:
    return lambda rig: replace(rig, hook=replace(rig.hook, **changes) if rig.hook else None)  # type: ignore[arg-type]


def _bags(**changes: object) -> Callable[[RigPlan], RigPlan]:
    return lambda rig: replace(rig, bags=replace(rig.bags, **changes) if rig.bags else None)  # type: ignore[arg-type]


UNKNOWN: dict[str, Callable[[RigPlan], RigPlan]] = {
    "kind of a leg": _leg(0, kind=None),
    "hitch of a leg": _leg(1, hitch=None),
    "piece of a leg": _leg(2, piece=Piece()),
    "tilt limit": _hook(tilt_limit_deg=None),
    "hook": _hook(piece=Piece()),
    "sharing": lambda rig: replace(rig, sharing=None),
    "cell": lambda rig: replace(rig, cell_unit=""),
    "pause": lambda rig: replace(rig, work=replace(rig.work, pause_depth_m=None)),
    "reception": lambda rig: replace(rig, work=replace(rig.work, reception="")),
    "use of the bags": _bags(used_for=None),
    "share of the bags": _bags(relieve_most=None),
    "air": _bags(supply=None),
    "rise": _bags(rise_m_s=None),
}
WEAK: dict[str, Callable[[RigPlan], RigPlan]] = {
    "as it is": lambda rig: rig,
    "weak hook": _hook(piece=Piece("", 500.0)),
    "weak legs": lambda rig: replace(
        rig, legs=tuple(replace(leg, piece=Piece("", 300.0)) for leg in rig.legs)
    ),
    "little tilt": _hook(tilt_limit_deg=0.01),
    "bags that take too much": _bags(relieve_most=0.2),
    "choked": lambda rig: replace(
        rig,
        legs=tuple(replace(leg, hitch="choke", wll_for="straight", choke_angle_deg=50.0) for leg in rig.legs),
    ),
}


@pytest.mark.parametrize("weak", WEAK)
@pytest.mark.parametrize("unknown", UNKNOWN)
def test_not_knowing_never_takes_an_objection_away(weak: str, unknown: str) -> None:
    rig = WEAK[weak](RIG)
    ctx = context(GEAR, ROLES, HAZARDS)
    before, after = planned(rig, ctx), planned(UNKNOWN[unknown](rig), ctx)
    gone = objected(before) - objected(after)
    named = {f"gear (not named) {use}" for use in ("hook", 'leg "south-east"')}
    assert not gone - named  # a piece that is no longer named is another line of the gear list
    assert len(after.objections) >= len(before.objections)
    assert before.objections == () or after.objections != ()


@settings(max_examples=30, deadline=None)
@given(data=st.data())
def test_a_person_or_a_hazard_less_known_never_takes_an_objection_away(data: st.DataObject) -> None:
    i, j = data.draw(st.integers(0, len(ROLES) - 1)), data.draw(st.integers(0, len(HAZARDS) - 1))
    role = replace(
        ROLES[i],
        holds_until=data.draw(PAPERS),
        confirmed=data.draw(st.sampled_from((None, True, False))),
        person=data.draw(st.sampled_from((None, "p-00000000", "p-00000001"))),
    )
    hazard = replace(HAZARDS[j], answer=data.draw(st.sampled_from(("excluded", "present", "authorised"))))
    roles = (*ROLES[:i], role, *ROLES[i + 1 :])
    hazards = (*HAZARDS[:j], hazard, *HAZARDS[j + 1 :])
    field = data.draw(st.sampled_from(("holds_until", "confirmed", "person")))
    less_role = replace(role, **{field: None})
    less_hazard = replace(hazard, answer="not known", person=None)
    before = planned(RIG, context(GEAR, roles, hazards))
    after = planned(
        RIG,
        context(
            GEAR, (*roles[:i], less_role, *roles[i + 1 :]), (*hazards[:j], less_hazard, *hazards[j + 1 :])
        ),
    )
    assert objected(before) <= objected(after)
