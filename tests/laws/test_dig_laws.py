"""Laws of the dig: volumes add up, do not hang on order or axes, and are exact where a rule says so."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import binom

from oakum.seabed.dig import (
    DigError,
    Dive,
    Epoch,
    Level,
    SpitDone,
    Work,
    band_m3,
    contours,
    dug,
    forecast,
    frustum,
    grid_spread,
    outline,
    prismoid,
    rate_of,
    season,
    simpson,
    surface,
    trapezoid,
)

SQUARE = outline([(0, 0), (3, 0), (3, 2), (0, 2)])
heights = st.floats(-0.4, 0.4, allow_nan=False).map(lambda z: round(z, 3))
spots = st.tuples(st.integers(1, 59), st.integers(1, 39)).map(lambda p: (p[0] / 20.0, p[1] / 20.0))
beds = st.lists(st.tuples(spots, heights), min_size=4, max_size=14, unique_by=lambda each: each[0])


def epoch(bed: list[tuple[tuple[float, float], float]], base: float) -> Epoch:
    corners = [((x, y), 0.0) for x, y in SQUARE.corners]
    return Epoch(tuple(Level(f"{x},{y}", x, y, base + z) for (x, y), z in [*corners, *bed]), 0.01)


def turned(one: Epoch, angle: float, x: float, y: float) -> Epoch:
    c, s = math.cos(angle), math.sin(angle)
    return Epoch(
        tuple(Level(lv.name, c * lv.x_m - s * lv.y_m + x, s * lv.x_m + c * lv.y_m + y, lv.z_m) for lv in one.levels),
        one.sd_m,
    )


@given(beds, beds, st.randoms(use_true_random=False))
@settings(max_examples=40, deadline=None)
def test_volume_does_not_hang_on_the_order_of_levels_or_corners(before: list, after: list, rng: object) -> None:
    top, bottom = epoch(before, -12.0), epoch(after, -12.5)
    plain = dug(SQUARE, top, bottom, bias_sd_m=0.0)
    mixed = [list(one.levels) for one in (top, bottom)]
    for each in mixed:
        rng.shuffle(each)  # type: ignore[attr-defined]
    again = dug(
        outline(SQUARE.corners[2:] + SQUARE.corners[:2]),
        *(Epoch(tuple(each), 0.01) for each in mixed),
        bias_sd_m=0.0,
    )
    assert again.best_m3 == pytest.approx(plain.best_m3, abs=1e-9)
    assert plain.volume is not None and again.volume is not None
    assert again.volume.sd == pytest.approx(plain.volume.sd, rel=1e-6, abs=1e-9)


@given(beds, beds, st.floats(0.0, 6.28), st.floats(-500, 500), st.floats(-500, 500))
@settings(max_examples=40, deadline=None)
def test_volume_does_not_hang_on_where_the_axes_lie(
    before: list, after: list, angle: float, x: float, y: float
) -> None:
    top, bottom = epoch(before, -12.0), epoch(after, -12.5)
    c, s = math.cos(angle), math.sin(angle)
    where = outline([(c * a - s * b + x, s * a + c * b + y) for a, b in SQUARE.corners])
    plain = dug(SQUARE, top, bottom, bias_sd_m=0.0)
    moved = dug(where, turned(top, angle, x, y), turned(bottom, angle, x, y), bias_sd_m=0.0)
    assert moved.area_m2 == pytest.approx(plain.area_m2, rel=1e-9)
    assert moved.best_m3 == pytest.approx(plain.best_m3, abs=1e-6)


@given(beds, beds, st.floats(0.2, 2.8))
@settings(max_examples=40, deadline=None)
def test_volume_adds_up_over_a_cut_and_over_two_spits(before: list, after: list, at: float) -> None:
    top, middle, bottom = epoch(before, -12.0), epoch(after, -12.5), epoch(before, -13.0)
    held = surface(top.levels, SQUARE), surface(bottom.levels, SQUARE)
    parts = outline([(0, 0), (at, 0), (at, 2), (0, 2)]), outline([(at, 0), (3, 0), (3, 2), (at, 2)])
    for one in held:
        split = sum(one.weights_over(part) for part in parts)
        assert np.allclose(split, one.weights_over(SQUARE), atol=1e-9)
        assert float(np.sum(one.weights_over(SQUARE))) == pytest.approx(SQUARE.area_m2, rel=1e-9)
    whole = dug(SQUARE, top, bottom, bias_sd_m=0.0).best_m3
    spits = dug(SQUARE, top, middle, bias_sd_m=0.0).best_m3 + dug(SQUARE, middle, bottom, bias_sd_m=0.0).best_m3
    assert spits == pytest.approx(whole, abs=1e-9) and whole == pytest.approx(6.0, abs=1e-9)


@given(beds, st.floats(-0.2, 0.2), st.floats(-0.2, 0.2), st.floats(-0.5, 0.5))
@settings(max_examples=40, deadline=None)
def test_planes_are_exact_whatever_the_places_and_never_uneven(bed: list, a: float, b: float, c: float) -> None:
    places = [p for p, _ in bed] + [(x, y) for x, y in SQUARE.corners]
    sets = [
        Epoch(tuple(Level("p", x, y, base + slope * (a * x + b * y + c)) for x, y in places), 1e-6)
        for base, slope in ((-12.0, 0.0), (-13.0, 1.0))
    ]
    answer = dug(SQUARE, *sets, bias_sd_m=0.0)
    assert answer.best_m3 == pytest.approx(6.0 * (1.0 - (1.5 * a + b + c)), abs=1e-9)
    assert all(part.sd < 1e-4 for part in answer.parts)


@given(
    st.lists(st.floats(0.5, 3.0), min_size=5, max_size=9),
    st.lists(st.tuples(st.floats(-3.5, 3.5), st.floats(-3.5, 3.5)), max_size=20),
    st.sampled_from([(0.0, 0.0), (500_000.0, 6_000_000.0)]),
)
@settings(max_examples=40, deadline=None)
def test_a_trench_of_any_shape_is_cut_at_its_brink_even_far_from_the_origin(
    reach: list[float], inside: list[tuple[float, float]], far: tuple[float, float]
) -> None:
    angles = [2.0 * math.pi * k / len(reach) for k in range(len(reach))]
    star = [(far[0] + r * math.cos(t), far[1] + r * math.sin(t)) for r, t in zip(reach, angles, strict=True)]
    try:
        where = outline(star)
    except DigError:
        return  # three corners on one line
    around = [(x, y) for x in (-4.0, 4.0) for y in (-4.0, 4.0)]
    places = [(far[0] + x, far[1] + y) for x, y in [*around, *inside]]
    held = surface([Level("p", x, y, 0.2 * (x - far[0]) - 0.1 * (y - far[1])) for x, y in places], where)
    weights = held.weights_over(where)
    assert float(np.sum(weights)) == pytest.approx(where.area_m2, rel=1e-6)
    assert held.covered_m2(where) == pytest.approx(where.area_m2, rel=1e-6)
    level = sum(w * lv.z_m for w, lv in zip(weights, held.levels, strict=True)) / where.area_m2
    assert level == pytest.approx(0.2 * (where.centre[0] - far[0]) - 0.1 * (where.centre[1] - far[1]), abs=1e-6)


@given(st.integers(2, 5), st.integers(2, 5), st.randoms(use_true_random=False))
@settings(max_examples=30, deadline=None)
def test_on_a_regular_grid_triangles_give_the_grid_method(rows: int, columns: int, rng: object) -> None:
    depths = np.array([[rng.uniform(0.1, 0.6) for _ in range(columns)] for _ in range(rows)])  # type: ignore[attr-defined]
    where = outline([(0, 0), (columns - 1, 0), (columns - 1, rows - 1), (0, rows - 1)])
    cells = [(x, y) for y in range(rows) for x in range(columns)]
    sets = [
        Epoch(tuple(Level("g", x, y, sign * depths[y, x]) for x, y in cells), sd)
        for sign, sd in ((0.0, 1e-12), (-1.0, 0.02))
    ]
    answer = dug(where, *sets, bias_sd_m=0.0)
    by_grid = grid_spread(depths, 1.0, sd_m=0.02)
    assert answer.best_m3 == pytest.approx(by_grid.best, rel=1e-9)
    assert next(p.sd for p in answer.parts if "after" in p.cause) == pytest.approx(by_grid.sd, rel=1e-9)


@given(st.floats(0.1, 9), st.floats(0.1, 9), st.floats(0.1, 4), st.floats(0.1, 9), st.floats(0.1, 9))
def test_prismoid_is_exact_for_frustum_and_for_sections_of_third_degree(
    a: float, b: float, h: float, c: float, d: float
) -> None:
    sides = [(a + t * (c - a)) * (b + t * (c / a * b - b)) for t in (0.0, 0.5, 1.0)]  # ends of one shape
    assert prismoid(*sides, h) == pytest.approx(frustum(sides[0], sides[2], h), rel=1e-9)
    area = np.polynomial.Polynomial([a, b, c, d])
    exact = float(area.integ()(h))
    assert prismoid(area(0.0), area(0.5 * h), area(h), h) == pytest.approx(exact, rel=1e-9)
    thirds = [float(area(h * k / 4)) for k in range(5)]
    assert simpson(thirds, h / 4) == pytest.approx(exact, rel=1e-9)


@given(st.lists(st.floats(0.0, 30.0), min_size=3, max_size=12), st.floats(0.1, 20.0))
def test_section_rules_are_linear_and_turn_round(areas: list[float], h: float) -> None:
    assert trapezoid(areas[::-1], h) == pytest.approx(trapezoid(areas, h), rel=1e-9, abs=1e-9)
    assert simpson([2.0 * a for a in areas], h) == pytest.approx(2.0 * simpson(areas, h), rel=1e-9, abs=1e-9)
    assert simpson([5.0] * len(areas), h) == pytest.approx(5.0 * h * (len(areas) - 1), rel=1e-9)


@given(beds, st.sampled_from([0.05, 0.1, 0.2]))
@settings(max_examples=40, deadline=None)
def test_every_point_of_a_contour_lies_at_its_height_and_inside(bed: list, every: float) -> None:
    held = surface(epoch(bed, -12.0).levels, SQUARE)
    for contour in contours(held, every, sd_m=0.01, where=SQUARE):
        assert contour.z_m / every == pytest.approx(round(contour.z_m / every))
        for line in contour.lines:
            for (ax, ay), (bx, by) in pairwise(line):
                x, y = 0.5 * (ax + bx), 0.5 * (ay + by)
                z = held.height_m(x, y)
                assert z is not None and z == pytest.approx(contour.z_m, abs=1e-6)
                assert -1e-9 <= x <= 3 + 1e-9 and -1e-9 <= y <= 2 + 1e-9


def test_the_width_tells_the_truth_when_levels_are_read_again_and_again() -> None:
    rng = np.random.default_rng(5)
    places = [(x, y) for x in (0.0, 1.0, 2.0, 3.0) for y in (0.0, 1.0, 2.0)]
    inside = 0
    for _ in range(200):
        shared = rng.normal(0.0, 0.02)
        sets = [
            Epoch(tuple(Level("p", x, y, base + rng.normal(0.0, 0.03)) for x, y in places), 0.03)
            for base in (-12.0, -12.3 + shared)
        ]
        answer = dug(SQUARE, *sets, bias_sd_m=0.02)
        assert answer.volume is not None
        inside += answer.volume.p5 <= 1.8 <= answer.volume.p95
    assert inside >= binom.interval(0.999, 200, 0.9)[0]  # what is found of unevenness may only widen


def test_the_forecast_holds_as_often_as_it_says() -> None:
    rng = np.random.default_rng(8)
    held = bounded = 0
    for _ in range(1500):
        hours = rng.uniform(1.0, 3.0, 6)
        volumes = 0.1 * hours + 0.02 * np.sqrt(hours) * rng.standard_normal(6)
        rate = rate_of([Work(str(i), h, v) for i, (h, v) in enumerate(zip(hours, volumes, strict=True))], "levels")
        more = 8.0
        low, _, high = band_m3(rate, more)
        held += low <= 0.1 * more + 0.02 * math.sqrt(more) * rng.standard_normal() <= high
        bounded += forecast(rate, 2.0).high_h is not None
    least, most = binom.interval(0.999, 1500, 0.9)
    assert least <= held <= most and bounded == 1500


@given(st.integers(0, 2))
def test_fewer_than_three_stretches_carry_no_rate(count: int) -> None:
    with pytest.raises(DigError, match="at least 3 dives"):
        rate_of([Work("w", 1.0, 0.1)] * count, "levels")


@given(st.permutations(range(4)))
def test_the_season_does_not_hang_on_the_order_of_entries(order: list[int]) -> None:
    dives = [Dive(str(i), f"2026-06-1{i}", 1.0 + i, "N", "1", 10 + i, 12.0) for i in range(4)]
    spits = [SpitDone("N", "1", "2026-06-12", 4.0, 0.8, 0.05), SpitDone("M", "1", "2026-06-13", 4.0, 0.6, None)]
    plain = season(dives, spits, 3.0)
    mixed = season([dives[i] for i in order], spits[::-1], 3.0)
    assert mixed.milestones == plain.milestones and mixed.hours == plain.hours == 10.0
    assert mixed.rate is not None and plain.rate is not None
    assert mixed.rate.m3_per_hour == pytest.approx(plain.rate.m3_per_hour)
