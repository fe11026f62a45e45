import math
import time

import numpy as np
import pytest
from scipy.spatial import ConvexHull

from oakum.ground.solids import Barrel, Box, Mesh, Placement, Ring, place, submerged


def torus(big: float, small: float, around: int, across: int) -> Mesh:
    """A torus about z in `2 * around * across` triangles; its volume is that of the polygon turned in steps."""
    u, v = np.arange(around) * (2 * math.pi / around), np.arange(across) * (2 * math.pi / across)
    radius = big + small * np.cos(v)
    z = np.broadcast_to(small * np.sin(v), (around, across))
    vertices = np.stack((np.cos(u)[:, None] * radius, np.sin(u)[:, None] * radius, z), axis=2).reshape(-1, 3)
    i, j = np.meshgrid(np.arange(around), np.arange(across), indexing="ij")
    a, b = i * across + j, (i + 1) % around * across + j
    c, d = (i + 1) % around * across + (j + 1) % across, i * across + (j + 1) % across
    faces = np.stack((a, b, c, a, c, d), axis=2).reshape(-1, 3)
    return Mesh(vertices, faces)


def torus_volume_m3(big: float, small: float, around: int, across: int) -> float:
    section = across / 2 * small**2 * math.sin(2 * math.pi / across)
    return around * math.sin(2 * math.pi / around) * big * section


def test_a_hundred_thousand_triangles_at_sixty_levels_take_under_two_seconds(record_property):
    mesh = torus(1.0, 0.4, 320, 160)
    assert len(mesh.faces) == 102_400
    began = time.process_time()
    under = submerged(mesh, np.linspace(-0.45, 0.45, 60))
    took = time.process_time() - began
    record_property("submerged_seconds", took)
    assert took < 2.0
    assert mesh.volume_m3() == pytest.approx(torus_volume_m3(1.0, 0.4, 320, 160), rel=1e-12)
    assert under.volume_m3[-1] == mesh.volume_m3()
    assert (np.diff(under.volume_m3) >= 0).all()


def test_a_lying_torus_is_submerged_as_the_closed_form_says():
    # Slices are rings of area 4 pi R sqrt(r^2 - z^2); the polygons cost 0.03 % of the whole, 0.1 % of a slice.
    mesh, big, small = torus(1.0, 0.4, 320, 160), 1.0, 0.4
    z = np.array([-0.3, -0.1, 0.0, 0.2, 0.35])
    segment = z * np.sqrt(small**2 - z**2) + small**2 * (np.arcsin(z / small) + math.pi / 2)
    under = submerged(mesh, z)
    assert under.volume_m3 == pytest.approx(2 * math.pi * big * segment, rel=1e-3)
    assert under.centroid_m[:, :2] == pytest.approx(0.0, abs=1e-12)


def test_a_box_is_cut_exactly():
    under = submerged(
        place(Box(2.0, 1.0, 0.5).to_mesh(), Placement(x_m=3.0)), [-1.0, 0.0, 0.1, 0.25, 0.5, 9.0]
    )
    assert under.volume_m3 == pytest.approx([0.0, 0.0, 0.2, 0.5, 1.0, 1.0], abs=1e-15)
    assert np.isnan(under.centroid_m[:2]).all()
    assert under.centroid_m[2:] == pytest.approx(
        np.array([[3.0, 0.0, 0.05], [3.0, 0.0, 0.125], [3.0, 0.0, 0.25], [3.0, 0.0, 0.25]])
    )


def test_a_wedge_s_submerged_centre_is_that_of_a_smaller_wedge():
    # A box turned by 45 degrees about y: below the level stands a right-angled prism.
    mesh = place(Box(1.0, 2.0, 1.0).to_mesh(), Placement(turn_y_deg=45.0))
    low = mesh.bounds_m()[0][2]
    under = submerged(mesh, low + 0.3)
    assert under.volume_m3[0] == pytest.approx(0.3**2 * 2.0)
    assert under.centroid_m[0, 2] - low == pytest.approx(0.2)


@pytest.mark.parametrize("share_of_height", [0.02, 0.1, 0.37, 0.5, 0.95])
def test_a_tilted_barrel_agrees_with_the_convex_hull_of_what_is_under_water(share_of_height):
    # Outside check: scipy's Qhull volume of the cut polyhedron, built from its corners instead of triangles.
    mesh = place(Barrel(0.6, 0.48, 0.9).to_mesh(24), Placement(turn_x_deg=50.0, turn_y_deg=20.0))
    low, high = mesh.bounds_m()
    level = low[2] + share_of_height * (high[2] - low[2])
    a, b = mesh.vertices[mesh.faces], mesh.vertices[np.roll(mesh.faces, -1, axis=1)]
    a, b = a.reshape(-1, 3), b.reshape(-1, 3)
    crossing = (a[:, 2] - level) * (b[:, 2] - level) < 0
    share = (level - a[crossing, 2]) / (b[crossing, 2] - a[crossing, 2])
    cut = a[crossing] + share[:, None] * (b[crossing] - a[crossing])
    hull = ConvexHull(np.vstack((mesh.vertices[mesh.vertices[:, 2] <= level], cut)))
    assert submerged(mesh, level).volume_m3[0] == pytest.approx(hull.volume, rel=1e-9)


def test_a_vertex_edge_or_face_in_the_water_plane_is_no_special_case():
    mesh = Ring(0.6, 0.5, 0.2).to_mesh(16)
    z = np.array([0.0, 1e-15, 0.1, 0.2 - 1e-15, 0.2])
    assert submerged(mesh, z).volume_m3 == pytest.approx(mesh.volume_m3() * z / 0.2, abs=1e-12)
    upright = place(mesh, Placement(turn_x_deg=90.0))
    corners = np.unique(upright.vertices[:, 2])
    at, near = submerged(upright, corners), submerged(upright, corners + 1e-9)
    assert at.volume_m3 == pytest.approx(near.volume_m3, abs=1e-8)


def test_a_level_among_many_gives_the_same_as_alone_and_chunks_do_not_show():
    mesh = torus(1.0, 0.4, 200, 100)
    z = np.linspace(-0.41, 0.41, 150)  # 6 million pairs: three chunks
    many = submerged(mesh, z)
    for k in (0, 49, 50, 77, 149):
        alone = submerged(mesh, float(z[k]))
        assert many.volume_m3[k] == pytest.approx(alone.volume_m3[0], rel=1e-12)
        assert many.centroid_m[k] == pytest.approx(alone.centroid_m[0], abs=1e-12, nan_ok=True)


def test_a_mesh_far_from_its_origin_loses_no_digits():
    far = place(Box(1.0, 1.0, 1.0).to_mesh(), Placement(x_m=4e5, y_m=6e6, z_m=-20.0, turn_x_deg=30.0))
    assert far.volume_m3() == pytest.approx(1.0, abs=1e-8)
    level = (far.bounds_m()[0][2] + far.bounds_m()[1][2]) / 2
    assert submerged(far, level).volume_m3[0] == pytest.approx(0.5, abs=1e-8)


def test_two_bodies_in_one_mesh_go_under_one_after_the_other():
    low, high = Box(1.0, 1.0, 1.0).to_mesh(), place(Box(1.0, 1.0, 1.0).to_mesh(), Placement(z_m=2.0))
    both = Mesh(np.vstack((low.vertices, high.vertices)), np.vstack((low.faces, high.faces + 8)))
    assert submerged(both, [0.5, 1.5, 2.5, 3.0]).volume_m3 == pytest.approx([0.5, 1.0, 1.5, 2.0])
