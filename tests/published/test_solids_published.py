"""Volumes, centroids and submerged parts against figures from outside. The mark of each source stands beside it."""

import math

import numpy as np
import pytest
import trimesh
from scipy.integrate import quad

from oakum.ground.solids import Barrel, Box, Cylinder, Frustum, Mesh, Placement, Ring, place, submerged


@pytest.mark.parametrize(
    ("stave", "litres"), [("parabolic", 222.576), ("arc", 222.796), ("elliptic", 223.933)]
)
def test_a_cask_of_60_48_90_cm_by_its_three_staves(stave, litres):
    # Own calculation: integral of pi r^2 along the stave, to 1e-5 m3.
    assert Barrel(0.60, 0.48, 0.90, stave).volume_m3() == pytest.approx(litres / 1000, abs=1e-6)


@pytest.mark.parametrize(
    ("bulge", "end", "height"), [(0.60, 0.48, 0.90), (1.0, 0.999, 3.0), (0.5, 0.3, 0.6), (1.0, 0.5, 0.5)]
)
def test_the_barrels_against_adaptive_quadrature_of_their_staves(bulge, end, height):
    # Outside check: scipy's adaptive quadrature; the last cask's arc is a full semicircle.
    half, sag = height / 2, (bulge - end) / 2
    circle = (sag**2 + half**2) / (2 * sag)
    staves = {
        "parabolic": lambda x: bulge / 2 - sag * (x / half) ** 2,
        "elliptic": lambda x: math.sqrt(
            (bulge / 2) ** 2 - ((bulge / 2) ** 2 - (end / 2) ** 2) * (x / half) ** 2
        ),
        "arc": lambda x: bulge / 2 - circle + math.sqrt(max(circle**2 - x**2, 0.0)),
    }
    for stave, radius in staves.items():
        volume = 2 * quad(lambda x, r=radius: math.pi * r(x) ** 2, 0.0, half, epsabs=1e-13)[0]
        assert Barrel(bulge, end, height, stave).volume_m3() == pytest.approx(volume, rel=3e-6)


def test_the_flat_tyre():
    # Own calculation: pi (0.65^2 - 0.60^2) 0.08 = 0.0157080 m3.
    assert Ring(0.65, 0.60, 0.08).volume_m3() == pytest.approx(0.0157080, abs=5e-8)


def test_the_bored_and_crusted_gun_by_its_volumes():
    # Own calculation: frustum R .20, r .13, L 2.4 m, bore r .05 x 2.1 m; crust 40 mm thick round the side.
    gun, bore = Frustum(0.20, 0.13, 2.4), Cylinder(0.05, 2.1)
    assert gun.volume_m3() - bore.volume_m3() == pytest.approx(0.191857, abs=5e-7)
    outside = Frustum(0.24, 0.17, 2.4)  # 40 mm measured square to the axis
    assert outside.volume_m3() - gun.volume_m3() == pytest.approx(0.111589, abs=5e-7)
    # Measured square to the surface, as grown() does, the taper of 1.7 degrees adds 0.04 %.
    assert gun.grown(0.04, ends=False).volume_m3() - gun.volume_m3() == pytest.approx(0.111589, rel=1e-3)


def test_frustum_volume_and_centre_are_the_handbook_s():
    # Memory, verify (any engineers' handbook): V = pi h (R^2 + R r + r^2)/3; centre of a cone at h/4 from its base.
    R, r, h = 0.2, 0.13, 2.4
    by_quadrature = quad(lambda z: math.pi * (R + (r - R) * z / h) ** 2, 0.0, h)[0]
    moment = quad(lambda z: math.pi * z * (R + (r - R) * z / h) ** 2, 0.0, h)[0]
    frustum = Frustum(R, r, h)
    assert frustum.volume_m3() == pytest.approx(math.pi * h * (R * R + R * r + r * r) / 3)
    assert frustum.volume_m3() == pytest.approx(by_quadrature)
    assert frustum.centroid_m()[2] == pytest.approx(moment / by_quadrature)
    assert Frustum(0.5, 1e-9, 2.0).centroid_m()[2] == pytest.approx(2.0 / 4)


