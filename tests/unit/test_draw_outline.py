"""Outlines: the lines a draughtsman would draw, from meshes coarse and fine."""

from __future__ import annotations

import math

import numpy as np
import pytest
import trimesh

from oakum.draw.outline import ELEVATION, FINE_MESH_FACES, PLAN, outline, thinned
from oakum.ground.solids import Box, Cylinder, HoledDisc, Mesh, Ring


def area(chain: tuple[tuple[float, float], ...]) -> float:
    x, y = np.array(chain).T
    return abs(float(x @ np.roll(y, -1) - y @ np.roll(x, -1))) / 2


def of(mesh: Mesh, view: object = PLAN):  # type: ignore[no-untyped-def]
    return outline(mesh.vertices, mesh.faces, view)  # type: ignore[arg-type]


def test_a_box_is_a_rectangle_in_both_views() -> None:
    for view, size in ((ELEVATION, 2.0 * 0.5), (PLAN, 2.0 * 1.0)):
        drawn = of(Box(2.0, 1.0, 0.5).to_mesh(), view)
        assert [area(c) for c in drawn.area] == pytest.approx([size])
        corners = {p for chain in drawn.edges for p in chain}
        assert len(corners) == 4 and sum(len(c) for c in drawn.edges) <= 8


def test_a_standing_cylinder_is_a_rectangle_from_the_front_and_a_circle_from_above() -> None:
    mesh = Cylinder(0.4, 1.5).to_mesh(96)
    assert area(of(mesh, ELEVATION).area[0]) == pytest.approx(0.8 * 1.5, rel=2e-3)
    assert area(of(mesh, PLAN).area[0]) == pytest.approx(math.pi * 0.16, rel=2e-3)


def test_a_ring_shows_its_hole() -> None:
    drawn = of(Ring(0.65, 0.60, 0.08).to_mesh(48))
    assert sum(area(c) for c in drawn.area) == pytest.approx(math.pi * (0.65**2 - 0.6**2), rel=5e-3)
    radii = sorted(float(np.hypot(*np.array(c).T).mean()) for c in drawn.edges)
    assert radii == pytest.approx([0.60, 0.65], rel=5e-3)


def test_a_disc_shows_every_hole() -> None:
    drawn = of(HoledDisc(0.5, 0.1, holes=((0.25, 0.0, 0.05), (-0.25, 0.0, 0.05))).to_mesh(48))
    assert len(drawn.edges) == 3


def test_a_fine_mesh_gives_the_rim_of_its_shadow() -> None:
    ball = trimesh.creation.icosphere(subdivisions=5, radius=0.7)
    assert len(ball.faces) > FINE_MESH_FACES
    drawn = outline(np.asarray(ball.vertices), np.asarray(ball.faces), ELEVATION)
    assert len(drawn.edges) == 1 and len(drawn.edges[0]) < 200
    assert area(drawn.edges[0]) == pytest.approx(math.pi * 0.49, rel=0.02)


def test_a_fine_mesh_with_a_hole_keeps_the_hole() -> None:
    torus = trimesh.creation.torus(major_radius=1.0, minor_radius=0.3, major_sections=96, minor_sections=48)
    drawn = outline(np.asarray(torus.vertices), np.asarray(torus.faces), PLAN)
    assert sorted(area(c) for c in drawn.edges) == pytest.approx([math.pi * 0.49, math.pi * 1.69], rel=0.03)


def test_straight_runs_are_thinned_and_corners_kept() -> None:
    run = np.array([[0.0, 0.0], [1.0, 0.0], [2.0, 0.0], [2.0, 1.0], [2.0, 2.0]])
    assert thinned(run, 1e-6) == ((0.0, 0.0), (2.0, 0.0), (2.0, 2.0))
    assert thinned(np.zeros((3, 2)), 1e-6) == ()
