"""The sea in which an objection first appears, tip motions as functions of the sea, and what the skipper gets."""

from __future__ import annotations

import numpy as np
import pytest

from oakum.ground.waves import Jonswap, steepest_hs_m
from oakum.lift.splash import (
    Line,
    Part,
    Question,
    SplashBody,
    SplashError,
    TipMeasured,
    TipPerHeight,
    TipResponse,
    TipSeen,
    TipStill,
    Water,
    first_crossing,
    heave_and_roll,
    heave_and_roll_seen,
    limit_curve,
    simplified,
    skipper_value_m,
)

CRATE = Part("crate", 0.0, 0.8, 1.0, 1.92, 2.4, 1.76)
TABLE = TipResponse((1.5, 3.0, 6.0, 12.0), (0.1, 0.4, 0.8, 1.0))


def asked(**more) -> Question:
    body = SplashBody((CRATE,), np.array(more.pop("mass", [1400.0])), np.ones(1), 2.0)
    given = {"tip": TipPerHeight(0.5, 0.6, 0.8), "line": Line(2e5), "hoist_m_s": 0.25, "hook_kg": 3000.0} | more
    return Question(body, Water(1025.0), **given)


def test_at_the_limit_the_simplified_method_changes_its_verdict() -> None:
    question = asked(tip=TABLE)
    for point in limit_curve(question, (3.0, 4.0, 6.0)).points:
        assert simplified(question, point.hs_m * 0.999, point.tz_s).objections == ()
        assert point.objection in simplified(question, point.hs_m * 1.001, point.tz_s).objections
        assert point.skipper_m <= 0.7 * point.hs_m < point.skipper_m + 0.05 + 1e-9
        assert f"Hs {point.hs_m:.2f} m" in point.words and point.objection in point.words


@pytest.mark.parametrize(("hs", "value"), [(0.2309, 0.15), (0.5, 0.35), (0.0, 0.0), (1.0, 0.7), (0.0714, 0.0)])
def test_the_skipper_gets_seven_tenths_rounded_down(hs: float, value: float) -> None:
    assert skipper_value_m(hs) == value


def test_no_curve_where_the_tip_motion_is_not_known() -> None:
    curve = limit_curve(asked(tip=None), (4.0, 5.0))
    assert curve.points == () and "motion of the boom head in this sea is not known" in curve.objections[0]


def test_no_skipper_value_where_the_method_does_not_hold() -> None:
    point = limit_curve(asked(line=Line(2e4)), (4.0,)).points[0]
    assert point.skipper_m is None and point.hs_m is not None
    assert point.words.startswith("Tz 4 s: method does not hold: ")
    unknown = limit_curve(asked(line=None), (4.0,))
    assert unknown.points[0].skipper_m is None and "stiffness of the hoist line" in unknown.objections[0]


def test_a_tip_seen_at_one_period_gives_no_limit_at_another() -> None:
    seen = heave_and_roll_seen((0.1, 4.5), (3.0, 5.0), 4.0, 0.3, 4.5)
    curve = limit_curve(asked(tip=seen), (4.5, 9.0))
    assert curve.points[0].hs_m is not None and curve.points[0].why_not == ()
    assert curve.points[1].hs_m is None and curve.points[1].skipper_m is None
    assert "seen at 4.5 s" in curve.points[1].why_not[0]


def test_a_heavy_dense_body_meets_no_objection_up_to_the_steepest_sea() -> None:
    gun = Part("gun", 0.0, 0.3, 0.15, 0.1, 0.1, 0.1, round_bottom=True)
    body = SplashBody((gun,), np.array([1200.0]), np.ones(1), 1.5)
    question = Question(body, Water(1025.0), TipStill(), Line(2e5), 0.2, 50_000.0)
    point = limit_curve(question, (3.0,)).points[0]
    assert point.hs_m is None and point.objection is None and point.skipper_m is None
    assert point.steepest_m == pytest.approx(steepest_hs_m(3.0))
    assert "no objection found up to Hs 1.11 m" in point.words


def test_an_unknown_hook_leaves_the_slack_line_alone_and_says_so() -> None:
    curve = limit_curve(asked(hook_kg=None), (4.0,))
    assert curve.points[0].objection.startswith("the line may go slack")
    assert any("only the slack line limits" in o for o in curve.objections)


