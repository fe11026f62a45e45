"""Turning against closed forms of elementary statics."""

from __future__ import annotations

import numpy as np
import pytest

from oakum.lift.turning import (
    BagPull,
    Bearing,
    FrameStep,
    LinePull,
    Roller,
    Section,
    chock_holds_n,
    frame_steps,
    friction_needed,
    rolling_n,
    turn,
    turn_over,
)

G = 9.80665


def box(width: float, height: float, edge: int = 0, *, clockwise: bool = False, kg: float = 500.0) -> Section:
    """A box as it lies, width along the bed, with its weight in the middle."""
    outline = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    return Section(outline, edge, np.array([kg * G]), np.array([width / 2, height / 2]), clockwise)


@pytest.mark.parametrize(("length", "thickness"), [(1.0, 0.01), (3.0, 0.05), (2.4, 0.3)])
def test_a_uniform_plate_lifted_at_its_far_edge_needs_half_its_weight_at_every_angle(
    length: float, thickness: float
) -> None:
    """Own calculation: the middle is half as far from the edge as the far corner, and stays so."""
    plate = box(length, thickness)
    angles = np.linspace(0.0, float(plate.balance_deg()[0]) - 0.01, 50)
    turned = turn(plate, BagPull((length, thickness), None), angles)
    assert turned.force_n == pytest.approx(np.full((1, 50), 250.0 * G), rel=1e-9)
    assert turned.edge_y_n == pytest.approx(np.full((1, 50), 250.0 * G), rel=1e-9)
    assert turned.edge_x_n == pytest.approx(np.zeros((1, 50)), abs=1e-9)
    assert friction_needed(turned).max() == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize(("width", "height"), [(2.0, 0.5), (0.5, 2.0), (1.0, 1.0), (1.2, 0.8)])
def test_a_box_goes_by_itself_past_atan_width_over_height(width: float, height: float) -> None:
    """Own calculation: width and height as it lies at the start; the middle is then over the edge.

    A box 2.0 m wide and 0.5 m high is stood up past 76.0 degrees; the same box standing, 0.5 m wide and 2.0 m
    high, falls over past 14.0 degrees: the two add up to a right angle.
    """
    there = float(box(width, height).balance_deg()[0])
    back = float(box(height, width, 1, clockwise=True).balance_deg()[0])
    assert there == pytest.approx(np.degrees(np.arctan(width / height)))
    assert there + back == pytest.approx(90.0)
    angles = np.array([there - 0.1, there, there + 0.1])
    moment = turn(box(width, height), BagPull((width, 0.0), None), angles).moment_nm[0]
    assert moment[0] > 0.0 > moment[2]
    assert moment[1] == pytest.approx(0.0, abs=1e-9)


def test_a_box_set_down_on_its_next_side() -> None:
    """Own calculation: every corner of a box is a right angle."""
    assert box(2.0, 0.5).lands_deg() == pytest.approx(90.0)
    assert box(2.0, 0.5, 1, clockwise=True).lands_deg() == pytest.approx(90.0)


def test_work_to_the_balance_is_the_weight_times_the_rise_of_its_middle() -> None:
    """Own calculation: half the diagonal less half the height."""
    found = turn_over(box(2.0, 0.5), BagPull((2.0, 0.0), 300.0), hold=None, bed_friction=0.5)
    assert found.work_j.best == pytest.approx(500.0 * G * (np.hypot(2.0, 0.5) / 2 - 0.25))


def test_a_ladder_pulled_up_by_a_level_line() -> None:
    """Own calculation: a level pull at the far end needs W cot(angle) / 2, and so much friction."""
    plate = box(4.0, 1e-6)
    for angle in (20.0, 45.0, 70.0):
        far = 4.0 * np.array([np.cos(np.radians(angle)), np.sin(np.radians(angle))])
        pull = LinePull((4.0, 0.0), (-100.0, float(far[1])))
        turned = turn(plate, pull, np.array([angle]))
        level = 250.0 * G / np.tan(np.radians(angle))
        assert turned.force_n[0, 0] == pytest.approx(level, rel=1e-5)
        assert friction_needed(turned)[0, 0] == pytest.approx(level / (500.0 * G), rel=1e-5)


@pytest.mark.parametrize("slope", [5.0, 15.0, 30.0])
def test_a_line_laid_over_a_barrel_halves_the_pull(slope: float) -> None:
    """The parbuckle: W sin(slope) at the axle, half of it with the line over the top (memory, verify)."""
    barrel = Roller(0.3, np.array([80.0 * G]), np.array([0.0]), None)
    axle = rolling_n(barrel, slope, 0.3, np.array([0.0, 90.0]))
    over = rolling_n(barrel, slope, 0.6, np.array([0.0, 90.0]))
    assert axle[0] == pytest.approx(np.full(2, 80.0 * G * np.sin(np.radians(slope))))
    assert over == pytest.approx(axle / 2.0)


@pytest.mark.parametrize("chock", [0.03, 0.1, 0.2])
def test_a_roller_pushed_at_its_axle_over_a_step(chock: float) -> None:
    """Textbook statics: W sqrt(2 R h - h^2) / (R - h) takes a wheel over a kerb (memory, verify)."""
    wheel = Roller(0.3, np.array([1_000.0]), np.array([0.0]), 0.0)
    known = 1_000.0 * np.sqrt(2 * 0.3 * chock - chock**2) / (0.3 - chock)
    assert float(chock_holds_n(wheel, chock, 0.0, 0.3)[0]) == pytest.approx(known)


def test_a_roller_on_a_slope_rolls_over_a_chock_whose_edge_it_leans_beyond() -> None:
    """Own calculation: without a push a chock of height c holds down to the slope with 1 - cos(slope) = c / R."""
    wheel = Roller(0.5, np.array([1_000.0]), np.array([0.0]), 0.0)
    slope = 20.0
    just = 0.5 * (1.0 - np.cos(np.radians(slope)))
    assert float(chock_holds_n(wheel, just, -slope, 0.5)[0]) == pytest.approx(0.0, abs=1e-9)
    assert float(chock_holds_n(wheel, just * 1.1, -slope, 0.5)[0]) > 0.0


def test_a_beam_on_two_feet() -> None:
    """Handbook statics, W b / L and W a / L: feet at 0.2 and 1.4 m, weight at 1.0 of a box 2.0 m wide."""
    feet = (Bearing("left", "sole", (0.2, 0.0), 900.0), Bearing("right", "sole", (1.4, 0.0), 900.0))
    found = frame_steps(box(2.0, 0.5), [FrameStep("resting", 0.0, 0.0, feet)])
    left, right = (load.largest_kg.best for load in found.steps[0].loads)
    assert left == pytest.approx(500.0 * 0.4 / 1.2)
    assert right == pytest.approx(500.0 * 0.8 / 1.2)
