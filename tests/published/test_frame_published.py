"""Frames against worked examples, closed forms, and PROJ's own Helmert."""

from __future__ import annotations

import math

import numpy as np
import pyproj
import pytest
from scipy.spatial.transform import Rotation

from oakum.seabed.frame import apply, fit_affine, fit_grid, fit_projective, fit_similarity
from oakum.seabed.frame.grid import GridControl


def test_conformal_fit_of_ghilani_and_wolf() -> None:
    """Ghilani and Wolf, Adjustment Computations, example 18.1 (memory, verify; the arithmetic closes)."""
    source = np.array([(121.622, -128.066), (141.228, 187.718), (175.802, 135.728)])
    target = np.array([(1049422.40, 51089.20), (1049413.95, 49659.30), (1049244.95, 49884.95)])
    fit = fit_similarity(source, target)
    a, b = fit.scale * fit.rotation[0, 0], fit.scale * fit.rotation[1, 0]
    assert (a, b) == pytest.approx((-4.51249, -0.25371), abs=5e-6)
    assert tuple(fit.shift) == pytest.approx((1050003.715, 50542.131), abs=6e-4)
    assert fit.scale == pytest.approx(4.51962, abs=5e-6)
    assert fit.turn_deg == pytest.approx(183.2181, abs=1e-4)
    s0 = math.sqrt(3 * fit.rms**2 / (2 * 3 - 4))
    assert s0 == pytest.approx(0.140, abs=1e-3)
    assert fit.apply(np.array([(174.148, -120.262)]))[0] == pytest.approx((1049187.361, 51040.629), abs=1e-3)


def test_four_corners_of_a_frame_in_a_slanting_photograph() -> None:
    """Own numbers with a built-in proof: the diagonals of the frame cross in its middle (own calculation)."""
    image = np.array([(102.0, 955.0), (1210.0, 1010.0), (1104.0, 148.0), (210.0, 120.0)])
    frame = np.array([(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)])
    made = fit_projective(image, frame)
    assert apply(made, image) == pytest.approx(frame, abs=1e-12)
    found = apply(made, np.array([(650.0, 540.0), (300.0, 300.0)]))
    assert found[0] == pytest.approx((0.4989, 0.4676), abs=1e-4)
    assert found[1] == pytest.approx((0.1222, 0.7517), abs=1e-4)
    p, r, q, s = image
    t = np.linalg.solve(np.column_stack((q - p, r - s)), r - p)
    crossing = p + t[0] * (q - p)
    assert crossing == pytest.approx((651.207, 512.674), abs=1e-3)
    assert apply(made, crossing[None])[0] == pytest.approx((0.5, 0.5), abs=1e-9)


def test_the_example_of_umeyama_is_no_mirror_image() -> None:
    """Umeyama 1991, the figure with three points each: rotation, scale, shift (memory, verify; recomputed)."""
    source = np.array([(0.0, 0.0), (1.0, 0.0), (0.0, 2.0)])
    target = np.array([(0.0, 0.0), (-1.0, 0.0), (0.0, 2.0)])
    fit = fit_similarity(source, target)
    assert fit.rotation == pytest.approx(np.array([(0.832, 0.555), (-0.555, 0.832)]), abs=5e-4)
    assert fit.scale == pytest.approx(0.721, abs=5e-4)
    assert tuple(fit.shift) == pytest.approx((-0.800, 0.400), abs=5e-4)
    assert fit.rms**2 == pytest.approx(np.mean(np.sum((fit.apply(source) - target) ** 2, axis=1)))
    assert fit.is_mirrored and fit.mirror_rms == pytest.approx(0.0, abs=1e-9)