@pytest.mark.parametrize("depth", [0.1, 0.25, 0.5, 0.8, 0.97])
def test_a_lying_cylinder_s_submerged_part_is_the_circular_segment(depth):
    # Memory, verify (any handbook of mensuration): A = R^2 acos((R-h)/R) - (R-h) sqrt(2Rh - h^2). The 48-sided
    # polygon of equal area meets it within 0.15 % of the whole, 192 sides within 0.01 %.
    R, length, h = 0.5, 2.0, depth
    segment = R * R * math.acos((R - h) / R) - (R - h) * math.sqrt(2 * R * h - h * h)
    for facets, tolerance in ((48, 1.5e-3), (192, 1e-4)):
        mesh = place(Cylinder(R, length).to_mesh(facets), Placement(turn_y_deg=90.0))
        under = submerged(mesh, h - R)
        assert under.volume_m3[0] == pytest.approx(length * segment, abs=tolerance * mesh.volume_m3())
        # Centre of a segment below the axis: (2/3) (R^2 - d^2)^(3/2) / A, d the height of the water above the axis.
        below = 2 / 3 * (R * R - (R - h) ** 2) ** 1.5 / segment
        assert under.centroid_m[0, 2] == pytest.approx(-below, abs=0.01 * R)


def test_an_upright_frustum_s_submerged_part_is_a_shorter_frustum_exactly():
    R, r, h = 0.2, 0.13, 2.4
    mesh = Frustum(R, r, h).to_mesh(16)
    levels = np.array([0.3, 1.1, 2.0])
    under = submerged(mesh, levels)
    for level, volume, centre in zip(levels, under.volume_m3, under.centroid_m, strict=True):
        shorter = Frustum(R, R + (r - R) * level / h, level)
        assert volume == pytest.approx(shorter.volume_m3(), rel=1e-12)
        assert centre[2] == pytest.approx(shorter.centroid_m()[2], rel=1e-12)


def test_a_heeled_box_s_wet_half_is_the_prism_that_geometry_gives():
    # Own calculation: a 1 x 2 x 1 m box heeled by 30 degrees with the level through its middle. In its section the
    # wet half lies below z = x tan; its centre is at x = tan/6, z = tan^2/12 - 1/4 from the middle.
    heel, tan = math.radians(30.0), math.tan(math.radians(30.0))
    mesh = place(Box(1.0, 2.0, 1.0).to_mesh(), Placement(turn_y_deg=30.0))
    middle = mesh.centroid_m()
    under = submerged(mesh, middle[2])
    assert under.volume_m3[0] == pytest.approx(1.0, rel=1e-12)
    depth = tan / 6 * math.sin(heel) + (1 / 4 - tan**2 / 12) * math.cos(heel)
    assert middle[2] - under.centroid_m[0, 2] == pytest.approx(depth, rel=1e-12)


@pytest.mark.parametrize("depth", [0.05, 0.2, 0.5, 0.9])
def test_a_floating_sphere_s_submerged_cap(depth):
    # Memory, verify (any handbook): cap V = pi h^2 (3R - h)/3, its centre 3 (2R - h)^2 / (4 (3R - h)) from the
    # sphere's. A sphere-like mesh of 20,480 triangles, brought to the sphere's volume: within 0.1 % of the sphere.
    R, h = 0.5, depth
    ball = trimesh.creation.icosphere(subdivisions=5, radius=R)
    mesh = Mesh(ball.vertices, ball.faces).scaled_to(4 / 3 * math.pi * R**3)
    under = submerged(mesh, h - R)
    assert under.volume_m3[0] == pytest.approx(math.pi * h * h * (3 * R - h) / 3, abs=1e-3 * mesh.volume_m3())
    assert under.centroid_m[0, 2] == pytest.approx(-3 * (2 * R - h) ** 2 / (4 * (3 * R - h)), abs=2e-3 * R)


@pytest.mark.parametrize(
    "shape",
    [
        trimesh.creation.icosphere(subdivisions=4, radius=0.7),
        trimesh.creation.annulus(0.60, 0.65, 0.08, sections=256),
        trimesh.creation.capsule(1.0, 0.3),
        trimesh.creation.torus(1.0, 0.2),
        trimesh.creation.box((0.3, 0.7, 1.9)),
    ],
    ids=["ball", "ring", "capsule", "torus", "box"],
)
def test_signed_tetrahedra_agree_with_a_general_mesh_library(shape):
    # Outside check: trimesh's volume, area and centre of mass.
    moved = shape.copy().apply_transform(Placement(3.0, -2.0, 7.0, 20.0, 50.0, 110.0).matrix())
    mesh = Mesh(moved.vertices, moved.faces)
    assert mesh.volume_m3() == pytest.approx(moved.volume, rel=1e-9)
    assert mesh.area_m2() == pytest.approx(moved.area, rel=1e-9)
    assert mesh.centroid_m() == pytest.approx(moved.center_mass, abs=1e-8)
