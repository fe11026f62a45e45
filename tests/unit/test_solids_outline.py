import math

import numpy as np
import pytest

from oakum.ground.solids import (
    Barrel,
    Box,
    Cylinder,
    HoledDisc,
    Placement,
    Ring,
    SolidError,
    hull,
    outline,
    place,
)


def length(lines):
    return sum(float(np.linalg.norm(np.diff(line, axis=0), axis=1).sum()) for line in lines)


def area(polygon):
    x, y = polygon.T
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2


def test_a_box_is_drawn_as_one_closed_rectangle_in_every_view():
    mesh = Box(2.0, 1.0, 0.5).to_mesh()
    for axis, (right, up) in {"x": (1.0, 0.5), "y": (2.0, 0.5), "z": (2.0, 1.0)}.items():
        (line,) = outline(mesh, axis)
        assert (line[0] == line[-1]).all()
        assert length([line]) == pytest.approx(2 * (right + up))
        assert np.ptp(line, axis=0) == pytest.approx([right, up])
        assert area(hull(mesh, axis)) == pytest.approx(right * up)


def test_elevation_looks_from_the_front_and_plan_from_above():
    marked = place(Box(0.2, 0.2, 0.2).to_mesh(), Placement(x_m=1.0, y_m=2.0, z_m=3.0))
    assert hull(marked, "y").mean(axis=0) == pytest.approx([1.0, 3.1])
    assert hull(marked, "z").mean(axis=0) == pytest.approx([1.0, 2.0])
    assert hull(marked, "x").mean(axis=0) == pytest.approx([2.0, 3.1])


def test_a_ring_shows_its_hole_from_above_and_hides_it_from_the_side():
    mesh = Ring(0.65, 0.50, 0.2).to_mesh(96)
    plan = outline(mesh, "z")
    assert len(plan) == 2
    assert length(plan) == pytest.approx(2 * math.pi * (0.65 + 0.50), rel=2e-3)
    side = np.vstack(outline(mesh, "y"))
    on_frame = (
        np.isclose(np.abs(side[:, 0]), 0.65, atol=2e-3)
        | np.isclose(side[:, 1], 0.0)
        | np.isclose(side[:, 1], 0.2)
    )
    assert on_frame.all()


def test_a_tilted_ring_shows_the_far_wall_of_its_hole_but_not_its_own_back():
    seen = outline(place(Ring(0.65, 0.50, 0.2).to_mesh(96), Placement(turn_x_deg=35.0)), "y")
    points = np.vstack(seen)
    everything = 2 * 2 * math.pi * (0.65 + 0.50)
    assert 0.3 * everything < length(seen) < 0.75 * everything
    assert np.ptp(points[:, 0]) == pytest.approx(1.3, rel=3e-3)


def test_the_bar_holes_of_a_drumhead_are_all_drawn_without_stray_lines():
    angles = np.arange(10) * (math.pi / 5)
    disc = HoledDisc(
        0.65, 0.3, (*((0.5 * math.cos(a), 0.5 * math.sin(a), 0.05) for a in angles), (0.0, 0.0, 0.2))
    )
    plan = outline(disc.to_mesh(), "z")
    assert length(plan) == pytest.approx(2 * math.pi * (0.65 + 0.2 + 10 * 0.05), rel=5e-3)


def test_smooth_sides_have_a_contour_and_no_facet_lines():
    (line,) = outline(Cylinder(0.3, 1.0).to_mesh(), "y")
    assert length([line]) == pytest.approx(2 * (0.6 + 1.0), rel=5e-3)
    barrel = outline(Barrel(0.6, 0.48, 0.9).to_mesh(), "y")
    assert len(barrel) == 1
    assert np.ptp(barrel[0], axis=0) == pytest.approx([0.6, 0.9], rel=5e-3)


def test_a_view_along_nothing_is_refused():
    with pytest.raises(SolidError, match="along x, y or z"):
        outline(Box(1.0, 1.0, 1.0).to_mesh(), "w")
