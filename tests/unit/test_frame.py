"""Drawings laid on marks: what is refused and in which words, what residuals prove, how a map grid is tied."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from oakum.seabed.frame import (
    Control,
    FrameError,
    GridControl,
    bearing_of,
    fit_grid,
    grid_bearing,
    register,
    true_bearing,
)

MARKS = {"A": (0.0, 0.0), "B": (4.0, 0.5), "C": (4.2, 3.0), "D": (-0.3, 3.4), "E": (2.0, 1.9)}


def drawing(
    names: str = "ABCDE", *, per_m: float = 200.0, turn_deg: float = 25.0, mirrored: bool = False, **moved: float
) -> list[Control]:
    """Control points of a picture in which one metre is `per_m` units; `moved` shifts a mark in u."""
    turn = math.radians(turn_deg)
    found = []
    for name in names:
        x, y = MARKS[name]
        u, v = x * math.cos(turn) + y * math.sin(turn), -x * math.sin(turn) + y * math.cos(turn)
        u = -u if mirrored else u
        found.append(Control(name, 900 + per_m * u + moved.get(name, 0.0), 1200 - per_m * v, x, y))
    return found


@pytest.mark.parametrize("fit", ["similarity", "affine", "projective"])
def test_a_true_drawing_leaves_nothing_and_says_its_scale_and_turn(fit: str) -> None:
    made = register(drawing(), fit)
    assert made.rms_m == pytest.approx(0, abs=1e-9)
    assert made.per_unit_m == pytest.approx(1 / 200) and made.turn_deg == pytest.approx(25.0)
    assert all(r.left_out_m == pytest.approx(0, abs=1e-8) for r in made.residuals)
    one = drawing()[2]
    assert made.place(one.u, one.v) == pytest.approx(MARKS["C"])
    corners = np.array(made.outline(1600, 1400))
    area = 0.5 * sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(corners, np.roll(corners, -1, axis=0), strict=True))
    assert area == pytest.approx(8.0 * 7.0, rel=1e-6)  # anticlockwise


def test_a_mark_off_its_place_is_missed_most_when_it_is_left_out() -> None:
    made = register(drawing(C=40.0))
    worst = max(made.residuals, key=lambda r: r.left_out_m or 0)
    assert worst.mark == "C" and worst.left_out_m == pytest.approx(0.2, abs=0.03)
    assert any("C is missed by" in words for words in made.cautions)
    assert made.rms_m is not None and worst.size_m < (worst.left_out_m or 0)


def test_two_marks_are_unchecked_and_said_to_be_so() -> None:
    made = register(drawing("AC"))
    assert made.rms_m is None and made.residuals[0].left_out_m is None
    assert any("unchecked" in words for words in made.cautions) and any("mirror" in words for words in made.cautions)


@pytest.mark.parametrize("fit", ["similarity", "affine", "projective"])
def test_a_mirror_image_is_refused(fit: str) -> None:
    with pytest.raises(FrameError, match=r"mirror image of this drawing.*traced from the back"):
        register(drawing(mirrored=True), fit)


@pytest.mark.parametrize(
    ("control", "fit", "words"),
    [
        (drawing("A"), "similarity", "needs 2 marks.*gives 1"),
        (drawing("ABC"), "projective", "needs 4 marks, and 5"),
        ([*drawing("AB"), drawing("A")[0]], "similarity", "A: named twice"),
        ([Control(n, 100.0 * i, 50.0 * i, float(i), 0.0) for i, n in enumerate("ABC")], "similarity",
         "A, B and C lie on one line on the site.*mirror image"),
        ([Control(n, u, v, x, y) for n, u, v, x, y in (
            ("A", 0, 0, 0, 0), ("B", 10, 0, 1, 0), ("C", 20, 0, 2, 0), ("D", 10, 10, 1, -1))], "projective",
         "A, B and C lie on one line.*no three"),
        ([Control("A", 0, 0, 0, 0), Control("B", float("nan"), 0, 1, 0)], "similarity", "no number"),
        (drawing(), "spline", "is no fit"),
    ],
)  # fmt: skip
def test_what_settles_no_fit_is_refused_in_words(control: list[Control], fit: str, words: str) -> None:
    with pytest.raises(FrameError, match=words):
        register(control, fit)


def test_wet_paper_is_told_from_a_true_sheet() -> None:
    stretched = [Control(c.mark, 1.03 * c.u, c.v, c.x_m, c.y_m) for c in drawing(turn_deg=0)]
    made = register(stretched)
    assert made.shear == pytest.approx(0.03, abs=1e-3) and any("3.0 %" in words for words in made.cautions)
    assert register(drawing()).shear == pytest.approx(0, abs=1e-9)


@given(
    turn=st.floats(0, 360), scale=st.floats(20, 2000), dx=st.floats(-50, 50), seed=st.integers(0, 10_000)
)
def test_turning_or_moving_the_site_turns_the_fit_with_it(turn: float, scale: float, dx: float, seed: int) -> None:
    rng = np.random.default_rng(seed)
    noise = {name: float(rng.normal(0, 2)) for name in MARKS}
    made = register(drawing(per_m=scale, turn_deg=turn, **noise))
    moved = [Control(c.mark, c.u, c.v, -c.y_m + dx, c.x_m) for c in drawing(per_m=scale, turn_deg=turn, **noise)]
    again = register(moved)
    assert again.rms_m == pytest.approx(made.rms_m, rel=1e-6, abs=1e-9)
    assert (again.turn_deg - made.turn_deg - 90 + 180) % 360 == pytest.approx(180, abs=1e-6)


def tied(scale: float = 0.9997, **shift: float) -> list[GridControl]:
    found = []
    for name, (x, y) in MARKS.items():
        e = 400_000 + scale * (x * math.cos(0.3) - y * math.sin(0.3)) + shift.get(name, 0.0)
        n = 6_000_000 + scale * (x * math.sin(0.3) + y * math.cos(0.3))
        found.append(GridControl(name, x, y, e, n))
    return found


def test_the_scale_is_held_to_the_projection_and_the_free_one_is_shown() -> None:
    fit = fit_grid(tied(), scale=0.9997)
    assert fit.held and fit.scale == 0.9997 and fit.free_scale == pytest.approx(0.9997, abs=1e-8)
    assert fit.turn_deg == pytest.approx(360 - math.degrees(0.3)) and fit.rms_m == pytest.approx(0, abs=1e-8)
    assert fit.cautions == ()
    long = fit_grid(tied(1.02), scale=0.9997)
    assert any("the marks alone give a scale of 1.02" in words for words in long.cautions)
    free = fit_grid(tied(1.02), scale=None)
    assert not free.held and free.scale == pytest.approx(1.02)
    assert free.to_grid(*MARKS["E"]) == pytest.approx((tied(1.02)[4].east_m, tied(1.02)[4].north_m), abs=1e-6)


def test_a_wrong_map_coordinate_shows_when_it_is_left_out() -> None:
    fit = fit_grid(tied(B=0.5), scale=0.9997)
    worst = max(fit.residuals, key=lambda r: r.left_out_m or 0)
    assert worst.mark == "B" and worst.left_out_m == pytest.approx(0.5, abs=0.1)


def test_two_or_swapped_or_equal_control_marks_are_said_to_be_so() -> None:
    assert any("unchecked" in words for words in fit_grid(tied()[:2], scale=1.0).cautions)
    with pytest.raises(FrameError, match="Two marks"):
        fit_grid(tied()[:1], scale=1.0)
    with pytest.raises(FrameError, match="twice"):
        fit_grid([tied()[0], tied()[0]], scale=1.0)
    with pytest.raises(FrameError, match="east and north may be swapped"):
        fit_grid([GridControl(c.mark, c.x_m, c.y_m, c.north_m, c.east_m) for c in tied()], scale=1.0)
    with pytest.raises(FrameError, match="in one place"):
        fit_grid([GridControl("A", 0, 0, 1, 1), GridControl("B", 0, 0, 1, 1)], scale=1.0)


def test_compass_true_and_grid_bearings() -> None:
    assert true_bearing(359.0, 2.5) == pytest.approx(1.5) and true_bearing(1.0, -2.5) == pytest.approx(358.5)
    assert grid_bearing(1.5, 2.0) == pytest.approx(359.5)
    assert bearing_of(1, 0) == 90 and bearing_of(0, -1) == 180 and bearing_of(-1, 0) == 270
