import math

import numpy as np
import pytest

from oakum.ground.solids import (
    Barrel,
    Box,
    Cylinder,
    Frustum,
    HoledDisc,
    Placement,
    Plank,
    Ring,
    SolidError,
    coat_moments,
    grown_in_place,
)

HOLED = HoledDisc(0.65, 0.30, ((0.0, 0.0, 0.20), (0.45, 0.0, 0.06)))
SOLIDS = [
    Box(2.0, 1.0, 0.5),
    Plank(3.0, 0.25, 0.05),
    Cylinder(0.2, 2.4),
    Ring(0.65, 0.60, 0.08),
    HOLED,
    Frustum(0.5, 0.1, 0.4),
    Barrel(0.60, 0.48, 0.90, "parabolic"),
    Barrel(0.60, 0.48, 0.90, "arc"),
    Barrel(0.60, 0.48, 0.90, "elliptic"),
]
by_words = pytest.mark.parametrize("solid", SOLIDS, ids=lambda s: s.words())


@by_words
def test_a_thin_coat_has_the_volume_area_times_thickness(solid):
    area, t = solid.to_mesh(192).area_m2(), 1e-5
    assert (solid.grown(t).volume_m3() - solid.volume_m3()) / (area * t) == pytest.approx(1.0, abs=0.005)


@by_words
def test_bare_ends_leave_only_the_side_s_area(solid):
    t = 1e-5
    mesh = solid.to_mesh(192)
    low, high = mesh.bounds_m()
    corners = mesh.vertices[mesh.faces][:, :, 2]
    side = ~((corners == low[2]).all(axis=1) | (corners == high[2]).all(axis=1))
    a, b, c = np.swapaxes(mesh.vertices[mesh.faces[side]], 0, 1)
    area = np.linalg.norm(np.cross(b - a, c - a), axis=1).sum() / 2
    grown = solid.grown(t, ends=False)
    assert (grown.volume_m3() - solid.volume_m3()) / (area * t) == pytest.approx(1.0, abs=0.005)
    assert np.isclose(grown.bounds_m()[1][2], solid.bounds_m()[1][2])


@by_words
def test_the_coat_lies_round_the_solid_wherever_that_is_placed(solid):
    place = Placement(0.3, -0.2, 1.0, 20.0, 70.0, -30.0)
    coat, where = grown_in_place(solid, 0.03, place)
    corners = place.apply(solid.to_mesh().vertices)
    middle = np.array(place.move(solid.centroid_m()), dtype=float)
    inward = middle + (corners - middle) * 0.999
    if not isinstance(solid, Ring | HoledDisc):
        assert coat.contains(where.undo(inward)).all()
    low, high = coat.bounds_m()
    own = where.undo(place.apply(np.array(solid.bounds_m())))
    assert own[0, 2] - low[2] == pytest.approx(0.03)
    assert high[2] - own[1, 2] == pytest.approx(0.03)
    assert ((own[0] - low)[:2] >= 0.0299).all()  # a mitre at a sharp edge reaches further
    assert ((high - own[1])[:2] >= 0.0299).all()


def test_a_coat_with_bare_ends_stays_where_it_was():
    place = Placement(1.0, 2.0, 3.0, turn_y_deg=90.0)
    assert grown_in_place(Cylinder(0.2, 1.0), 0.02, place, ends=False) == (Cylinder(0.22, 1.0), place)


def test_draws_of_the_thickness_move_the_place_with_it():
    thickness = np.array([0.01, 0.04])
    coat, where = grown_in_place(Cylinder(0.2, 1.0), thickness, Placement(turn_y_deg=90.0))
    assert coat.volume_m3() == pytest.approx(math.pi * (0.2 + thickness) ** 2 * (1.0 + 2 * thickness))
    assert where.x_m == pytest.approx(-thickness)


def test_an_arc_stave_s_coat_is_an_arc_about_the_same_centre():
    # A barrel cut from a ball of radius 0.5 m between z = +-0.4 m: coated by 0.1 m, it is cut from one of 0.6 m.
    ball = Barrel(1.0, 0.6, 0.8, "arc")
    assert ball.grown(0.1, ends=False).end_diameter_m == pytest.approx(2 * math.sqrt(0.6**2 - 0.4**2))
    assert ball.grown(0.1).end_diameter_m == pytest.approx(2 * math.sqrt(0.6**2 - 0.5**2))


