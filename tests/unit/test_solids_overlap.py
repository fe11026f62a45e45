import time

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
    overlap_fraction,
    quadrature_points,
)

HOME = Placement()
CUBE = Box(1.0, 1.0, 1.0)


@pytest.mark.parametrize("shift", [0.1, 0.25, 0.5, 0.9])
def test_two_cubes_pushed_into_each_other_share_what_geometry_says(shift):
    share = overlap_fraction(CUBE, HOME, CUBE, Placement(x_m=shift))
    assert share == pytest.approx(1.0 - shift, abs=0.01)


def test_parts_that_only_touch_or_stand_apart_do_not_overlap():
    assert overlap_fraction(CUBE, HOME, CUBE, Placement(x_m=1.0)) == 0.0
    assert overlap_fraction(CUBE, HOME, CUBE, Placement(z_m=5.0)) == 0.0


def test_the_smaller_part_counts_whichever_comes_first():
    bolt, where = Cylinder(0.02, 0.5), Placement(z_m=0.75)
    assert overlap_fraction(bolt, where, CUBE, HOME) == pytest.approx(0.5, abs=0.01)
    assert overlap_fraction(CUBE, HOME, bolt, where) == pytest.approx(0.5, abs=0.01)


def test_a_spindle_through_the_hole_of_a_disc_does_not_overlap_it_but_a_thicker_one_does():
    disc = HoledDisc(0.6, 0.3, ((0.0, 0.0, 0.2),))
    assert overlap_fraction(disc, HOME, Cylinder(0.19, 0.3), HOME) == 0.0
    assert overlap_fraction(disc, HOME, Cylinder(0.25, 0.3), HOME) == pytest.approx(1 - 0.64, abs=0.02)
    assert overlap_fraction(Ring(0.6, 0.2, 0.3), HOME, Cylinder(0.19, 0.3), HOME) == 0.0


def test_meshes_and_primitives_give_the_same_answer_turned_or_not():
    barrel, where = Barrel(0.6, 0.48, 0.9), Placement(0.1, 0.2, 0.1, 30.0, 60.0, 10.0)
    shape = overlap_fraction(barrel, where, CUBE, HOME)
    assert 0.1 < shape < 0.9
    assert overlap_fraction(barrel.to_mesh(), where, CUBE.to_mesh(), HOME) == pytest.approx(shape, abs=0.02)


@pytest.mark.parametrize(
    "solid",
    [CUBE, Barrel(0.6, 0.48, 0.9, "arc"), Ring(0.65, 0.6, 0.08), Ring(0.65, 0.6, 0.08).to_mesh()],
    ids=["box", "barrel", "ring", "ring mesh"],
)
def test_points_fill_the_volume_evenly_and_are_the_same_every_time(solid):
    points = quadrature_points(solid, 600)
    assert points.shape == (600, 3)
    assert solid.contains(points).all()
    assert (points == quadrature_points(solid, 600)).all()
    low, high = solid.bounds_m()
    assert points.mean(axis=0) == pytest.approx(solid.centroid_m(), abs=0.03 * float(np.max(high - low)))


def test_a_foil_in_a_large_box_is_refused_rather_than_searched_for_ever():
    foil = Ring(1.0, 1.0 - 1e-8, 1.0)
    with pytest.raises(SolidError, match="too thin"):
        quadrature_points(foil, 512)


def test_twenty_parts_are_checked_against_each_other_in_a_moment():
    parts = [(Cylinder(0.2, 0.5), Placement(x_m=0.3 * i, turn_x_deg=7.0 * i)) for i in range(20)]
    began = time.process_time()
    shares = [overlap_fraction(*a, *b) for i, a in enumerate(parts) for b in parts[:i]]
    assert len(shares) == 190
    assert max(shares) > 0.1
    assert time.process_time() - began < 1.0
