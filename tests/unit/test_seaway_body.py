"""From a weighed body to the splash zone: its plan, its parts, its hollows, and what somebody knows better."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest

from oakum.ground.solids import Box, Cylinder, Ring
from oakum.lift import Weighing, parse_body, weighing_of
from oakum.lift.cradle import Frame, Member, frame_parts, rectangle, timber_grade
from oakum.lift.cradle.plan import CradlePlan
from oakum.lift.seaway import SeaPart, SplashShape, splash_body, splash_shape
from oakum.lift.seaway.shadow import covered_m2, shadow
from oakum.lift.splash import (
    SplashError,
    cylinder_across,
    disc,
    perforation_factor,
    plate,
    prism,
    with_height,
)

HEAD = 'title = "Thing"\nwater = "1025 kg/m3"\n'


def part(name: str, shape: str, more: str = "", density: str = "1400 kg/m3") -> str:
    return f'[[part]]\nname = "{name}"\n{shape}\ndensity = "{density}"\n{more}\n'


def box(length: float, width: float, height: float) -> str:
    return f'shape = "box"\nlength = "{length} m"\nwidth = "{width} m"\nheight = "{height} m"'


def weighed(text: str, draws: int = 400, **more) -> Weighing:
    return weighing_of(parse_body(HEAD + text), rng=np.random.default_rng(1), draws=draws, **more)


def shape_of(text: str, *asked: SeaPart) -> SplashShape:
    return splash_shape(weighed(text).sums, None, asked)


CRATE = part("block", box(2.0, 1.2, 0.8), 'place = { z = "0 m" }')


def test_the_plan_of_boxes_is_exact_and_of_round_things_within_a_hundredth() -> None:
    assert covered_m2([Box(2.0, 1.2, 0.8).to_mesh()]) == pytest.approx(2.4, rel=1e-9)
    assert covered_m2([Cylinder(0.5, 1.0).to_mesh(96)]) == pytest.approx(pi / 4, rel=2e-3)
    assert covered_m2([Ring(0.65, 0.6, 0.08).to_mesh(96)]) == pytest.approx(pi * (0.65**2 - 0.36), rel=1e-2)


def test_what_lies_over_each_other_is_seen_once_and_the_gap_between_is_open() -> None:
    one = Box(1.0, 1.0, 0.2).to_mesh()
    above = one.with_vertices(one.vertices + np.array([0.0, 0.0, 1.0]))
    beside = one.with_vertices(one.vertices + np.array([3.0, 0.0, 0.0]))
    assert covered_m2([one, above]) == pytest.approx(1.0)
    two = shadow([one, beside])
    assert two.area_m2 == pytest.approx(2.0) and two.hull_m2 == pytest.approx(4.0)
    assert two.open_percent == pytest.approx(50.0) and two.fills == pytest.approx(1.0)
    assert (two.long_m, two.broad_m) == pytest.approx((4.0, 1.0))


@pytest.mark.parametrize(
    ("text", "added"),
    [
        (box(2.0, 1.2, 0.8), with_height(plate(1.2, 2.0), 2.4, 0.8)),
        (box(0.2, 0.2, 1.0), prism(0.2, 1.0)),
        ('shape = "cylinder"\ndiameter = "1 m"\nheight = "0.2 m"', with_height(disc(0.5), pi / 4, 0.2)),
        (
            'shape = "cylinder"\ndiameter = "0.2 m"\nheight = "2 m"\nplace = { z = "1 m" }\nturn = { y = "90 deg" }',
            cylinder_across(0.1, 2.0),
        ),
    ],
)
def test_each_shape_has_its_table(text, added) -> None:
    (only,) = shape_of(part("thing", text)).parts
    assert only.added_m3 == pytest.approx(added.volume_m3, rel=0.01)
    assert only.base_m == 0.0


def test_a_round_bar_lying_has_a_smooth_side_below_and_an_upright_one_has_not() -> None:
    lying = 'shape = "cylinder"\ndiameter = "0.2 m"\nheight = "2 m"\nplace = { z = "1 m" }\nturn = { y = "90 deg" }'
    assert shape_of(part("bar", lying)).parts[0].round_bottom
    upright = shape_of(part("post", 'shape = "cylinder"\ndiameter = "0.2 m"\nheight = "2 m"'))
    assert not upright.parts[0].round_bottom


def test_object_crust_and_sediment_are_one_part_and_members_of_a_crate_one_each() -> None:
    text = (
        part("block", box(1.0, 0.6, 0.4), 'place = { z = "0.3 m" }')
        + part("knob", box(0.2, 0.2, 0.2), 'place = { z = "0.7 m" }')
        + part(
            "sill", box(1.2, 0.1, 0.1), 'role = "crate"\nplace = { y = "-0.3 m" }\ncount = 2\nstep = { y = "0.6 m" }'
        )
    )
    shape = shape_of(text)
    assert [p.name for p in shape.parts] == ["object", "sill 1", "sill 2"]
    whole, sill = shape.parts[0], shape.parts[1]
    assert (whole.base_m, whole.height_m) == pytest.approx((0.3, 0.6)) and sill.base_m == 0.0
    assert whole.volume_m3 == pytest.approx(0.248) and sill.volume_m3 == pytest.approx(0.012)
    assert whole.plan_m2 == pytest.approx(0.6) and whole.waterplane_m2 == pytest.approx(0.6, rel=0.01)
    assert shape.longest_m == pytest.approx(np.hypot(1.2, 0.7))
    assert shape.rising_m3[-1] == pytest.approx(sum(p.volume_m3 for p in shape.parts))


def test_a_plan_more_open_than_the_table_counts_its_pieces_one_by_one() -> None:
    text = part("bar", box(2.0, 0.1, 0.1), 'place = { y = "-1 m" }\ncount = 3\nstep = { y = "1 m" }')
    shape = shape_of(text)
    square = plate(0.1, 0.1)
    raised = with_height(square, 0.01, 0.1).volume_m3 / square.volume_m3
    assert shape.parts[0].added_m3 == pytest.approx(3 * pi / 4 * 0.1**2 * 2.0 * raised)
    assert any("beyond the table" in a and "one by one" in a for a in shape.assumptions)
    assert not shape.objections


def test_a_lump_that_carries_the_object_has_no_shape_until_somebody_gives_what_the_waves_see() -> None:
    lump = CRATE + '[[part]]\nname = "frame"\nrole = "crate"\n'
    lump += 'shape = "lump"\nmass = "70 kg"\ndensity = "7850 kg/m3"\nplace = { z = "0.8 m" }\n'
    shape = shape_of(lump)
    assert any('"frame" is a lump' in o and "[[seaway.part]]" in o for o in shape.objections)
    assert not shape_of(lump, SeaPart("frame", 0.3, 0.1, 40.0)).objections
    assert shape_of(lump, SeaPart("frame", plan_m2=0.3)).objections


def test_what_somebody_knows_better_counts_and_a_name_that_is_not_there_is_an_objection() -> None:
    plain = shape_of(CRATE).parts[0]
    given = shape_of(CRATE, SeaPart("object", 2.0, 1.5, 1025.0, None, 3.0, 6.0, 0.5)).parts[0]
    assert (given.plan_m2, given.waterplane_m2, given.added_m3) == (2.0, 1.5, pytest.approx(1.0))
    assert given.drag_m2 == pytest.approx(6.0) and given.slamming_m2 == pytest.approx(3.0)
    opened = shape_of(CRATE, SeaPart("object", open_percent=20.0)).parts[0]
    assert opened.added_m3 == pytest.approx(plain.added_m3 * perforation_factor(20.0))
    (said,) = shape_of(CRATE, SeaPart("objekt", drag=3.0)).objections
    assert '"objekt"' in said and '"object"' in said
    with pytest.raises(SplashError, match="beyond the table"):
        shape_of(CRATE, SeaPart("object", open_percent=60.0))


HOLLOW = (
    CRATE
    + '[[part]]\nname = "inside"\nhole = true\nin = "block"\nshape = "box"\nlength = "1.8 m"\nwidth = "1.0 m"\n'
    'height = "0.6 m"\nplace = { z = "0.2 m" }\nfilled = "water"\nheld = "yes"\n'
)


def test_a_hollow_that_drains_is_a_prism_above_its_holes_and_a_tight_one_below() -> None:
    (tight,) = shape_of(HOLLOW).hollows
    assert (tight.plan_m2, tight.height_m, tight.floor_m, tight.opening_m2) == pytest.approx((1.8, 0.6, 0.2, 0.0))
    holes = 'drain_holes = { count = 4, diameter = "50 mm", height = "0.1 m", open_share = "50 %" }\n'
    low, high = shape_of(HOLLOW + holes).hollows
    assert (low.height_m, low.floor_m, low.opening_m2) == pytest.approx((0.1, 0.2, 0.0))
    assert (high.height_m, high.floor_m) == pytest.approx((0.5, 0.3))
    assert high.opening_m2 == pytest.approx(4 * pi / 4 * 0.05**2 * 0.5, rel=0.01)


def frame() -> Frame:
    beam, oak = rectangle(0.1, 0.1), timber_grade("C24")
    rows = [
        Member(f"sill {i}", "runner", beam, oak, (-1.2, y, 0.0), (1.2, y, 0.0)) for i, y in enumerate((-0.7, 0.7))
    ]
    rows += [
        Member(f"bar {i}", "bearer", beam, oak, (x, -0.7, 0.1), (x, 0.7, 0.1)) for i, x in enumerate((-1.0, 1.0))
    ]
    return Frame("low", tuple(rows))


def test_the_members_of_a_cradles_frame_stand_where_they_are_under_the_object() -> None:
    at = (0.0, 0.0, -0.15)
    plan = CradlePlan("low", frame(), at)
    found = weighed(CRATE, frame=frame_parts(frame(), at))
    shape = splash_shape(found.sums, plan)
    heights = {p.name: p.base_m for p in shape.parts}
    assert heights == pytest.approx(
        {"object": 0.2, "frame: sill 0": 0.0, "frame: sill 1": 0.0, "frame: bar 0": 0.1, "frame: bar 1": 0.1}, abs=1e-9
    )
    body = splash_body(found.sums, found.use, shape)
    assert np.median(body.volume_share) == pytest.approx(1.0, rel=1e-3)
    unweighed = splash_shape(weighed(CRATE).sums, plan)
    assert any("not among the parts that were weighed" in o for o in unweighed.objections)


def test_very_many_members_are_one_part() -> None:
    row = 'role = "crate"\nplace = { y = "-1 m", z = "0.9 m" }\ncount = 45\nstep = { y = "0.05 m" }'
    rungs = part("rung", box(1.0, 0.05, 0.05), row)
    shape = shape_of(CRATE + rungs)
    assert [p.name for p in shape.parts] == ["object", "frame"]
    assert any("45 members" in a for a in shape.assumptions)


def test_typed_rigging_counts_for_the_hook_and_never_against_a_slack_line() -> None:
    found = weighed(CRATE)
    shape = splash_shape(found.sums)
    plain, heavy = (splash_body(found.sums, found.use, shape, rigging_kg=r) for r in (None, 50.0))
    np.testing.assert_allclose(heavy.mass_kg - plain.mass_kg, 50.0)
    np.testing.assert_allclose(heavy.volume_share, plain.volume_share)
    slack = splash_body(found.sums, found.slack, shape, slack=True, rigging_kg=50.0)
    np.testing.assert_allclose(slack.mass_kg, plain.mass_kg)
