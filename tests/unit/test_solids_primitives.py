import math

import numpy as np
import pytest

from oakum.ground.solids import Barrel, Box, Cylinder, Frustum, HoledDisc, Plank, Ring, Solid

SPOKED = HoledDisc(0.65, 0.30, ((0.0, 0.0, 0.20), (0.45, 0.0, 0.06), (0.0, 0.45, 0.05)))
SOLIDS: list[Solid] = [
    Box(2.0, 1.0, 0.5),
    Plank(3.0, 0.25, 0.05),
    Cylinder(0.2, 2.4),
    Ring(0.65, 0.60, 0.08),
    SPOKED,
    Frustum(0.2, 0.13, 2.4),
    Barrel(0.60, 0.48, 0.90, "parabolic"),
    Barrel(0.60, 0.48, 0.90, "arc"),
    Barrel(0.60, 0.48, 0.90, "elliptic"),
]
by_words = pytest.mark.parametrize("solid", SOLIDS, ids=lambda s: s.words())


@by_words
def test_the_mesh_has_the_volume_and_centroid_of_the_closed_form(solid):
    mesh = solid.to_mesh()
    assert mesh.volume_m3() == pytest.approx(solid.volume_m3(), rel=1e-12)
    assert mesh.centroid_m() == pytest.approx(solid.centroid_m(), abs=1e-9)


@by_words
def test_the_mesh_corners_stand_out_of_the_solid_by_no_more_than_is_said(solid):
    low, high = solid.bounds_m()
    mesh_low, mesh_high = solid.to_mesh(48).bounds_m()
    reach = np.max(np.abs(high - low)) / 2
    assert np.abs(mesh_low - low).max() <= 0.003 * reach
    assert np.abs(mesh_high - high).max() <= 0.003 * reach


@by_words
def test_counting_points_inside_gives_the_volume(solid):
    low, high = solid.bounds_m()
    points = low + (high - low) * np.random.default_rng(5).random((200_000, 3))
    share = solid.contains(points).mean()
    assert share * np.prod(high - low) == pytest.approx(solid.volume_m3(), rel=0.02)


@by_words
def test_draws_broadcast_and_each_draw_is_the_scalar_answer(solid):
    stretch = np.array([0.9, 1.0, 1.15])
    drawn = solid.with_dimensions(**{name: value * stretch for name, value in solid.dimensions().items()})
    for i, s in enumerate(stretch):
        one = solid.with_dimensions(**{name: value * s for name, value in solid.dimensions().items()})
        assert drawn.volume_m3()[i] == pytest.approx(one.volume_m3(), rel=1e-13)
        for many, single in zip(drawn.centroid_m(), one.centroid_m(), strict=True):
            assert np.broadcast_to(many, 3)[i] == pytest.approx(single, abs=1e-12)
    assert drawn.nominal().volume_m3() == pytest.approx(solid.volume_m3(), rel=1e-12)


def test_one_dimension_may_hold_draws_while_the_others_are_numbers():
    radius = np.array([0.1, 0.2])
    assert Cylinder(radius, 2.0).volume_m3() == pytest.approx(2 * math.pi * radius**2)
    assert Ring(0.65, np.array([0.5, 0.6]), 0.08).volume_m3().shape == (2,)
    assert HoledDisc(0.65, 0.3, ((radius, 0.0, 0.05),)).centroid_m()[0][1] < 0


def test_a_disc_s_holes_take_away_volume_and_moment():
    disc = HoledDisc(1.0, 0.5, ((0.5, 0.0, 0.25),))
    assert disc.volume_m3() == pytest.approx(math.pi * (1 - 0.0625) * 0.5)
    x, y, z = disc.centroid_m()
    assert x == pytest.approx(-0.5 * 0.0625 / (1 - 0.0625))
    assert (y, z) == (0.0, 0.25)


def test_a_disc_without_holes_is_a_cylinder():
    assert HoledDisc(0.4, 0.1).volume_m3() == pytest.approx(Cylinder(0.4, 0.1).volume_m3())
    assert HoledDisc(0.4, 0.1).to_mesh().volume_m3() == pytest.approx(Cylinder(0.4, 0.1).volume_m3())


def test_a_capstan_head_with_twelve_bar_holes_and_an_eye_becomes_a_mesh():
    angles = np.arange(12) * (math.pi / 6)
    bars = tuple((0.5 * math.cos(a), 0.5 * math.sin(a), 0.05) for a in angles)
    disc = HoledDisc(0.65, 0.3, (*bars, (0.0, 0.0, 0.2)))
    assert disc.to_mesh().volume_m3() == pytest.approx(disc.volume_m3(), rel=1e-12)


def test_holes_in_line_or_in_each_other_s_way_do_not_spoil_the_cap():
    holes = (
        (0.7, 0.0, 0.17),
        (0.44, 0.55, 0.17),
        (-0.16, 0.68, 0.17),
        (-0.63, 0.3, 0.17),
        (-0.63, -0.3, 0.17),
    )
    behind = (
        (0.63, 0.31, 0.15),
        (-0.137, 0.52, 0.04),
        (-0.175, 0.668, 0.047),
    )  # one hole hides the rim from another
    for facets, placed in ((8, holes), (12, holes), (24, holes), (12, behind)):
        disc = HoledDisc(1.0, 0.5, placed)
        assert disc.to_mesh(facets).volume_m3() == pytest.approx(disc.volume_m3(), rel=1e-12)


def test_a_thin_wall_beside_a_hole_takes_more_facets_not_a_crossing_surface():
    disc = HoledDisc(0.5, 0.1, ((0.3, 0.0, 0.1997),))
    mesh = disc.to_mesh(24)
    assert mesh.volume_m3() == pytest.approx(disc.volume_m3(), rel=1e-12)
    assert len(mesh.faces) > 4 * 2 * 24


def test_equal_ends_make_every_barrel_a_cylinder():
    for stave in ("parabolic", "arc", "elliptic"):
        assert Barrel(0.5, 0.5, 0.9, stave).volume_m3() == pytest.approx(Cylinder(0.25, 0.9).volume_m3())


def test_a_solid_says_what_it_is():
    assert Barrel(0.6, 0.48, 0.9, "arc").words() == (
        "barrel, bulge diameter 0.6 m, end diameter 0.48 m, height 0.9 m, arc staves"
    )
    assert SPOKED.words() == "disc with holes, radius 0.65 m, height 0.3 m, 3 holes"
    assert Cylinder(np.array([0.1, 0.2, 0.4]), 1.0).words() == "cylinder, radius about 0.2 m, height 1 m"


def test_dimensions_can_be_changed_by_name_holes_too():
    assert Box(1.0, 1.0, 1.0).with_dimensions(height_m=2.0) == Box(1.0, 1.0, 2.0)
    moved = SPOKED.with_dimensions(hole_2_radius_m=0.03)
    assert moved.holes == ((0.0, 0.0, 0.20), (0.45, 0.0, 0.03), (0.0, 0.45, 0.05))


def test_a_hundred_thousand_draws_of_an_arc_barrel_are_one_array():
    bulge = np.random.default_rng(1).uniform(0.55, 0.65, 100_000)
    volume = Barrel(bulge, 0.8 * bulge, 0.9, "arc").volume_m3()
    assert volume.shape == (100_000,)
    assert 0 < volume.min() < volume.max() < math.pi / 4 * 0.65**2 * 0.9