def test_a_steep_cone_s_coat_is_measured_square_to_its_side():
    cone = Frustum(0.5, 0.1, 0.4)  # a slope of 45 degrees
    coat = cone.grown(0.02, ends=False)
    assert coat.radius_bottom_m - cone.radius_bottom_m == pytest.approx(0.02 * math.sqrt(2))
    whole = cone.grown(0.02)
    slope = (whole.radius_top_m - whole.radius_bottom_m) / whole.height_m
    assert slope == pytest.approx(-1.0)


def test_a_ring_s_coat_narrows_its_hole_and_a_thick_one_closes_it():
    assert Ring(0.65, 0.60, 0.08).grown(0.05) == Ring(0.65 + 0.05, 0.60 - 0.05, 0.08 + 2 * 0.05)
    assert Ring(0.05, 0.02, 0.08).grown(0.03, ends=False) == Cylinder(0.08, 0.08)
    assert Ring(0.65, 0.60, 0.08).grown(0.05, ends=False, filled=True) == Cylinder(0.65 + 0.05, 0.08)


def test_a_hole_that_closes_in_some_draws_holds_no_volume_in_those():
    grown = Ring(0.05, 0.02, 0.08).grown(np.array([0.01, 0.03]), ends=False)
    assert isinstance(grown, Ring)
    assert grown.volume_m3() == pytest.approx(math.pi * np.array([0.06**2 - 0.01**2, 0.08**2]) * 0.08)


def test_a_disc_s_small_holes_close_first_then_all():
    some = HOLED.grown(0.07, ends=False)
    assert isinstance(some, HoledDisc)
    assert some.holes == ((0.0, 0.0, pytest.approx(0.13)),)
    assert HOLED.grown(0.2, ends=False) == Cylinder(0.65 + 0.2, 0.30)
    assert HOLED.grown(0.02, ends=False, filled=True) == Cylinder(0.65 + 0.02, 0.30)


def test_a_mesh_s_coat_is_area_times_thickness_to_first_order_on_cube_and_barrel():
    for solid in (Box(1.0, 1.0, 1.0), Barrel(0.6, 0.48, 0.9)):
        mesh, t = solid.to_mesh(), 1e-5
        added = mesh.grown(t).volume_m3() - mesh.volume_m3()
        assert added / (mesh.area_m2() * t) == pytest.approx(1.0, abs=1e-3)
        assert mesh.grown(0.0).volume_m3() == mesh.volume_m3()


def test_a_mesh_s_coat_of_the_usual_thickness_agrees_with_the_closed_form():
    # The closed form is mitred, vertex normals round the edges off a little: within 2 % of the coat.
    barrel = Barrel(0.6, 0.48, 0.9)
    coat = barrel.grown(0.03).volume_m3() - barrel.volume_m3()
    mesh = barrel.to_mesh(96)
    assert mesh.grown(0.03).volume_m3() - mesh.volume_m3() == pytest.approx(coat, rel=0.02)


def test_a_mesh_s_coat_for_many_thicknesses_is_exact_without_a_mesh_for_each():
    mesh = Barrel(0.6, 0.48, 0.9).to_mesh(24)
    thickness = np.array([0.0, 0.011, 0.02, 0.037, 0.05])
    volume, centre = coat_moments(mesh, thickness)
    for i, t in enumerate(thickness):
        grown = mesh.grown(float(t))
        assert volume[i] == pytest.approx(grown.volume_m3(), rel=1e-12)
        assert [c[i] for c in centre] == pytest.approx(grown.centroid_m(), abs=1e-12)
    bare, (x, y, z) = coat_moments(mesh, np.zeros(3))
    assert bare == pytest.approx([mesh.volume_m3()] * 3)
    assert (x[0], y[0], z[0]) == mesh.centroid_m()


def test_a_coat_too_thick_for_a_mesh_s_hollows_and_bare_ends_of_a_mesh_are_refused():
    pipe = Ring(0.10, 0.08, 1.0).to_mesh()
    with pytest.raises(SolidError, match="too thick for the hollows"):
        pipe.grown(0.4)
    with pytest.raises(SolidError, match="no base and top"):
        pipe.grown(0.01, ends=False)
    with pytest.raises(SolidError, match="holds 2 draws"):
        pipe.grown(np.array([0.01, 0.02]))
