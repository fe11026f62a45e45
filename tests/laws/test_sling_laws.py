"""Laws every solution of a sling rig obeys, whatever its attachments, hook, load and lengths."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from oakum.lift.slings import bounds, elastic, geometry, shared, shared_worst, spreader_forces, squeeze_n
from oakum.lift.slings.spreader import Spreader

brief = settings(max_examples=80, deadline=None)
unit = st.floats(-1.0, 1.0)
CORNERS = {
    2: [[-1.0, 0.0], [1.0, 0.0]],
    3: [[-1.0, -0.8], [-1.0, 0.9], [1.2, 0.0]],
    4: [[1.0, 0.7], [-1.0, 0.7], [-1.0, -0.7], [1.0, -0.7]],
}


@st.composite
def rigs(draw, legs=None, heights=True):
    """Attachments at unequal heights, a hook above, hanging points about under it, weights: all feasible."""
    count = legs or draw(st.sampled_from([2, 3, 4]))
    feet = np.zeros((count, 3))
    feet[:, :2] = CORNERS[count]
    size = draw(st.floats(0.3, 3.0))
    for foot in feet:
        foot[:2] += [0.25 * draw(unit), 0.25 * draw(unit)]
        foot[2] = 0.3 * draw(unit) if heights else 0.0
    middle = feet.mean(axis=0)
    hook = middle + np.array([0.3 * draw(unit), 0.2 * draw(unit), draw(st.floats(0.8, 4.0))])
    n = 5
    jitter = np.array([[draw(unit), draw(unit), draw(unit)] for _ in range(n)])
    hanging = np.column_stack(
        (hook[0] + 0.1 * jitter[:, 0], hook[1] + 0.1 * jitter[:, 1], -0.8 + 0.2 * jitter[:, 2])
    )
    weight = np.array([draw(st.floats(100.0, 50_000.0)) for _ in range(n)])
    return size * feet, size * hook, size * hanging, weight


def solved(rig):
    feet, hook, hanging, weight = rig
    shape = geometry(feet, hook, hanging)
    known = bounds(shape, weight)
    assume(known.feasible.all())
    return shape, known


def turned(points, angle):
    c, s = np.cos(angle), np.sin(angle)
    return points @ np.array([[c, s, 0.0], [-s, c, 0.0], [0.0, 0.0, 1.0]])


@brief
@given(rigs())
def test_forces_and_moments_balance_at_both_ends_of_the_range(rig):
    feet, _, hanging, weight = rig
    shape, known = solved(rig)
    if len(feet) == 2:  # the load rolls about the line of its attachments before it rests
        axis = (feet[1] - feet[0]) / np.linalg.norm(feet[1] - feet[0])
        off = hanging - feet[0] - ((hanging - feet[0]) @ axis)[:, None] * axis
        lift = shape.hook_m - feet[0] - ((shape.hook_m - feet[0]) @ axis)[:, None] * axis
        assert np.linalg.norm(np.cross(off, lift), axis=1) == pytest.approx(
            0.0, abs=1e-9 * np.square(feet).sum()
        )
    for end in (known.low_end, known.high_end, (known.low_end + known.high_end) / 2):
        pull = end[:, :, None] * shape.unit
        assert np.abs(pull.sum(axis=1) - weight[:, None] * shape.up).max() <= 1e-7 * weight.max()
        arm = feet - hanging[:, None, :]
        moment = np.cross(arm, pull).sum(axis=1)
        assert np.abs(moment).max() <= 1e-7 * weight.max() * (1.0 + np.abs(feet).max())
        assert (end >= 0.0).all()


@brief
@given(rigs(legs=4), st.floats(1e5, 1e8), st.lists(st.floats(-0.1, 0.1), min_size=4, max_size=4))
def test_elastic_lies_within_the_bounds_whatever_the_misfit(rig, ea, misfit):
    shape, known = solved(rig)
    springs = ea / shape.length_m[0]
    force = shared(known, springs, np.array(misfit))
    room = 1e-9 * rig[3][:, None]
    assert (force <= known.greatest_n + room).all() and (force >= known.least_n - room).all()
    pull = np.einsum("nk,nki->ni", force, np.broadcast_to(shape.unit, (5, 4, 3)))
    assert np.abs(pull - rig[3][:, None] * shape.up).max() <= 1e-6 * rig[3].max()
    worst = shared_worst(known, springs, max(abs(m) for m in misfit))
    assert (force <= worst + 1e-6 * rig[3][:, None]).all()


@brief
@given(rigs())
def test_springs_with_all_displacements_rest_within_the_bounds_of_where_they_rest(rig):
    feet, _, hanging, weight = rig
    shape, known = solved(rig)
    springs = 200.0 * weight.max() / shape.length_m[0]  # half a per cent of stretch at most
    rest = elastic(shape, weight, hanging, springs)
    assert rest.found.all()
    assert (rest.force_n <= known.greatest_n + 0.05 * weight[:, None]).all()
    reach = rest.hook_m[:, None, :] - feet
    direction = reach / np.linalg.norm(reach, axis=2)[:, :, None]
    pull = rest.force_n[:, :, None] * direction
    rise = rest.hook_m - hanging
    up = rise / np.linalg.norm(rise, axis=1)[:, None]
    assert np.abs(pull.sum(axis=1) - weight[:, None] * up).max() <= 1e-6 * weight.max()
    moment = np.cross(feet - hanging[:, None, :], pull).sum(axis=1)
    assert np.abs(moment).max() <= 1e-6 * weight.max() * (1.0 + np.abs(feet).max())


@brief
@given(rigs(legs=4))
def test_stiff_springs_come_to_the_closed_form(rig):
    _, _, hanging, weight = rig
    shape, known = solved(rig)
    springs = 1e5 * weight.max() / shape.length_m[0]
    rest = elastic(shape, weight, hanging, springs)
    assert rest.found.all()
    assert rest.force_n == pytest.approx(shared(known, springs), rel=2e-3, abs=2e-3 * weight.max())


@brief
@given(rigs(), st.floats(0.1, 50.0))
def test_forces_grow_with_the_weight(rig, times):
    weight = rig[3]
    shape, known = solved(rig)
    more = bounds(shape, times * weight)
    assert more.greatest_n == pytest.approx(
        times * known.greatest_n, rel=1e-7, abs=1e-6 * times * weight.max()
    )
    assert more.least_n == pytest.approx(times * known.least_n, rel=1e-7, abs=1e-6 * times * weight.max())


@brief
@given(rigs(), st.floats(-3.2, 3.2), unit, unit)
def test_turning_the_whole_rig_about_the_vertical_and_shifting_it_changes_no_force(rig, angle, x, y):
    feet, hook, hanging, weight = rig
    shape, known = solved(rig)
    shift = np.array([x, y, 0.0])
    other = geometry(turned(feet, angle) + shift, turned(hook, angle) + shift, turned(hanging, angle) + shift)
    after = bounds(other, weight)
    assert after.feasible.all()
    assert after.greatest_n == pytest.approx(known.greatest_n, rel=1e-6, abs=1e-6 * weight.max())
    assert after.least_n == pytest.approx(known.least_n, rel=1e-6, abs=1e-6 * weight.max())
    assert other.tilt_deg == pytest.approx(shape.tilt_deg, abs=1e-6)


@brief
@given(rigs(heights=False))
def test_of_two_legs_from_one_height_the_longer_is_never_the_steeper(rig):
    """With the load level: sin(angle from the horizontal) = h / L, one h for all."""
    feet, hook, _, _ = rig
    shape = geometry(feet, hook, np.array([[hook[0], hook[1], -5.0]]))
    order = np.argsort(shape.length_m[0])
    assert (np.diff(shape.sine[0][order]) <= 1e-9).all()


@brief
@given(st.sampled_from([2, 4]), st.floats(0.5, 3.0), st.floats(1.05, 3.0))
def test_longer_legs_to_the_same_points_stand_steeper_and_carry_less(count, height, times):
    """Equal legs from level points; the angle from the horizontal rises with the length of the legs."""
    feet = np.column_stack((np.array(CORNERS[count]), np.zeros(count)))
    under = np.array([[0.0, 0.0, -1.0]])
    half = np.hypot(*feet[0, :2])
    high = np.sqrt(times**2 * (height**2 + half**2) - half**2)
    short, long_ = (geometry(feet, np.array([0.0, 0.0, h]), under) for h in (height, high))
    assert long_.length_m == pytest.approx(times * short.length_m)
    assert (long_.sine > short.sine).all()
    weight = np.array([1000.0])
    assert (bounds(long_, weight).greatest_n < bounds(short, weight).greatest_n).all()
    assert squeeze_n(long_, bounds(long_, weight))[0] < squeeze_n(short, bounds(short, weight))[0]


@brief
@given(
    st.floats(100, 1e5), st.floats(-0.5, 0.5), st.floats(0.0, 1.0), st.floats(1.5, 6.0), st.floats(0.5, 4.0)
)
def test_a_spreader_hands_the_whole_load_down_and_balances_about_the_hook(
    weight, offset, depth, length, height
):
    beam = Spreader("beam", length, height, 1e-6, 2.1e11, 0.0)
    found = spreader_forces(np.array([weight]), np.array([offset]), np.array([depth]), beam)
    assert found.drop_n.sum() == pytest.approx(weight)
    tilt = np.arctan(offset / (height + depth))
    lever = 0.5 * length * np.cos(tilt)
    dip = height * np.sin(tilt)
    left, right = found.drop_n[0]
    assert left * (lever + dip) == pytest.approx(right * (lever - dip), rel=1e-9)
    assert np.radians(found.tilt_deg[0]) == pytest.approx(abs(tilt))
