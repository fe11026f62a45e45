import numpy as np
import pytest
from scipy.spatial.transform import Rotation

from oakum.ground.solids import Box, Cylinder, Placement, SolidError, place


def test_the_three_turns_are_about_fixed_axes_in_the_order_x_y_z():
    expected = Rotation.from_euler("xyz", [20.0, -70.0, 200.0], degrees=True).as_matrix()
    matrix = Placement(1.0, 2.0, 3.0, 20.0, -70.0, 200.0).matrix()
    assert matrix[:3, :3] == pytest.approx(expected)
    assert matrix[:, 3].tolist() == [1.0, 2.0, 3.0, 1.0]


def test_a_quarter_turn_about_y_lays_a_standing_cylinder_along_x_exactly():
    mesh = place(Cylinder(0.1, 2.0).to_mesh(), Placement(turn_y_deg=90.0))
    low, high = mesh.bounds_m()
    assert low[0] == 0.0
    assert high[0] == 2.0
    assert Placement(turn_y_deg=90.0).move((0.0, 0.0, 1.0)) == (1.0, 0.0, 0.0)


def test_points_come_back_from_the_body_s_frame():
    there = Placement(1.0, -2.0, 0.5, 10.0, 200.0, -33.0)
    points = np.random.default_rng(2).normal(size=(20, 3))
    assert there.undo(there.apply(points)) == pytest.approx(points)
    assert there.apply(points)[0] == pytest.approx(there.move(tuple(points[0])))


def test_a_placement_may_hold_draws_for_a_centroid_but_not_for_a_mesh():
    tilted = Placement(x_m=np.array([0.0, 1.0]), turn_x_deg=np.array([0.0, 90.0]))
    x, y, z = tilted.move((0.0, 0.0, 1.0))
    assert np.broadcast_arrays(x, y, z) == pytest.approx(np.array([[0.0, 1.0], [0.0, -1.0], [1.0, 0.0]]))
    with pytest.raises(SolidError, match="holds 2 draws"):
        place(Box(1.0, 1.0, 1.0).to_mesh(), tilted)
