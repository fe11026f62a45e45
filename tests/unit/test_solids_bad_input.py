import numpy as np
import pytest

from oakum.ground.errors import OakumError
from oakum.ground.solids import (
    Barrel,
    Box,
    Cylinder,
    Frustum,
    HoledDisc,
    Mesh,
    Placement,
    Plank,
    Ring,
    SolidError,
    quadrature_points,
    submerged,
)


@pytest.mark.parametrize(
    ("make", "named"),
    [
        (lambda: Box(-1.0, 1.0, 1.0), "box: length_m must be greater than zero, got -1"),
        (lambda: Plank(1.0, 0.2, 0.0), "plank: thickness_m must be greater than zero, got 0"),
        (lambda: Cylinder(0.0, 1.0), "cylinder: radius_m"),
        (lambda: Cylinder(0.2, float("nan")), "cylinder: height_m must be a finite number"),
        (lambda: Cylinder("thick", 1.0), "cylinder: radius_m must be a number in metres, got 'thick'"),
        (lambda: Cylinder(np.ones((2, 2)), 1.0), "one row of draws"),
        (lambda: Ring(0.5, 0.6, 0.1), "outer_radius_m must be greater than inner_radius_m"),
        (lambda: Ring(0.5, 0.0, 0.1), "ring: inner_radius_m"),
        (lambda: Frustum(0.2, -0.1, 1.0), "frustum: radius_top_m"),
        (lambda: Barrel(0.4, 0.5, 0.9), "bulge_diameter_m must not be less than end_diameter_m"),
        (lambda: Barrel(0.6, 0.5, 0.9, "catenary"), "stave must be one of parabolic, arc, elliptic"),
        (lambda: Barrel(1.0, 0.4, 0.5, "arc"), "cannot bulge further than a semicircle"),
        (lambda: HoledDisc(0.5, 0.1, ((0.4, 0.0, 0.1),)), "hole 1 reaches the rim"),
        (
            lambda: HoledDisc(0.5, 0.1, ((0.1, 0.0, 0.1), (0.2, 0.0, 0.1))),
            "holes 1 and 2 run into each other",
        ),
        (lambda: HoledDisc(0.5, 0.1, ((0.1, 0.0),)), "hole 1 must be three lengths"),
        (lambda: HoledDisc(0.5, 0.1, ((0.1, 0.0, 0.0),)), "hole 1 radius must be greater than zero"),
    ],
)
def test_an_impossible_dimension_is_refused_by_name(make, named):
    with pytest.raises(SolidError) as refusal:
        make()
    assert named in str(refusal.value)
    assert isinstance(refusal.value, OakumError)


def test_one_bad_draw_among_many_is_counted():
    with pytest.raises(SolidError, match=r"radius_m must be greater than zero, got -0.01 \(1 of 3 draws\)"):
        Cylinder(np.array([0.1, -0.01, 0.2]), 1.0)
    with pytest.raises(SolidError, match=r"inner_radius_m \(in 1 of 2 draws\)"):
        Ring(np.array([0.5, 0.6]), 0.55, 0.1)


def test_an_unknown_dimension_is_answered_with_the_known_ones():
    with pytest.raises(SolidError, match=r"no dimension 'width_m'; it has radius_m, height_m"):
        Cylinder(0.1, 1.0).with_dimensions(width_m=0.2)


def test_a_mesh_is_not_made_of_draws():
    with pytest.raises(SolidError, match=r"holds 2 draws; one shape is needed here. Use .nominal\(\)"):
        Cylinder(np.array([0.1, 0.2]), 1.0).to_mesh()


def test_a_negative_coat_is_refused_and_none_changes_nothing():
    with pytest.raises(SolidError, match=r"thickness_m must be zero or more, got -0.01"):
        Box(1.0, 1.0, 1.0).grown(-0.01)
    assert Box(1.0, 1.0, 1.0).grown(0.0) == Box(1.0, 1.0, 1.0)


def test_too_few_facets_points_of_the_wrong_shape_and_endless_levels_are_refused():
    with pytest.raises(SolidError, match="at least 8 facets"):
        Cylinder(0.1, 1.0).to_mesh(4)
    with pytest.raises(SolidError, match="rows x, y, z"):
        Box(1.0, 1.0, 1.0).contains(np.zeros(3))
    with pytest.raises(SolidError, match="finite heights"):
        submerged(Box(1.0, 1.0, 1.0).to_mesh(), [0.1, np.inf])
    with pytest.raises(SolidError, match="turn_x_deg must be a finite number"):
        Placement(turn_x_deg=float("nan"))
    with pytest.raises(SolidError, match="at least one point"):
        quadrature_points(Box(1.0, 1.0, 1.0), 0)


def test_a_hole_that_all_but_touches_the_rim_is_weighed_but_not_drawn():
    disc = HoledDisc(0.5, 0.1, ((0.3, 0.0, 0.2 - 1e-8),))
    assert disc.volume_m3() > 0
    with pytest.raises(SolidError, match="leave a wall"):
        disc.to_mesh()


CUBE = Box(1.0, 1.0, 1.0).to_mesh()


def test_an_open_mesh_is_refused_with_the_count_and_the_place():
    with pytest.raises(
        SolidError, match=r"open: 3 edges belong to one triangle only, around x .* and elsewhere"
    ):
        Mesh(CUBE.vertices, CUBE.faces[1:])


def test_a_turned_triangle_is_refused():
    faces = CUBE.faces.copy()
    faces[0] = faces[0, ::-1]
    with pytest.raises(SolidError, match="turned against their neighbours along 3 edges"):
        Mesh(CUBE.vertices, faces)


def test_an_inverted_mesh_is_refused_with_the_way_out():
    with pytest.raises(SolidError, match=r"inside out \(its volume comes to -1 m3\).*turned=True"):
        Mesh(CUBE.vertices, CUBE.faces[:, ::-1])


@pytest.mark.parametrize(
    ("vertices", "faces", "named"),
    [
        (np.zeros((3, 2)), np.zeros((4, 3), int), "rows x, y, z"),
        (CUBE.vertices, CUBE.faces[:2], "at least four triangles"),
        (CUBE.vertices * np.array([1.0, 1.0, np.nan]), CUBE.faces, "8 vertices that are not finite"),
        (CUBE.vertices[:7], CUBE.faces, "names a vertex that is not there"),
        (CUBE.vertices * np.array([1.0, 1.0, 0.0]), CUBE.faces, "encloses no volume"),
    ],
)
def test_what_is_no_mesh_is_refused(vertices, faces, named):
    with pytest.raises(SolidError, match=named):
        Mesh(vertices, faces)


def test_a_mesh_cannot_be_scaled_to_nothing():
    for scale in (lambda: CUBE.scaled(0.0), lambda: CUBE.scaled(float("nan")), lambda: CUBE.scaled_to(-1.0)):
        with pytest.raises(SolidError, match="greater than zero"):
            scale()


def test_vertices_of_a_mesh_cannot_be_changed_behind_its_back():
    with pytest.raises(ValueError, match="read-only"):
        CUBE.vertices[0, 0] = 9.0
