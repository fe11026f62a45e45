"""Laws of every turning: moments, energy, mirror images, balance of forces."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from oakum.lift.turning import (
    BagPull,
    Bearing,
    FramePart,
    FrameStep,
    HandPull,
    LinePull,
    Pull,
    Roller,
    Section,
    chock_holds_n,
    frame_steps,
    raised_m,
    rolling_n,
    turn,
    turn_over,
    weight_moment_nm,
)

G = 9.80665
brief = settings(max_examples=80, deadline=None)
size = st.floats(0.2, 4.0)
share = st.floats(0.1, 0.9)
kilograms = st.floats(10.0, 5_000.0)


@st.composite
def bodies(draw: st.DrawFn) -> Section:
    """A block with its corners, of any weight, with the hanging point anywhere in it."""
    width, height = draw(size), draw(size)
    outline = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    hanging = np.array([width * draw(share), height * draw(share)])
    clockwise = draw(st.booleans())
    return Section(outline, 1 if clockwise else 0, np.array([draw(kilograms) * G]), hanging, clockwise)


@st.composite
def turnings(draw: st.DrawFn) -> tuple[Section, Pull]:
    body = draw(bodies())
    (_, _), (width, _), (_, height), _ = body.outline
    far = 0.0 if body.clockwise else width
    at = (far, height * draw(share))
    which = draw(st.sampled_from(["bag", "line", "hands"]))
    if which == "bag":
        return body, BagPull(at, None)
    if which == "hands":
        return body, HandPull(at, 2, 20.0)
    reach = draw(st.floats(1.0, 8.0)) * max(width, height)
    over = draw(st.floats(0.5, 6.0)) * max(width, height)
    return body, LinePull(at, (width + reach if body.clockwise else -reach, over))


def mirrored(body: Section, pull: Pull) -> tuple[Section, Pull]:
    flipped = replace(
        body,
        outline=tuple((-x, y) for x, y in body.outline),
        hanging_m=np.asarray(body.hanging_m) * [-1.0, 1.0],
        clockwise=not body.clockwise,
    )
    moved = replace(pull, at_m=(-pull.at_m[0], pull.at_m[1]))
    if isinstance(moved, LinePull):
        moved = replace(moved, anchor_m=(-moved.anchor_m[0], moved.anchor_m[1]))
    return flipped, moved


def angles_of(body: Section, count: int = 41) -> np.ndarray:
    return np.linspace(0.0, 0.98 * min(float(body.balance_deg()[0]), body.lands_deg()), count)


@brief
@given(turnings())
def test_force_times_arm_is_the_moment_of_the_weight_at_every_angle(case: tuple[Section, Pull]) -> None:
    body, pull = case
    assume(float(body.balance_deg()[0]) > 1.0)
    angles = angles_of(body)
    turned = turn(body, pull, angles)
    assume(np.all(turned.arm_m > 1e-3))
    assert turned.force_n * turned.arm_m == pytest.approx(weight_moment_nm(body, angles), rel=1e-9, abs=1e-6)
    assert np.all(turned.force_n >= 0.0)


@brief
@given(turnings())
def test_pull_edge_and_weight_balance(case: tuple[Section, Pull]) -> None:
    """The force on the body by the pull is what the edge does not bear, of the size of the pull."""
    body, pull = case
    turned = turn(body, pull, angles_of(body))
    across, up = -turned.edge_x_n, body.weight_n[:, None] - turned.edge_y_n
    assert np.hypot(across, up) == pytest.approx(np.abs(turned.force_n), rel=1e-9, abs=1e-6)


@brief
@given(turnings())
def test_work_is_what_the_weight_gains_in_height(case: tuple[Section, Pull]) -> None:
    """The pull along the way of its fastening, summed, is the weight times the rise of the hanging point."""
    body, pull = case
    assume(float(body.balance_deg()[0]) > 1.0)
    angles = angles_of(body, 4001)
    turned = turn(body, pull, angles)
    assume(np.all(turned.arm_m > 0.02))
    place = body.turned(body.from_edge(pull.at_m), angles)
    on_body = np.stack([-turned.edge_x_n[0], body.weight_n[0] - turned.edge_y_n[0]], axis=-1)
    middle = 0.5 * (on_body[1:] + on_body[:-1])
    work = float(np.einsum("ij,ij->", middle, np.diff(place, axis=0)))
    gained = float(body.weight_n[0] * raised_m(body, angles)[0, -1])
    assert work == pytest.approx(gained, rel=2e-3, abs=1e-3 * body.weight_n[0])


@brief
@given(turnings())
def test_the_mirror_image_needs_the_same_pull_and_slides_the_other_way(case: tuple[Section, Pull]) -> None:
    body, pull = case
    angles = angles_of(body)
    here, there = turn(body, pull, angles), turn(*mirrored(body, pull), angles)
    assert there.force_n == pytest.approx(here.force_n, rel=1e-9, abs=1e-9)
    assert there.edge_x_n == pytest.approx(-here.edge_x_n, rel=1e-9, abs=1e-6)
    assert there.edge_y_n == pytest.approx(here.edge_y_n, rel=1e-9, abs=1e-6)
    assert mirrored(body, pull)[0].lands_deg() == pytest.approx(body.lands_deg())


@brief
@given(bodies(), st.floats(1.1, 5.0))
def test_twice_the_weight_needs_twice_the_pull(body: Section, times: float) -> None:
    pull = HandPull(body.outline[2 if not body.clockwise else 3], 1, 20.0)
    angles = angles_of(body)
    heavy = replace(body, weight_n=body.weight_n * times)
    assert turn(heavy, pull, angles).force_n == pytest.approx(
        turn(body, pull, angles).force_n * times, rel=1e-9
    )


@brief
@given(bodies())
def test_pulling_square_to_the_way_from_the_edge_is_the_least_pull(body: Section) -> None:
    at = body.outline[2 if not body.clockwise else 3]
    angles = angles_of(body)
    hands, bag = turn(body, HandPull(at, 1, 20.0), angles), turn(body, BagPull(at, None), angles)
    better = bag.arm_m > 1e-6
    assert np.all(hands.force_n[:, better] <= bag.force_n[:, better] * (1.0 + 1e-9))


@settings(max_examples=30, deadline=None)
@given(bodies())
def test_beyond_the_balance_the_sign_of_the_curve_changes(body: Section) -> None:
    balance = float(body.balance_deg()[0])
    assume(2.0 < balance < body.lands_deg() - 2.0)
    at = body.outline[2 if not body.clockwise else 3]
    found = turn_over(body, HandPull(at, 99, 999.0), hold=None, bed_friction=9.0)
    for angle, force in zip(found.force.x, found.force.best, strict=True):
        if abs(angle - balance) > 0.01:
            assert (force > 0.0) == (angle < balance)
    assert found.goes_by_itself == 1.0
    assert found.balance_deg.best == pytest.approx(balance)


@brief
@given(bodies(), share, share, st.floats(0.0, 60.0), st.floats(0.0, 200.0))
def test_bearing_points_carry_the_whole_weight_and_no_moment(
    body: Section, a: float, b: float, angle: float, frame_kg: float
) -> None:
    assume(abs(a - b) > 0.05)
    width, height = body.outline[1][0], body.outline[2][1]
    feet = (Bearing("one", "sole", (width * a, 0.0), 1e9), Bearing("two", "sole", (width * b, 0.0), 1e9))
    part = FramePart("side", frame_kg, (width, height))
    found = frame_steps(body, [FrameStep("resting", angle, angle, feet, (part,))])
    first, second = (load.upright.best[0] for load in found.steps[0].loads)
    kg = float(body.weight_n[0]) / G
    assert first + second == pytest.approx(kg + frame_kg, rel=1e-9)
    at = body.turned(np.array([body.from_edge(f.at_m) for f in feet]), [angle])[:, 0, 0]
    centre = body.turned(body.arms_m, [angle])[0, 0, 0]
    corner = body.turned(body.from_edge(part.at_m), [angle])[0, 0]
    assert first * at[0] + second * at[1] == pytest.approx(
        kg * centre + frame_kg * corner, rel=1e-6, abs=1e-5 * kg
    )


@brief
@given(st.floats(0.1, 1.0), kilograms, share, st.floats(0.0, 360.0), st.floats(-25.0, 25.0))
def test_rolling_once_round_costs_only_what_it_climbs(
    radius: float, kg: float, off: float, start: float, slope: float
) -> None:
    body = Roller(radius, np.array([kg * G]), np.array([off * radius]), start)
    angles = np.linspace(0.0, 360.0, 721)
    force = rolling_n(body, slope, radius, angles)[0]
    work = float(np.trapezoid(force * radius, np.radians(angles)))
    climbed = 2.0 * np.pi * radius * np.sin(np.radians(slope))
    assert work == pytest.approx(kg * G * climbed, rel=1e-6, abs=1e-6 * kg * G)


@brief
@given(st.floats(0.1, 1.0), share, share, st.floats(-10.0, 10.0))
def test_a_higher_chock_never_holds_less(radius: float, a: float, b: float, slope: float) -> None:
    low, high = sorted((a * radius, b * radius))
    body = Roller(radius, np.array([1_000.0]), np.array([0.0]), 0.0)
    holds = [float(chock_holds_n(body, c, slope, radius)[0]) for c in (low, high)]
    assume(min(holds) > 0.0)
    assert holds[0] <= holds[1] + 1e-9
