"""Parts where they lie: turns, copies round an axis or along a step, and what overlaps."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from oakum.ground.estimate import exact
from oakum.lift import Body, BodyWater, Part, Place, Repeat, Shape, Stuff, joined, placed_parts, weigh
from oakum.lift.body.overlap import overlaps
from oakum.lift.body.placing import about, likely_frames

WATER = BodyWater("fresh water", exact(1000.0))


def block(name: str, x: float = 0.0, y: float = 0.0, z: float = 0.0, repeat: Repeat | None = None) -> Part:
    shape = Shape("box", (("length", exact(0.2)), ("width", exact(0.1)), ("height", exact(0.1))))
    return Part(name, "object", shape, Place(exact(x), exact(y), exact(z)), Stuff("stone", exact(2500.0)), repeat)


def body(*parts: Part) -> Body:
    return Body("blocks", WATER, parts)


def centre(made: Body) -> tuple[float, float, float]:
    report = weigh(made, rng=np.random.default_rng(0), draws=50)
    found = report.centres[1]
    return found.x_m.best, found.y_m.best, found.z_m.best


def test_copies_round_an_axis_balance_on_it() -> None:
    ring = body(block("whelps", x=0.5, z=0.3, repeat=Repeat(8, "z")))
    assert centre(ring) == pytest.approx((0.0, 0.0, 0.35), abs=1e-12)
    assert weigh(ring, rng=np.random.default_rng(0), draws=50).mass_kg.best == pytest.approx(8 * 5.0)


def test_copies_round_an_axis_through_a_point() -> None:
    assert centre(body(block("pair", x=0.5, repeat=Repeat(2, "z", centre_m=(2.0, 1.0, 0.0))))) == pytest.approx(
        (2.0, 1.0, 0.05)
    )


def test_copies_along_a_step() -> None:
    assert centre(body(block("row", repeat=Repeat(3, None, step_m=(0.0, 0.4, 0.1))))) == pytest.approx((0.0, 0.4, 0.15))


@pytest.mark.parametrize(("axis", "of", "to"), [("x", 1, 2), ("y", 2, 0), ("z", 0, 1)])
def test_a_quarter_turn_is_counter_clockwise_seen_from_the_tip(axis: str, of: int, to: int) -> None:
    assert about(axis, np.pi / 2) @ np.eye(3)[of] == pytest.approx(np.eye(3)[to])


def test_a_turn_carries_the_centre_along() -> None:
    lying = replace(block("post"), place=Place(exact(1.0), exact(0.0), exact(0.0), (0.0, 90.0, 0.0)))
    assert centre(body(lying)) == pytest.approx((1.05, 0.0, 0.0), abs=1e-12)


def test_the_placed_mesh_holds_all_copies() -> None:
    part = block("row", repeat=Repeat(4, None, step_m=(0.5, 0.0, 0.0)))
    (placed,) = placed_parts(body(part))
    assert placed.mesh.volume_m3() == pytest.approx(4 * 0.002)
    assert len(likely_frames(part)) == 4
    assert placed.mesh.vertices[:, 0].max() == pytest.approx(1.6)


def test_parts_that_overlap_are_an_objection_naming_pair_and_share() -> None:
    made = body(block("left"), block("right", x=0.1))
    (pair,) = overlaps(made)
    assert (pair.first, pair.second) == ("left", "right") and pair.share == pytest.approx(0.5, abs=0.02)
    report = weigh(made, rng=np.random.default_rng(0), draws=50)
    assert any('"left" and "right" overlap: 5' in o or '"left" and "right" overlap: 49' in o for o in report.objections)


def test_parts_that_touch_do_not_overlap() -> None:
    assert overlaps(body(block("left"), block("right", x=0.2), block("top", z=0.1))) == ()


def test_joining_refuses_two_parts_of_one_name() -> None:
    with pytest.raises(ValueError, match="both bodies have a part named left: rename one"):
        joined(body(block("left")), body(block("left")))
