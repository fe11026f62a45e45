"""The closed form of the bounds against a linear programme, draw by draw, and the refusals of the geometry."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import linprog

from oakum.lift.slings import (
    HookAt,
    HookByLengths,
    HookOver,
    HookTrimmed,
    Leg,
    Load,
    Rig,
    Ruling,
    SlingError,
    bounds,
    elastic,
    geometry,
    meeting_point,
    null_vector,
    shared,
    sling_answer,
)

RULING = Ruling("bound", "EU")
SQUARE = ((1.0, 0.7, 0.0), (-1.0, 0.7, 0.0), (-1.0, -0.7, 0.0), (1.0, -0.7, 0.0))


def rig(points, hook, **more) -> Rig:
    legs = tuple(Leg(f"leg {i + 1}", p, 1000.0, "polyester") for i, p in enumerate(points))
    return Rig(legs, hook, RULING, 5.0, 20.0, **more)


def load(n=50, x=0.0, y=0.0, z=-0.3, sd=0.05) -> Load:
    rng = np.random.default_rng(4)
    return Load("in air", rng.normal(9000.0, 300.0, n), rng.normal((x, y, z), sd, (n, 3)))


def oracle(unit, force):
    """Return least and greatest force of each leg by linear programming, None where there is no solution."""
    k = len(unit)
    ends = []
    for leg in range(k):
        aim = np.zeros(k)
        aim[leg] = 1.0
        low, high = (linprog(sign * aim, A_eq=unit.T, b_eq=force, bounds=(0, None)) for sign in (1.0, -1.0))
        if low.status == 2 or high.status == 2:
            return None
        ends.append((low.fun, -high.fun))
    return np.array(ends).T


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("per_draw", [False, True])
def test_four_legs_agree_with_a_linear_programme(seed: int, per_draw: bool) -> None:
    rng = np.random.default_rng(seed)
    feet = np.array(SQUARE) + rng.uniform(-0.3, 0.3, (4, 3))
    hanging = rng.normal((0.2, 0.1, -0.4), (0.5, 0.4, 0.1), (8, 3))
    hook = np.array([0.2, 0.1, rng.uniform(1.0, 3.0)])
    if per_draw:
        hook = np.column_stack((hanging[:, :2], np.full(8, hook[2])))
    weight = rng.uniform(500.0, 20_000.0, 8)
    shape = geometry(feet, hook, hanging)
    known = bounds(shape, weight)
    for i in range(8):
        unit = shape.unit[i if per_draw else 0]
        expected = oracle(unit, weight[i] * shape.up[i])
        assert (expected is not None) == known.feasible[i]
        if expected is not None:
            assert known.least_n[i] == pytest.approx(expected[0], abs=1e-6 * weight[i])
            assert known.greatest_n[i] == pytest.approx(expected[1], abs=1e-6 * weight[i])
        else:
            assert np.isnan(known.greatest_n[i]).all()


def test_both_kinds_of_draws_are_among_those_compared() -> None:
    rng = np.random.default_rng(1)
    hanging = rng.normal((0.2, 0.1, -0.4), (0.8, 0.6, 0.1), (400, 3))
    known = bounds(geometry(np.array(SQUARE), np.array([0.2, 0.1, 2.0]), hanging), np.full(400, 1e4))
    assert 0.1 < known.feasible.mean() < 0.9
    assert known.pushing.sum() == pytest.approx(1.0 - known.feasible.mean())


def test_symmetric_legs_may_leave_all_to_one_diagonal() -> None:
    shape = geometry(np.array(SQUARE), np.array([0.0, 0.0, 2.0]), np.array([[0.0, 0.0, -0.3]]))
    known = bounds(shape, np.array([8000.0]))
    fair = 2000.0 / shape.sine[0, 0]
    assert known.greatest_n[0] == pytest.approx([2 * fair] * 4)
    assert (known.least_n[0] == 0.0).all()
    assert null_vector(shape.unit)[0] == pytest.approx([1, -1, 1, -1]) or null_vector(shape.unit)[
        0
    ] == pytest.approx([-1, 1, -1, 1])


def test_a_leg_over_the_load_on_a_plane_with_two_others_is_determined() -> None:
    feet = np.array([[1.0, 0, 0], [-1.0, 0, 0], [0.2, 0.0, 0.0], [0.0, 1.0, 0.0]])
    known = bounds(
        geometry(feet, np.array([0.0, 0.3, 2.0]), np.array([[0.0, 0.3, -1.0]])), np.array([1000.0])
    )
    assert known.feasible.all()
    assert known.low_end[0, 3] == pytest.approx(known.high_end[0, 3])
    assert known.greatest_n[0, 2] > known.least_n[0, 2]


def test_the_load_tilts_by_offset_over_height() -> None:
    shape = geometry(np.array(SQUARE), np.array([0.3, 0.0, 1.5]), np.array([[0.0, 0.0, -0.5]]))
    assert shape.tilt_deg[0] == pytest.approx(np.degrees(np.arctan2(0.3, 2.0)))


def test_two_legs_let_the_load_roll_until_its_centre_is_under_the_line() -> None:
    feet = np.array([[-1.0, 0, 0], [1.0, 0, 0]])
    shape = geometry(feet, np.array([0.0, 0, 2.0]), np.array([[0.0, 0.1, -0.4]]))
    assert shape.roll_deg is not None
    assert shape.roll_deg[0] == pytest.approx(np.degrees(np.arctan2(0.1, 0.4)))
    assert bounds(shape, np.array([100.0])).greatest_n[0] == pytest.approx([50 * np.sqrt(5) / 2] * 2)


@pytest.mark.parametrize("count", [2, 3, 4])
def test_legs_of_given_length_meet_at_the_hook(count: int) -> None:
    points, hook = SQUARE[:count], np.array([0.1, 0.05, 2.2])
    if count == 2:
        points, hook = ((1.0, 0.0, 0.1), (-1.0, 0.0, 0.0)), np.array([0.1, 0.0, 2.2])
    legs = [
        Leg(f"{i}", p, 1.0, "chain", length_m=float(np.linalg.norm(hook - np.array(p))))
        for i, p in enumerate(points)
    ]
    assert meeting_point(legs, np.array(points)) == pytest.approx(hook, abs=1e-9)


def test_a_light_load_on_very_stiff_legs_still_comes_to_rest() -> None:
    hanging, weight = np.array([[0.1, 0.05, -1.0]]), np.array([100.0])
    shape = geometry(np.array(SQUARE), np.array([0.1, 0.05, 4.6]), hanging)
    rest = elastic(shape, weight, hanging, np.full(4, 1e10))
    assert rest.found.all()
    assert rest.force_n == pytest.approx(shared(bounds(shape, weight), np.full(4, 1e10)), rel=1e-4)


def refused(message: str, points, hook, held: Load | None = None) -> None:
    with pytest.raises(SlingError, match=message):
        sling_answer(held or load(), rig(points, hook))


def test_a_hook_below_the_load_is_refused() -> None:
    refused("hook is below the load", SQUARE, HookAt((0.0, 0.0, -0.2)))
    refused("above the topmost attachment", SQUARE, HookOver(0.0))
    refused("load would turn over", SQUARE, HookAt((0.0, 0.0, 0.5)), load(z=0.9))


def test_attachment_points_in_a_line_are_refused() -> None:
    refused("lie in a line", ((-1, 0, 0), (0, 0, 0), (1, 0, 0)), HookOver(2.0))
    refused("lie in a line", ((-1, 0, 0), (0, 0, 0), (1, 0, 0), (2, 0, 0)), HookOver(2.0))
    refused(
        "in one plane", ((-1, 0, 0), (0, 0, 0.4), (1, 0, 0)), HookAt((0.0, 0.0, 2.0)), load(y=0.0, sd=1e-12)
    )
    refused("share one attachment", (SQUARE[0], SQUARE[0], SQUARE[1]), HookOver(2.0))
    refused("one above the other", ((0, 0, 0), (0, 0, 1)), HookOver(2.0))


def test_a_leg_that_would_push_is_refused_by_name() -> None:
    refused(
        'leg "leg 1" would have to push', SQUARE[:3], HookAt((0.0, 0.0, 2.0)), load(x=-1.5, y=-0.5, sd=0.01)
    )
    refused('leg "leg 2" would have to push', SQUARE, HookAt((0.0, 0.0, 2.0)), load(x=3.0, y=-1.0, sd=0.01))
    refused(
        'leg "leg 1" would have to push', ((-1, 0, 0), (1, 0, 0)), HookAt((0, 0, 2.0)), load(x=2.5, sd=0.01)
    )


def test_two_legs_below_the_centre_would_let_the_load_turn_over() -> None:
    refused("turn over", ((-1, 0, 0), (1, 0, 0)), HookOver(2.0), load(z=0.3, sd=0.02))


def test_legs_too_short_and_legs_without_length_are_refused() -> None:
    short = tuple(Leg(f"{i}", p, 1.0, "chain", length_m=0.5) for i, p in enumerate(SQUARE))
    for count in (2, 3, 4):
        with pytest.raises(SlingError, match="too short to meet"):
            sling_answer(load(), Rig(short[:count], HookByLengths(), RULING, 5.0, 0.0))
    refused("its length is not known", SQUARE, HookByLengths())


def test_a_load_that_floats_and_wrong_shapes_are_refused() -> None:
    floats = Load("x", np.array([10.0, -1.0]), np.zeros((2, 3)) - 0.3)
    refused("floats in some draws", SQUARE, HookOver(2.0), floats)
    refused(
        "one weight and one hanging point", SQUARE, HookOver(2.0), Load("x", np.ones(3), np.zeros((2, 3)))
    )
    refused("not finite", SQUARE, HookOver(2.0), Load("x", np.array([np.nan]), np.zeros((1, 3))))
    refused("two, three or four legs", (*SQUARE, (0, 0, 0)), HookOver(2.0))


def test_a_push_in_few_draws_is_an_objection_with_its_share() -> None:
    held = load(n=4000, x=-0.75, y=0.4, sd=0.16)
    answer = sling_answer(held, rig(SQUARE[:3], HookAt((-0.4, 0.2, 2.0))))
    assert 0.01 < answer.infeasible < 0.5
    assert any("% of the draws" in text and "push" in text for text in answer.objections)
    assert answer.verdict.startswith("objection: ")


def test_trimmed_legs_hang_the_load_level_in_every_draw() -> None:
    answer = sling_answer(load(), rig(SQUARE, HookTrimmed(1.8)))
    assert answer.tilt_deg.p95 == pytest.approx(0.0, abs=1e-9)
    assert not answer.legs[0].length_m.is_exact
    assert sling_answer(load(), rig(SQUARE, HookOver(1.8))).tilt_deg.p95 > 0.5
