import time

import numpy as np
import pytest

from oakum.ground.solids import Barrel, Box, Frustum, HoledDisc, Mesh, Placement, Ring, place
from oakum.ground.solids.inside import winding_number

SOLIDS = [
    Box(2.0, 1.0, 0.5),
    Ring(0.65, 0.45, 0.2),
    Frustum(0.4, 0.13, 1.0),
    Barrel(0.6, 0.48, 0.9),
    HoledDisc(0.65, 0.3, ((0.0, 0.0, 0.2), (0.45, 0.0, 0.06))),
]


@pytest.mark.parametrize("solid", SOLIDS, ids=lambda s: s.words())
def test_a_fine_mesh_and_its_closed_form_agree_on_what_is_inside(solid):
    low, high = solid.bounds_m()
    points = low + (high - low) * (np.random.default_rng(3).random((5_000, 3)) * 1.2 - 0.1)
    where = Placement(0.5, -1.0, 2.0, 17.0, 40.0, -80.0)
    mesh = place(solid.to_mesh(120), where)
    differ = mesh.contains(where.apply(points)) != solid.contains(points)
    assert differ.mean() < 0.002  # only within the facets' width of the surface


def test_points_level_with_vertices_edges_and_upright_faces_are_judged_right():
    mesh = Box(2.0, 2.0, 2.0).to_mesh()
    step = np.linspace(-0.75, 0.75, 7)
    x, y, z = (g.ravel() for g in np.meshgrid(step, step, step + 1.0))
    inside = np.column_stack((x, y, z))
    assert mesh.contains(inside).all()
    assert not mesh.contains(inside + np.array([2.0, 0.0, 0.0])).any()
    assert not mesh.contains(inside - np.array([0.0, 0.0, 2.0])).any()


def test_a_hollow_inside_is_outside_and_two_bodies_in_one_place_count_twice():
    outer = Box(2.0, 2.0, 2.0).to_mesh()
    inner = place(Box(1.0, 1.0, 1.0).to_mesh(), Placement(z_m=0.5))
    both = np.vstack((outer.vertices, inner.vertices))
    points = np.array([[0.01, 0.02, 1.0], [0.8, 0.02, 1.0], [3.0, 0.0, 1.0]])
    hollow = Mesh(both, np.vstack((outer.faces, inner.faces[:, ::-1] + 8)))
    assert winding_number(hollow, points).tolist() == [0, 1, 0]
    double = Mesh(both, np.vstack((outer.faces, inner.faces + 8)))
    assert winding_number(double, points).tolist() == [2, 1, 0]


def test_five_hundred_points_in_a_hundred_thousand_triangles_take_under_a_second():
    mesh = Barrel(0.6, 0.48, 0.9).to_mesh(320)
    assert len(mesh.faces) > 100_000
    points = np.random.default_rng(4).uniform(-0.3, 0.9, (512, 3))
    began = time.process_time()
    inside = mesh.contains(points)
    assert time.process_time() - began < 1.0
    assert (inside == Barrel(0.6, 0.48, 0.9).contains(points)).mean() > 0.995
