"""The frame fitted one side at a time: which member carries when."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from oakum.lift.turning import (
    BagPull,
    Bearing,
    FramePart,
    FrameStep,
    HandPull,
    LinePull,
    Section,
    TurningError,
    frame_steps,
)

G = 9.80665
WHEEL = Section(
    ((0.0, 0.0), (1.5, 0.0), (1.5, 0.2), (0.0, 0.2)),
    0,
    np.random.default_rng(2).normal(200.0, 5.0, 800) * G,
    np.array([0.75, 0.1]),
)
LEFT = Bearing("left foot", "lower rail", (0.0, 0.0), 300.0)
RIGHT = Bearing("right foot", "lower rail", (1.5, 0.0), 300.0)
SIDE = FramePart("first side", 40.0, (0.75, 0.25))
LIE = FrameStep("lies on both feet", 0.0, 0.0, (LEFT, RIGHT))
RISE = FrameStep("is stood up", 0.0, 60.0, (LEFT,), (SIDE,), BagPull((1.5, 0.0), 200.0))


def test_the_sequence_says_which_member_carries_when() -> None:
    found = frame_steps(WHEEL, [LIE, RISE])
    assert found.objections == ()
    table = found.members()
    assert [(step, member) for step, member, _ in table] == [
        ("lies on both feet", "lower rail"),
        ("lies on both feet", "lower rail"),
        ("is stood up", "lower rail"),
    ]
    assert table[0][2] == pytest.approx(100.0, rel=0.06)
    assert found.steps[0].pull_kg is None and found.steps[0].loads[0].sideways is None


def test_parts_fast_to_the_body_weigh_on_the_feet_and_on_the_pull() -> None:
    without = frame_steps(WHEEL, [replace(RISE, parts=())]).steps[0].pull_kg
    with_side = frame_steps(WHEEL, [RISE]).steps[0].pull_kg
    assert without is not None and with_side is not None
    assert with_side.best - without.best == pytest.approx(20.0, abs=0.5)


def test_a_bag_takes_its_lift_off_the_feet() -> None:
    helped = frame_steps(WHEEL, [replace(LIE, pull=BagPull((1.5, 0.2), 50.0))]).steps[0].loads
    assert helped[0].largest_kg.best == pytest.approx(100.0, rel=0.02)
    assert helped[1].largest_kg.best == pytest.approx(50.0, rel=0.05)


def test_a_foot_that_would_lift_off_is_an_objection() -> None:
    near = replace(RIGHT, at_m=(0.4, 0.0))
    found = frame_steps(WHEEL, [replace(LIE, bearings=(LEFT, near))])
    assert 'it lifts off "left foot" and tips over the other point' in found.objections[0]


def test_a_member_too_weak_or_not_known_is_an_objection() -> None:
    weak = frame_steps(
        WHEEL, [replace(LIE, bearings=(replace(LEFT, bears_kg=50.0), replace(RIGHT, bears_kg=None)))]
    )
    assert 'lower rail at "left foot": 10' in weak.objections[0]
    assert 'lower rail at "right foot": not known what it bears' in weak.objections[1]
    assert any(
        "pulling bag: " in text
        for text in frame_steps(WHEEL, [replace(RISE, pull=BagPull((1.5, 0.0), 20.0))]).objections
    )


def test_beyond_its_balance_it_must_be_held() -> None:
    found = frame_steps(WHEEL, [replace(RISE, from_deg=60.0, to_deg=89.0, parts=())])
    assert any("it goes by itself and must be held" in text for text in found.objections)


def test_a_pull_that_lifts_it_off_its_foot_is_an_objection() -> None:
    found = frame_steps(WHEEL, [replace(RISE, to_deg=10.0, pull=BagPull((0.3, 0.0), 900.0))])
    assert any('the pull lifts it off "left foot"' in text for text in found.objections)


def test_a_gap_between_two_steps_is_an_objection() -> None:
    found = frame_steps(WHEEL, [replace(LIE, from_deg=0.0, to_deg=10.0), replace(RISE, from_deg=30.0)])
    assert any("a step between them is missing" in text for text in found.objections)


def test_a_foot_of_a_frame_part_may_stand_outside_the_body() -> None:
    wide = replace(RIGHT, at_m=(2.0, 0.0), part="first side")
    found = frame_steps(WHEEL, [FrameStep("rests", 0.0, 0.0, (LEFT, wide), (SIDE,))])
    assert found.steps[0].loads[1].largest_kg.best == pytest.approx((200.0 + 40.0) * 0.75 / 2.0, rel=0.02)


@pytest.mark.parametrize(
    ("steps", "words"),
    [
        ([], "at least one step"),
        ([replace(LIE, bearings=())], "bears on nothing"),
        (
            [replace(LIE, bearings=(LEFT, RIGHT, replace(LEFT, name="third")))],
            "from balance; leave two",
        ),
        ([replace(LIE, bearings=(LEFT,))], "bears on one point and has no pull"),
        ([replace(LIE, bearings=(LEFT, replace(LEFT, at_m=(0.0, 0.2))))], "one over the other"),
        (
            [replace(LIE, bearings=(LEFT, replace(RIGHT, at_m=(1.8, 0.0))))],
            '"right foot" lies 0.30 m outside the body',
        ),
        (
            [replace(LIE, bearings=(LEFT, replace(RIGHT, part="second side")))],
            "which is not fast to the body",
        ),
        ([replace(LIE, pull=BagPull((1.5, 0.0), None))], "lift of the bag that helps must be known"),
        ([replace(LIE, pull=HandPull((1.5, 0.0), 2, 20.0))], "pulled sideways by hands"),
        ([replace(LIE, pull=LinePull((1.5, 0.0), (-3.0, 2.0)))], "pulled sideways by a line"),
        ([replace(RISE, pull=LinePull((1.5, 0.0), (4.0, -2.0)))], 'does not turn it on "left foot" that way'),
        ([replace(RISE, parts=(), pull=BagPull((2.5, 0.0), 50.0))], "made fast 1.00 m outside the body"),
    ],
)
def test_steps_that_cannot_be_solved_are_refused(steps: list[FrameStep], words: str) -> None:
    with pytest.raises(TurningError, match=words):
        frame_steps(WHEEL, steps)
