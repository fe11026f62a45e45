"""What would help in the sea: each way solved again, with numbers before and after, its cost, or why not."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from oakum.ground.solids import Placement
from oakum.lift import Weighing, parse_body, weighing_of
from oakum.lift.body.likely import bounds_m, placed_parts
from oakum.lift.raising import Help, PlanContext, RigPlan, parse_rig, raising_plan
from oakum.lift.raising.assemble import solved_before
from oakum.lift.raising.helps_sea import helps_at_sea
from oakum.lift.raising.lighter import drained, with_ballast
from oakum.lift.raising.on_edge import on_edge, turned_body, turns_deg
from oakum.lift.raising.sea_words import limit_at
from oakum.lift.seaway import seaway_answer
from oakum.lift.vessel import VesselPapers, parse_vessel, vessel_files

EXAMPLES = Path(__file__).resolve().parents[2] / "docs" / "examples"
SLAB = """
title = "Slab on a tray"
water = "1027 kg/m3"
hook_above_top = "2 m"
[[part]]
name = "slab"
shape = "box"
length = "1.2 m"
width = "0.8 m"
height = "0.25 m"
density = "2500 ± 40 kg/m3"
place = { x = "0 m", z = "0 m" }
"""
TRAY = """
[[part]]
name = "tray"
role = "crate"
shape = "box"
length = "1.6 m"
width = "1.2 m"
height = "0.02 m"
density = "7850 kg/m3"
place = { x = "0 m", z = "-0.02 m" }
"""
TUB = """
[[part]]
name = "water in it"
hole = true
in = "slab"
filled = "water"
shape = "box"
length = "0.9 m"
width = "0.5 m"
height = "0.2 m"
place = { x = "0 m", z = "0.05 m" }
held = "100 %"
"""
RIG = """
title = "Two legs"
cell_unit = "kg"
[rules]
sharing = "bound"
hitches = "EU"
[hook]
place = "over the hanging point"
level = "in air"
height = "1.8 m"
wll = "5 t"
rigging = "25 kg"
[[leg]]
name = "one"
at = { x = "0.5 m", y = "0 m", z = "0.25 m" }
wll = "3 t"
[[leg]]
name = "two"
at = { x = "-0.5 m", y = "0 m", z = "0.25 m" }
wll = "3 t"
[seaway]
vessel = "Workboat Tolmarren Girl"
heading = "beam"
waters = "sheltered"
hs = "0.30 m"
tz = "5 s"
depth = "14 m"
radius = "4 m"
wind = "5 m/s"
hoist_speed = "0.2 m/s"
line = { axial_stiffness = "12 MN", length = "12 m" }
"""


@cache
def papers() -> VesselPapers:
    text = (EXAMPLES / "workboat.toml").read_text()
    return parse_vessel(text, {n: (EXAMPLES / n).read_bytes() for n in vessel_files(text)}, "workboat")


@cache
def weighed(text: str) -> Weighing:
    return weighing_of(parse_body(text), rng=np.random.default_rng(3), draws=1000, seed=3)


def rig(**changes: object) -> RigPlan:
    found = parse_rig(RIG)
    assert found.sea is not None
    return replace(found, sea=replace(found.sea, **changes))  # type: ignore[arg-type]


CONTEXT = PlanContext("2026-07-01")


@cache
def helped(text: str = SLAB, hs_m: float | None = 0.3, radius_m: float = 4.0) -> dict[str, Help]:
    """Return the helps by what they change."""
    planned = rig(hs_m=hs_m, radius_m=radius_m)
    before = solved_before(weighed(text), planned, replace(CONTEXT, vessel=papers()))
    ways = ("ballast", "open", "edge", "drained", "calm", "radius")
    return dict(zip(ways, helps_at_sea(before.at_sea, weighed(text)), strict=True))


def test_ballast_is_the_least_that_keeps_the_line_taut_and_says_what_it_costs() -> None:
    found = helped()["ballast"]
    assert found.before is not None and found.after is not None
    assert found.before > 0.9 >= found.after > 0.86  # not much more than needed
    assert any("slack" in o for o in found.removes)
    assert "hook load through the surface" in found.cost and "she heels" in found.cost
    kilograms = float(found.title.split(" kg")[0].replace(",", ""))
    sums = weighed(SLAB).sums
    heavier = with_ballast(weighed(SLAB), kilograms)
    np.testing.assert_allclose(heavier.mass_kg - sums.mass_kg, kilograms)
    np.testing.assert_allclose(
        heavier.submerged_kg - sums.submerged_kg, kilograms * (1.0 - 1027.0 / 7850.0), rtol=1e-9
    )


def test_turned_on_edge_less_of_it_meets_the_sea() -> None:
    found = helped()["edge"]
    assert found.before is not None and found.after is not None and found.after < 0.6 * found.before
    assert "conservator decides" in found.cost


def test_a_closed_tray_is_opened_and_a_find_without_one_is_refused() -> None:
    found = helped(SLAB + TRAY)["open"]
    assert found.title == '"tray" perforated, 30 % open'
    assert found.before is not None and found.after is not None and found.after < found.before
    refused = helped()["open"]
    assert refused.after is None and "nothing under it is a closed floor" in (refused.refused or "")


def test_water_let_out_on_the_way_lightens_the_hook() -> None:
    found = helped(SLAB + TUB)["drained"]
    assert found.before is not None and found.after is not None and found.after < found.before
    dry = drained(weighed(SLAB + TUB))
    assert dry is not None and not dry.water_clear_kg.any()
    np.testing.assert_allclose(dry.mass_kg, weighed(SLAB + TUB).sums.mass_kg)
    assert "no hollow" in (helped()["drained"].refused or "")


def test_a_calmer_sea_is_the_skippers_value_and_no_objection_of_the_sea_stands_there() -> None:
    before = solved_before(weighed(SLAB), rig(), replace(CONTEXT, vessel=papers()))
    point = limit_at(before.at_sea.seaway)
    assert point is not None and point.hs_m is not None and point.hs_m < 0.3
    found = helped()["calm"]
    assert found.before == 0.3 and found.after == point.skipper_m and found.removes
    assert before.at_sea.inputs is not None
    calm = seaway_answer(replace(before.at_sea.inputs, sea=replace(before.at_sea.inputs.sea, hs_m=found.after)))
    assert not any("slack" in o for o in calm.objections)


def test_a_sea_that_is_calm_enough_needs_no_ballast_and_no_waiting() -> None:
    found = helped(hs_m=0.02)
    assert "stays taut" in (found["ballast"].refused or "")
    assert "makes no objection before" in (found["calm"].refused or "")


def test_a_nearer_radius_is_found_where_the_chart_ends_and_refused_where_it_does_not_matter() -> None:
    far = helped(hs_m=0.02, radius_m=8.5)["radius"]
    assert far.before == 8.5 and far.after is not None and far.after < 8.0
    assert any("outside the chart" in o for o in far.removes)
    near = helped(hs_m=0.02)["radius"]
    assert near.after is None and "makes no objection before" in (near.refused or "")


def test_while_the_sea_or_the_vessel_is_not_known_each_way_says_why_not() -> None:
    unknown = helped(hs_m=None)
    assert all(h.refused for key, h in unknown.items() if key != "radius")
    assert "Hs missing" in (unknown["ballast"].refused or "")
    before = solved_before(weighed(SLAB), rig(), CONTEXT)
    blind = helps_at_sea(before.at_sea, weighed(SLAB))
    assert all(h.refused for h in blind) and "not known" in (blind[-1].refused or "")
    none = solved_before(weighed(SLAB), replace(rig(), sea=None), CONTEXT)
    assert helps_at_sea(none.at_sea, weighed(SLAB)) == ()


def test_what_helps_in_the_sea_stands_among_what_helps() -> None:
    plan = raising_plan(weighed(SLAB), rig(), replace(CONTEXT, vessel=papers()))
    titles = [h.title for h in plan.helps]
    assert any("ballast" in t for t in titles) and any(t.startswith("Legs") for t in titles)
    refused = [h.refused is not None for h in plan.helps]
    assert refused == sorted(refused)


@pytest.mark.parametrize("axis", ["x", "y"])
def test_a_body_turned_on_edge_is_as_broad_as_it_was_high(axis: str) -> None:
    body = weighed(SLAB + TRAY).report.body
    low, high = bounds_m(placed_parts(body))
    turned_low, turned_high = bounds_m(placed_parts(turned_body(body, "x" if axis == "x" else "y")))
    size, turned = high - low, turned_high - turned_low
    swapped = [0, 2, 1] if axis == "x" else [2, 1, 0]
    np.testing.assert_allclose(turned, size[swapped], atol=1e-9)


def test_a_body_turned_on_edge_weighs_what_it_weighed_in_every_draw() -> None:
    sums = weighed(SLAB + TRAY).sums
    for axis in ("x", "y"):
        turned = on_edge(sums, "x" if axis == "x" else "y")
        np.testing.assert_allclose(turned.mass_kg, sums.mass_kg)
        np.testing.assert_allclose(turned.submerged_kg, sums.submerged_kg)


@pytest.mark.parametrize("turn", [(0, 0, 0), (30, -40, 110), (12, 90, 0), (-71, -90, 25), (180, 33, -90)])
def test_turns_are_read_back_from_their_matrix(turn: tuple[float, float, float]) -> None:
    def matrix(x: float, y: float, z: float) -> np.ndarray:
        placed = Placement(0.0, 0.0, 0.0, turn_x_deg=x, turn_y_deg=y, turn_z_deg=z)
        return np.asarray(placed.matrix())[:3, :3]

    np.testing.assert_allclose(matrix(*turns_deg(matrix(*turn))), matrix(*turn), atol=1e-9)