def test_an_overloaded_hook_is_named() -> None:
    point = limit_curve(asked(hook_kg=1650.0, mass=[1600.0]), (4.0,)).points[0]
    assert point.objection.startswith("hook load over what it bears")


def test_first_crossing_ends_of_the_range() -> None:
    assert first_crossing(lambda x: x - 2.0, 0.0, 1.0) is None
    assert first_crossing(lambda x: x + 2.0, 0.0, 1.0) == 0.0
    with pytest.raises(SplashError, match="a search needs a range"):
        first_crossing(lambda x: x, 1.0, 1.0)


def test_a_response_of_one_at_every_period_moves_the_tip_with_the_sea() -> None:
    ones = TipResponse((0.2, 40.0), (1.0, 1.0))
    sea = Jonswap.of_tz(0.5, 4.0)
    found = ones.amplitudes(np.array([0.5]), 4.0)
    assert found.motion_m[0] == pytest.approx(3.6 * np.sqrt(sea.moment(0)), rel=5e-3)
    assert found.motion_m[0] == pytest.approx(0.9 * 0.5, rel=0.02)  # as the rule's wave amplitude
    assert found.speed_m_s[0] == pytest.approx(3.6 * np.sqrt(sea.moment(2)), rel=0.05)


def test_heave_and_roll_add_up_unless_phases_say_otherwise() -> None:
    at, heave, roll = (3.0, 6.0), (0.5, 1.0), (5.0, 2.0)
    both = heave_and_roll(at, heave, roll, 4.0)
    assert both.motion_m_per_m == pytest.approx([0.5 + 4 * np.radians(5), 1.0 + 4 * np.radians(2)])
    assert both.phase_deg is None
    against = heave_and_roll(at, heave, roll, 4.0, ((0.0, 0.0), (180.0, 180.0)))
    assert against.motion_m_per_m == pytest.approx([abs(0.5 - 4 * np.radians(5)), 1.0 - 4 * np.radians(2)])


def test_motion_seen_scales_with_the_height() -> None:
    tip = TipMeasured((TipSeen(0.4, 4.0, ((0.2, 4.0),)),))
    found = tip.amplitudes(np.array([0.4, 0.8]), 4.2)
    assert found.motion_m == pytest.approx([0.2, 0.4])
    assert found.speed_m_s[0] == pytest.approx(0.2 * 2 * np.pi / 4.0)
    assert found.acceleration_m_s2[1] == pytest.approx(0.4 * (2 * np.pi / 4.0) ** 2)
    assert tip.drive(np.array([1.0, 2.0]), 0.2, 4.0).swings[0] == pytest.approx((0.1, 4.0))


@pytest.mark.parametrize(
    ("ask", "expected"),
    [
        (lambda: TABLE.amplitudes(np.array([0.5]), 1.0), r"not known for waves of 1 s.*reaches from 1\.5 to 12 s"),
        (lambda: TABLE.drive(np.array([0.3]), 1.0, 20.0), "not known for waves of 20.9"),
        (lambda: TipResponse((3.0,), (1.0,)), "at least two periods"),
        (lambda: TipResponse((3.0, 2.0), (1.0, 1.0)), "must rise from row to row"),
        (lambda: TipResponse((2.0, 3.0), (1.0, -1.0)), "0 m/m or more"),
        (lambda: TipResponse((2.0, 3.0), (1.0, 1.0), (0.0,)), "one for each period"),
        (lambda: heave_and_roll((2.0, 3.0), (1.0,), (1.0, 1.0), 3.0), "one value each"),
        (lambda: TipMeasured(()), "no tip motion was given"),
        (lambda: TipSeen(0.4, 4.0, ()), "at least one amplitude"),
        (lambda: TipPerHeight(1, 1, 1).drive(np.ones(2), 0.5, 4.0), "cannot be followed in time"),
        (lambda: TipPerHeight(-1, 1, 1), "must be 0 or more; got -1"),
    ],
)
def test_a_tip_motion_that_cannot_be_is_refused(ask, expected: str) -> None:
    with pytest.raises(SplashError, match=expected):
        ask()
