"""The simplified method: load cases from geometry, worse ends of the weight, what it says and where it holds."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from oakum.ground.waves import WaveError
from oakum.lift.splash import (
    Hollow,
    Line,
    Part,
    Question,
    SplashBody,
    SplashError,
    TipPerHeight,
    TipStill,
    Water,
    cylinder_across,
    load_cases,
    periods_s,
    simplified,
    snap_speed_m_s,
    why_not,
)

WATER = Water(1025.0)
LINE = Line(2e5)
CRATE = Part("crate", 0.0, 0.8, 1.0, 1.92, 2.4, 1.76)


def body(parts=(CRATE,), mass=(1400.0,), share=None, **more) -> SplashBody:
    mass = np.asarray(mass, dtype=np.float64)
    share = np.ones(len(mass)) if share is None else np.asarray(share, dtype=np.float64)
    return SplashBody(tuple(parts), mass, share, more.pop("longest_m", 2.0), **more)


def asked(of: SplashBody, **more) -> Question:
    given = {"tip": TipPerHeight(0.5, 0.6, 0.8), "line": LINE, "hoist_m_s": 0.25, "hook_kg": 3000.0} | more
    return Question(of, WATER, **given)


def frame() -> SplashBody:
    bar = cylinder_across(0.05, 2.0).volume_m3
    return body(
        [
            Part("sill left", 0.0, 0.1, 0.016, 0.2, 0.2, bar, round_bottom=True),
            Part("sill right", 0.0, 0.1, 0.016, 0.2, 0.2, bar, round_bottom=True),
            Part("object", 0.1, 0.4, 0.2, 0.6, 0.8, 0.3),
            Part("top", 0.9, 0.1, 0.016, 0.2, 0.2, bar, round_bottom=True),
        ],
        mass=(600.0,),
    )


def test_each_part_of_a_frame_comes_to_the_surface_on_its_own_and_equal_ones_together() -> None:
    cases = load_cases(frame())
    assert [c.kind for c in cases[:4]] == ["hit from below", "touching", "half in", "just under"]
    assert len(cases) == 1 + 3 * 3
    assert cases[1].part == "sill left and 1 more"
    touching = next(c for c in cases if c.kind == "touching" and c.part == "object")
    assert touching.water_line_m == 0.1 and len(touching.wet) == 2
    assert touching.slamming_m2 == pytest.approx(5.0 * 0.8)  # the least coefficient of a shape that is not round
    assert cases[1].slamming_m2 == pytest.approx(2 * 3.0 * 0.2)
    under = cases[-1]
    assert under.water_line_m == pytest.approx(1.0) and len(under.wet) == 4
    assert under.wet[2].below_m == pytest.approx(1.0 - 0.3)


def test_just_clear_all_hollows_hang_full_on_the_hook() -> None:
    held = body(hollows=(Hollow(2.0, 0.5, 0.1, 0.1),))
    cases = load_cases(held)
    assert cases[0].held_m3(held) == (0.0, 1.0)
    assert cases[-1].held_m3(held) == (1.0, 0.0)
    half = next(c for c in cases if c.kind == "half in")
    assert half.held_m3(held) == pytest.approx((0.6, 0.4))
    full, empty = (simplified(asked(b), 0.1, 4.0) for b in (held, body()))
    assert full.cases[0].static_most_n - full.cases[0].static_least_n == pytest.approx(1025.0 * 9.80665)
    assert full.cases[0].static_least_n == empty.cases[0].static_least_n
    assert full.hook_kg > empty.hook_kg


def test_a_tight_crate_floats_up_on_the_next_wave_and_an_open_floor_lets_it_in() -> None:
    walls = replace(CRATE, volume_m3=0.35, waterplane_m2=0.4)
    ratio = {}
    for opening in (0.0, 0.04, 1.0, 1.6):
        hollows = (Hollow(2.0, 0.6, 0.1, opening),)
        found = simplified(asked(body([walls], mass=(1100.0,), hollows=hollows)), 0.4, 4.0)
        ratio[opening] = next(c for c in found.cases if c.kind == "half in")
    none = simplified(asked(body([walls], mass=(1100.0,))), 0.4, 4.0)
    dry = next(c for c in none.cases if c.kind == "half in")
    swing = np.hypot(0.9 * 0.4, 0.5 * 0.4)
    added = ratio[0.0].buoyancy_n - dry.buoyancy_n
    assert added == pytest.approx(1025.0 * WATER.g_m_s2 * 2.0 * swing)
    assert ratio[0.04].buoyancy_n == pytest.approx(ratio[0.0].buoyancy_n)  # a head far over the swing
    assert dry.buoyancy_n < ratio[1.6].buoyancy_n < ratio[1.0].buoyancy_n < ratio[0.0].buoyancy_n
    just_under = [next(c for c in f.cases if c.kind == "just under") for f in (found, none)]
    assert just_under[0].buoyancy_n == just_under[1].buoyancy_n


def test_the_worse_end_of_the_weight_counts_in_each_check() -> None:
    ends = simplified(asked(body(mass=(1300.0, 1600.0), share=(1.0, 1.0), is_range=True)), 0.15, 4.0)
    light, heavy = (simplified(asked(body(mass=(m,))), 0.15, 4.0) for m in (1300.0, 1600.0))
    for both, low, high in zip(ends.cases, light.cases, heavy.cases, strict=True):
        assert both.slack_ratio == pytest.approx(max(low.slack_ratio, high.slack_ratio))
        assert both.greatest_n == pytest.approx(max(low.greatest_n, high.greatest_n))
        assert both.static_least_n == pytest.approx(low.static_least_n)
    assert light.governing.slack_ratio > heavy.governing.slack_ratio
    assert heavy.cases[0].greatest_n > light.cases[0].greatest_n


def test_draws_are_counted_by_their_weights() -> None:
    rng = np.random.default_rng(2)
    mass = rng.normal(1400.0, 60.0, 4000)
    weights = (mass > 1400.0).astype(float)
    plain = simplified(asked(body(mass=mass)), 0.15, 4.0)
    weighted = simplified(asked(body(mass=mass, weights=weights)), 0.15, 4.0)
    assert weighted.governing.slack_ratio < plain.governing.slack_ratio
    few = body(mass=mass, weights=weights).few(200)
    assert len(few.mass_kg) == 200 and few.mass_kg.min() > 1400.0
    assert np.quantile(few.mass_kg, 0.95) == pytest.approx(np.quantile(mass[mass > 1400], 0.95), rel=2e-3)


def test_a_slack_line_is_an_objection_and_its_snap_goes_to_the_hook() -> None:
    found = simplified(asked(body()), 0.5, 4.0)
    assert 'the line may go slack with "crate" just under' in found.objections
    slack = [c for c in found.cases if c.slack_ratio > 0.9]
    assert all(c.snap_n > c.static_most_n * 2 for c in slack)
    assert found.hook_kg == pytest.approx(max(c.snap_n for c in slack) / WATER.g_m_s2)
    assert any("over the 3,000 kg" in o for o in found.objections)
    assert found.verdict.startswith("objection: ")
    snap = next(c for c in found.checks if c.key == "splash-snap")
    assert snap.demand == pytest.approx(found.hook_kg) and snap.rule.mark == "own calculation"


def test_a_calm_sea_leaves_no_objection_under_the_assumptions_it_prints() -> None:
    found = simplified(asked(body()), 0.05, 4.0)
    assert found.verdict == "no objection found under these assumptions"
    assert found.holds and found.hook_kg < 3000.0
    assert any("grow evenly over its height" in a for a in found.assumptions)
    assert any("0.5 m for each" not in a and "boom head moves" in a for a in found.assumptions)
    assert all(c.rule.source and c.objection is None for c in found.checks)


def test_what_is_not_known_is_an_objection() -> None:
    without_tip = simplified(asked(body(), tip=None), 0.2, 4.0)
    assert without_tip.cases == () and without_tip.hook_kg is None
    assert any("motion of the boom head in this sea is not known" in o for o in without_tip.objections)
    without_line = simplified(asked(body(), line=None), 0.5, 4.0)
    assert any("stiffness of the hoist line is not known" in o for o in without_line.objections)
    assert any("hook load cannot be given" in o for o in without_line.objections)
    assert all(c.snap_n is None for c in without_line.cases)
    without_hook = simplified(asked(body(), hook_kg=None, hoist_m_s=None), 0.1, 4.0)
    assert "not known what the hook bears at this radius" in without_hook.objections
    assert "hoist speed not known: 0.5 m/s taken" in without_hook.assumptions
    assert next(c for c in without_hook.checks if c.key == "splash-hook").capacity is None


def test_periods_run_from_the_shortest_the_height_can_have_to_thirteen_seconds() -> None:
    found = periods_s(0.5, WATER)
    assert found[0] == pytest.approx(8.9 * np.sqrt(0.5 / 9.80665))
    assert found[1:] == tuple(float(t) for t in range(3, 14))
    assert periods_s(0.5, Water(1025.0, 1.3))[0] > found[0]  # the shortest break there
    with pytest.raises(SplashError, match=r"Hs 25 m has no period up to 13 s"):
        periods_s(25.0, WATER)
    with pytest.raises(SplashError, match=r"Hs 3 m is impossible in 2 m of water"):
        periods_s(3.0, Water(1025.0, 2.0))


def test_scanning_says_once_where_the_method_does_not_hold() -> None:
    found = simplified(asked(body()), 0.2)
    assert len(found.periods) == 13 and not found.holds
    against = [o for o in found.objections if "does not hold" in o]
    assert len(against) == 1 and "Tz 1.27, 2 s" in against[0] and "not small against the wave" in against[0]
    assert all(p.holds for p in found.periods[2:])


def test_a_soft_line_and_a_long_body_are_outside_the_method() -> None:
    soft = why_not(body(), Line(2e4), WATER, 4.0, TipStill())
    assert len(soft) == 1 and "bobs on its line in 2.5 s, more than 0.3 of Tz 4 s" in soft[0]
    long = why_not(body(longest_m=6.0), LINE, WATER, 4.0, TipStill())
    assert len(long) == 1 and "more than a fifth of the wave of 25 m" in long[0]
    assert why_not(body(), LINE, WATER, 14.0, TipStill())[0].startswith("Tz 14 s is beyond 13 s")
    assert why_not(body(), LINE, WATER, 5.0, TipStill()) == ()


def test_a_floating_body_has_no_slack_margin_at_all() -> None:
    found = simplified(asked(body(mass=(1000.0,))), 0.05, 4.0)
    under = next(c for c in found.cases if c.kind == "just under")
    assert under.slack_ratio == 1e6 and under.static_least_n < 0.0
    some = simplified(asked(body(mass=np.linspace(1000.0, 1400.0, 41))), 0.05, 4.0)
    assert next(c for c in some.cases if c.kind == "just under").slack_ratio == 1e6


def test_shallow_water_keeps_more_motion_below() -> None:
    deep, shallow = (replace(asked(body()), water=Water(1025.0, d)) for d in (None, 2.5))
    at = [simplified(q, 0.1, 5.0).governing for q in (deep, shallow)]
    assert at[1].drag_n != at[0].drag_n


def test_coefficients_below_the_rule_are_raised_and_higher_ones_kept() -> None:
    low, high = (replace(CRATE, drag_coefficient=c, slam_coefficient=c) for c in (1.0, 6.0))
    assert low.drag_m2 == CRATE.drag_m2 == pytest.approx(2.5 * 2.4)
    assert high.drag_m2 == pytest.approx(6.0 * 2.4) and high.slamming_m2 == pytest.approx(6.0 * 2.4)
    assert replace(CRATE, round_bottom=True).slamming_m2 == pytest.approx(3.0 * 2.4)
    assert replace(CRATE, slam_m2=1.0).slamming_m2 == pytest.approx(5.0)


def test_snap_speed_by_how_fast_it_falls() -> None:
    assert snap_speed_m_s([0.1, 0.45, 0.8, 0.0], [1.0, 1.0, 1.0, 0.0]) == pytest.approx(
        [1.1, 0.45 + np.cos(np.pi * 0.25), 0.8, 0.0]
    )


def test_a_sea_that_cannot_be_is_refused() -> None:
    with pytest.raises(WaveError, match="Tz 3 s is impossible for Hs 2 m"):
        simplified(asked(body()), 2.0, 3.0)


@pytest.mark.parametrize(
    ("make", "expected"),
    [
        (lambda: body([]), "no parts"),
        (lambda: body([replace(CRATE, base_m=0.2)]), "lowest part of the body must start at height 0"),
        (lambda: body(mass=(0.0,)), "mass of the body must be more than 0 kg"),
        (lambda: body(mass=(1.0, 2.0), share=(1.0,)), "same number of draws"),
        (lambda: body(share=(-0.1,)), "share of the volume must be 0 or more"),
        (lambda: body(weights=np.ones(3)), "one number for each draw"),
        (lambda: replace(CRATE, height_m=0.0), 'height of "crate" must be more than 0 m'),
        (lambda: replace(CRATE, volume_m3=-1.0), 'volume of "crate" must be 0 m³ or more'),
        (lambda: Water(0.0), "density of the water"),
        (lambda: asked(body(), hook_kg=0.0), "WLL of the hook"),
        (lambda: asked(body(), hoist_m_s=-1.0), "hoist speed"),
    ],
)
def test_a_body_that_cannot_be_is_refused_in_a_sentence(make, expected: str) -> None:
    with pytest.raises(SplashError, match=expected):
        make()
