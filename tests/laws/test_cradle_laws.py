"""Laws of every beam, bed and strap: balance, stiffness, mirror images, more supports."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from oakum.lift.cradle import (
    Beam,
    Foam,
    LimpFind,
    PointLoad,
    SpreadLoad,
    Support,
    Tie,
    greatest_share,
    greatest_spacing_m,
    k_h,
    rectangle,
    shares_on_springs,
    solve_beam,
    solve_network,
    strain_at_depth,
    strap_tension_n,
    straps_needed,
    strip_sag_m,
    strip_stress_pa,
    tube,
)

brief = settings(max_examples=60, deadline=None)
share = st.floats(0.02, 0.98)


@st.composite
def beams(draw: st.DrawFn, springs: bool = True) -> Beam:
    """A beam of any length on two to five supports, some of them springs, under points and slanted loads."""
    length = draw(st.floats(0.5, 6.0))
    count = draw(st.integers(2, 5))
    gaps = draw(st.lists(st.floats(0.1, 1.0), min_size=count + 1, max_size=count + 1))
    places = np.cumsum(gaps)[:-1] / sum(gaps) * length
    soft = draw(st.lists(st.floats(3.0, 7.0), min_size=count, max_size=count))
    rigid = draw(st.lists(st.booleans(), min_size=count, max_size=count))
    supports = tuple(
        Support(float(x), stiffness_n_m=None if r or not springs else 10.0**k)
        for x, k, r in zip(places, soft, rigid, strict=True)
    )
    points = tuple(
        PointLoad(length * draw(share), draw(st.floats(-500.0, 2000.0)))
        for _ in range(draw(st.integers(0, 3)))
    )
    spread = []
    for _ in range(draw(st.integers(0, 2))):
        a, b = sorted((draw(share), draw(share)))
        if b - a > 0.05:
            spread.append(
                SpreadLoad(a * length, b * length, draw(st.floats(0.0, 900.0)), draw(st.floats(0.0, 900.0)))
            )
    assume(points or spread)
    return Beam(length, 10.0 ** draw(st.floats(3.0, 6.0)), supports, points, tuple(spread))


def total_and_moment(beam: Beam) -> tuple[float, float, float]:
    """All loads, their moment about the start, and the size of what was summed."""
    total = moment = size = 0.0
    for p in beam.points:
        total, moment, size = total + p.force_n, moment + p.force_n * p.at_m, size + abs(p.force_n)
    for s in beam.spread:
        end = s.start_n_m if s.end_n_m is None else s.end_n_m
        long, force = s.to_m - s.from_m, s.total_n
        arm = s.from_m * force + long**2 * (s.start_n_m + 2.0 * end) / 6.0
        total, moment, size = total + force, moment + arm, size + force
    return total, moment, size


@brief
@given(beams())
def test_reactions_balance_loads_and_their_moments(beam: Beam) -> None:
    total, moment, size = total_and_moment(beam)
    found = solve_beam(beam)
    assert sum(found.reactions_n) == pytest.approx(total, abs=1e-6 * size + 1e-9)
    arms = sum(r * s.at_m for r, s in zip(found.reactions_n, beam.supports, strict=True))
    assert arms == pytest.approx(moment, abs=1e-6 * size * beam.length_m + 1e-9)


@brief
@given(beams())
def test_moment_is_the_integral_of_shear_and_both_end_at_nothing(beam: Beam) -> None:
    found = solve_beam(beam)
    _, _, size = total_and_moment(beam)
    places = np.linspace(0.0, beam.length_m, 4001)
    shear, moment = found.shear_n(places), found.moment_nm(places)
    summed = np.concatenate([[0.0], np.cumsum(0.5 * (shear[1:] + shear[:-1]) * np.diff(places))])
    assert moment == pytest.approx(summed, abs=3e-3 * size * beam.length_m)
    assert float(moment[-1]) == pytest.approx(0.0, abs=1e-6 * size * beam.length_m + 1e-9)


@brief
@given(beams())
def test_the_exact_peaks_bound_what_is_read_on_a_grid(beam: Beam) -> None:
    found = solve_beam(beam)
    places = np.linspace(0.0, beam.length_m, 301)
    most_moment, most_shear, most_sag = found.greatest()
    for most, curve in (
        (most_moment, found.moment_nm(places)),
        (most_shear, found.shear_n(places)),
        (most_sag, found.deflection_m(places)),
    ):
        assert np.abs(curve).max() <= most * (1.0 + 1e-9) + 1e-9


@brief
@given(beams())
def test_a_mirrored_beam_has_mirrored_reactions_and_the_same_peaks(beam: Beam) -> None:
    long = beam.length_m
    turned = Beam(
        long,
        beam.ei_nm2,
        tuple(replace(s, at_m=long - s.at_m) for s in reversed(beam.supports)),
        tuple(replace(p, at_m=long - p.at_m) for p in beam.points),
        tuple(
            SpreadLoad(
                long - s.to_m, long - s.from_m, s.start_n_m if s.end_n_m is None else s.end_n_m, s.start_n_m
            )
            for s in beam.spread
        ),
    )
    here, there = solve_beam(beam), solve_beam(turned)
    _, _, size = total_and_moment(beam)
    assert here.reactions_n == pytest.approx(there.reactions_n[::-1], abs=1e-6 * size)
    assert here.greatest() == pytest.approx(there.greatest(), rel=1e-5, abs=1e-7 * size)


@brief
@given(beams(), st.floats(1.5, 20.0), st.data())
def test_a_stiffer_support_takes_more_of_a_load_that_presses_on_it(
    beam: Beam, times: float, data: st.DataObject
) -> None:
    springs = [i for i, s in enumerate(beam.supports) if s.stiffness_n_m is not None]
    assume(springs)
    which = data.draw(st.sampled_from(springs))
    before = solve_beam(beam).reactions_n[which]
    stiff = replace(beam.supports[which], stiffness_n_m=times * (beam.supports[which].stiffness_n_m or 0.0))
    supports = (*beam.supports[:which], stiff, *beam.supports[which + 1 :])
    after = solve_beam(replace(beam, supports=supports)).reactions_n[which]
    _, _, size = total_and_moment(beam)
    # the force of one spring is f k / (1 + f k): it grows towards what an unyielding one would take, in its own sense
    assert abs(after) >= abs(before) - 1e-7 * size
    assert after * before >= -1e-12 * size**2


@brief
@given(beams(), st.floats(0.2, 5.0))
def test_twice_the_load_is_twice_everything(beam: Beam, times: float) -> None:
    more = replace(
        beam,
        points=tuple(replace(p, force_n=times * p.force_n) for p in beam.points),
        spread=tuple(
            replace(
                s, start_n_m=times * s.start_n_m, end_n_m=None if s.end_n_m is None else times * s.end_n_m
            )
            for s in beam.spread
        ),
    )
    assert solve_beam(more).greatest() == pytest.approx(
        np.array(solve_beam(beam).greatest()) * times, rel=1e-6, abs=1e-9
    )


@pytest.mark.parametrize("spans", range(1, 12))
def test_one_equal_span_more_never_raises_the_greatest_moment_of_an_even_load(spans: int) -> None:
    """Exactly this holds: the same length in n + 1 equal spans, all ends on supports that do not give."""

    def greatest(n: int) -> float:
        supports = tuple(Support(float(x)) for x in np.linspace(0.0, 5.0, n + 1))
        return solve_beam(Beam(5.0, 1e4, supports, spread=(SpreadLoad(0.0, 5.0, 100.0),))).greatest_moment_nm

    assert greatest(spans + 1) < greatest(spans)
    assert 0.07 <= greatest(spans) / (100.0 * (5.0 / spans) ** 2) <= 0.125 + 1e-9


def test_a_support_put_just_anywhere_can_raise_the_greatest_moment() -> None:
    """Why the law is only for equal spans: close beside one of two well placed supports it works as a clamp."""
    two = (Support(0.207 * 4.0), Support(0.793 * 4.0))
    three = (two[0], Support(0.24 * 4.0), two[1])
    load = (SpreadLoad(0.0, 4.0, 100.0),)
    before = solve_beam(Beam(4.0, 1e4, two, spread=load)).greatest_moment_nm
    after = solve_beam(Beam(4.0, 1e4, three, spread=load)).greatest_moment_nm
    assert after > 1.15 * before


@brief
@given(beams(springs=False))
def test_supports_that_only_push_never_pull_and_still_balance(beam: Beam) -> None:
    down = replace(beam, points=tuple(replace(p, force_n=abs(p.force_n)) for p in beam.points))
    total, moment, size = total_and_moment(down)
    assume(total > 1.0)
    middle = moment / total
    places = [s.at_m for s in beam.supports]
    assume(min(places) + 1e-3 < middle < max(places) - 1e-3)
    pushing = replace(down, supports=tuple(replace(s, pushes_only=True) for s in beam.supports))
    found = solve_beam(pushing)
    assert min(found.reactions_n) >= -1e-6 * size
    assert sum(found.reactions_n) == pytest.approx(total, abs=1e-6 * size)


@brief
@given(st.floats(0.1, 0.9), st.floats(0.1, 0.9), st.floats(3.0, 6.0), st.floats(3.0, 6.0))
def test_crossing_beams_pass_on_what_they_do_not_carry(a: float, b: float, ei: float, other: float) -> None:
    first = Beam(2.0, 10.0**ei, (Support(0.0), Support(2.0)), (PointLoad(0.7, 300.0),), name="a")
    second = Beam(3.0, 10.0**other, (Support(0.0), Support(3.0)), name="b")
    upper, lower = solve_network((first, second), (Tie(0, 2.0 * a, 1, 3.0 * b),))
    assert sum(upper.reactions_n) + sum(lower.reactions_n) == pytest.approx(300.0, rel=1e-6)
    assert upper.tie_n[0][1] == pytest.approx(-lower.tie_n[0][1], abs=1e-6)
    assert float(upper.deflection_m(2.0 * a)) == pytest.approx(
        float(lower.deflection_m(3.0 * b)), rel=1e-6, abs=1e-12
    )


@brief
@given(
    st.lists(
        st.tuples(st.floats(-2.0, 2.0), st.floats(-1.0, 1.0), st.floats(0.1, 10.0)), min_size=3, max_size=8
    ),
    st.floats(-0.3, 0.3),
    st.floats(-0.3, 0.3),
)
def test_shares_on_beds_balance_the_weight_and_never_pull(
    beds: list[tuple[float, float, float]], x: float, y: float
) -> None:
    places = np.array([*((a, b) for a, b, _ in beds), (-2.0, -1.0), (2.0, -1.0), (-2.0, 1.0), (2.0, 1.0)])
    springs = np.array([*(k for *_, k in beds), 1.0, 1.0, 1.0, 1.0])
    found = shares_on_springs(places, springs, np.array([x, y]))
    assert found.min() >= 0.0 and found.sum() == pytest.approx(1.0)
    assert found @ places == pytest.approx([x, y], abs=1e-6)


@brief
@given(st.floats(0.0, 6e5), st.floats(0.0, 6e5), st.floats(0.0, 2e4))
def test_a_pad_loses_more_thickness_the_deeper_it_goes_and_never_more_than_its_air(
    shallow: float, deep: float, load: float
) -> None:
    foam = Foam("pad", 0.1, True, ((0.0, 0.0), (0.1, 2.5e4), (0.3, 7e4), (0.6, 2.4e5)))
    shallow, deep = sorted((shallow, deep))
    a, b = strain_at_depth(foam, shallow, load), strain_at_depth(foam, deep, load)
    assert a is not None and b is not None
    assert 0.0 <= a[0] <= a[1] < 1.0 and a[0] <= b[0] + 1e-9 and a[1] <= b[1] + 1e-12


@brief
@given(st.integers(2, 12), st.floats(100.0, 1e5), st.floats(30.0, 90.0))
def test_more_straps_and_steeper_legs_press_less(count: int, weight: float, angle: float) -> None:
    assert greatest_share(count + 1) < greatest_share(count) + 1e-12
    assert greatest_share(count) >= 1.0 / count - 1e-12
    assert strap_tension_n(weight, count, angle) >= strap_tension_n(weight, count)
    needed = straps_needed(weight, 0.3, 0.1, 3e4, angle)
    if needed is not None and needed > 2:
        fewer = strap_tension_n(greatest_share(needed - 1) * weight, 1, angle) / 0.03
        assert fewer > 3e4 >= strap_tension_n(greatest_share(needed) * weight, 1, angle) / 0.03 - 1e-6


@brief
@given(
    st.floats(0.002, 0.03),
    st.floats(5.0, 9.0),
    st.floats(3.0, 6.0),
    st.floats(1e-4, 1e-2),
    st.floats(1.0, 300.0),
)
def test_at_the_greatest_spacing_one_limit_is_just_reached(
    thickness: float, e: float, bears: float, sag: float, load: float
) -> None:
    find = LimpFind("f", thickness, True, 10.0**e, 10.0**bears, sag)
    spacing = greatest_spacing_m(find, load)
    assert spacing is not None
    used = (
        strip_stress_pa(load, spacing, thickness) / 10.0**bears,
        strip_sag_m(load, spacing, thickness, 10.0**e) / sag,
    )
    assert max(used) == pytest.approx(1.0, rel=1e-6)


@brief
@given(st.floats(0.03, 0.3), st.floats(0.03, 0.3), st.floats(0.1, 0.2))
def test_a_tube_is_lighter_and_less_stiff_than_the_solid_and_thin_timber_gets_no_less_credit(
    width: float, depth: float, part: float
) -> None:
    solid, hollow = rectangle(width, depth), tube(width, depth, part * min(width, depth) / 2.0)
    assert hollow.area_m2 < solid.area_m2 and hollow.inertia_m4 < solid.inertia_m4
    assert hollow.outside_m2 > hollow.area_m2
    assert 1.0 <= k_h(depth) <= 1.3 and k_h(0.5 * depth) >= k_h(depth)