def test_the_plane_fit_equals_the_linear_normal_equations() -> None:
    """E = a x - b y + Tx, N = b x + a y + Ty solved by a general least squares routine."""
    rng = np.random.default_rng(5)
    x = rng.uniform(-20, 20, (9, 2))
    y = x @ np.array([(0.8, -0.6), (0.6, 0.8)]).T * 1.3 + (100, 50) + rng.normal(0, 0.2, (9, 2))
    design = np.zeros((18, 4))
    design[0::2] = np.column_stack((x[:, 0], -x[:, 1], np.ones(9), np.zeros(9)))
    design[1::2] = np.column_stack((x[:, 1], x[:, 0], np.zeros(9), np.ones(9)))
    a, b, tx, ty = np.linalg.lstsq(design, y.ravel(), rcond=None)[0]
    fit = fit_similarity(x, y)
    assert fit.matrix()[:2] == pytest.approx(np.array([(a, -b, tx), (b, a, ty)]), abs=1e-10)
    assert fit.rms == pytest.approx(math.sqrt(np.mean(np.sum((fit.apply(x) - y) ** 2, axis=1))), rel=1e-9)


def test_the_fit_in_space_agrees_with_the_alignment_of_vectors() -> None:
    """scipy's Rotation.align_vectors (Kabsch) on centred points, weighted; the scale in closed form."""
    rng = np.random.default_rng(6)
    x = rng.normal(0, 5, (8, 3))
    turn = Rotation.from_euler("xyz", (0.3, -0.2, 2.0))
    y = 1.02 * turn.apply(x) + (3, 4, -12) + rng.normal(0, 0.05, (8, 3))
    weights = rng.uniform(0.5, 2.0, 8)
    fit = fit_similarity(x, y, weights=weights, scale=1.0)
    w = weights / weights.sum()
    aligned, _ = Rotation.align_vectors(y - w @ y, x - w @ x, weights=weights)
    assert fit.rotation == pytest.approx(aligned.as_matrix(), abs=1e-6)
    free = fit_similarity(x, y, weights=weights)
    assert free.rotation == pytest.approx(fit.rotation, abs=1e-12)
    dx, dy = x - w @ x, y - w @ y
    c = float(np.sum(w[:, None] * dy * (dx @ free.rotation.T)) / np.sum(w[:, None] * dx**2))
    assert free.scale == pytest.approx(c, rel=1e-12)


def test_a_site_in_a_map_grid_agrees_with_the_helmert_of_proj() -> None:
    """PROJ's four-parameter Helmert carries the same site marks to the same map grid."""
    x, y, s, theta_deg = 412345.67, 6543210.98, 0.99963, 17.25
    proj = pyproj.Transformer.from_pipeline(f"+proj=helmert +x={x} +y={y} +s={s} +theta={theta_deg * 3600}")
    marks = {"A": (0.0, 0.0), "B": (18.0, -2.0), "C": (9.0, 14.0)}
    control = [GridControl(name, *place, *proj.transform(*place)) for name, place in marks.items()]
    fit = fit_grid(control, scale=s)
    assert fit.rms_m == pytest.approx(0.0, abs=1e-6) and fit.free_scale == pytest.approx(s, abs=1e-9)
    for place in ((5.0, 5.0), (-30.0, 80.0)):
        assert fit.to_grid(*place) == pytest.approx(proj.transform(*place), abs=1e-6)


def test_a_projectivity_is_found_again_and_keeps_cross_ratios() -> None:
    """A random projectivity is recovered from five marks; four points on a line keep their cross ratio."""
    rng = np.random.default_rng(7)
    true = np.array([(1.2, 0.1, 30.0), (-0.2, 0.9, 12.0), (1e-4, -2e-4, 1.0)])
    source = rng.uniform(0, 1000, (5, 2))
    made = fit_projective(source, apply(true, source))
    assert made == pytest.approx(true, rel=1e-6, abs=1e-9)
    line = np.array([(100.0, 50.0), (200.0, 90.0), (350.0, 150.0), (600.0, 250.0)])

    def ratio(points: np.ndarray) -> float:
        a, b, c, d = (float(np.hypot(*(p - points[0]))) for p in points)
        return (c - a) * (d - b) / ((c - b) * (d - a))

    assert ratio(apply(made, line)) == pytest.approx(ratio(line), rel=1e-9)
    sheared = np.array([(1.0, 0.3, 5.0), (0.1, 1.2, -4.0), (0, 0, 1)])
    assert fit_affine(source, apply(sheared, source)) == pytest.approx(sheared, abs=1e-9)
