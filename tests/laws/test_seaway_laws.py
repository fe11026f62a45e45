"""What a body in the splash zone obeys, whatever it is: it weighs what the weighing says, draw by draw."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from oakum.lift import Weighing, load_at, parse_body, starting_bodies, weighing_of
from oakum.lift.seaway import SeaAsked, SeawayInputs, seaway_answer, splash_body, splash_shape
from oakum.lift.splash import Hoist, Line, RegularSea, Run, SplashModel, TipPerHeight, TipStill, Water, traced
from oakum.lift.weights.conditioning import Use

brief = settings(max_examples=25, deadline=None)

CHEST = """
title = "Open chest"
water = "1020..1030 kg/m3"
[[part]]
name = "chest"
shape = "box"
length = "{length} ± 0.01 m"
width = "0.7 m"
height = "{height} m"
density = "{density} ± 100 kg/m3"
place = {{ z = "0.1 m" }}
[[part]]
name = "inside"
hole = true
in = "chest"
shape = "box"
length = "0.5 m"
width = "0.5 m"
height = "0.3 m"
place = {{ z = "0.15 m" }}
filled = "water"
held = "{held}"
"""


@cache
def chest(length: float, height: float, density: float, held: str, draws: int = 300) -> Weighing:
    text = CHEST.format(length=length, height=height, density=density, held=held)
    return weighing_of(parse_body(text), rng=np.random.default_rng(7), draws=draws)


@cache
def start(key: str) -> Weighing:
    return weighing_of(parse_body(starting_bodies()[key].toml), rng=np.random.default_rng(1), draws=500)


def weighs_as_weighed(found: Weighing, use: Use) -> None:
    shape = splash_shape(found.sums)
    body = splash_body(found.sums, use, shape)
    extra = 0.0 if use.extra_kg is None else use.extra_kg
    displaced = shape.water_kg_m3 * body.volume_m3 * body.volume_share
    held = shape.water_kg_m3 * sum(h.plan_m2 * h.height_m for h in body.hollows)
    scale = float(np.max(found.sums.mass_kg))
    np.testing.assert_allclose(body.mass_kg - displaced, found.sums.submerged_kg + extra, atol=1e-6 * scale)
    np.testing.assert_allclose(body.mass_kg + held, found.emergence.clear_kg + extra, atol=1e-6 * scale)
    slack = splash_body(found.sums, use, shape, slack=True)
    displaced = shape.water_kg_m3 * slack.volume_m3 * slack.volume_share
    np.testing.assert_allclose(slack.mass_kg - displaced, found.sums.submerged_kg + extra, atol=1e-6 * scale)
    np.testing.assert_allclose(slack.mass_kg, found.sums.mass_kg + extra, atol=1e-6 * scale)


@brief
@given(
    st.floats(0.6, 2.0), st.floats(0.5, 0.9), st.floats(1300.0, 4000.0),
    st.sampled_from(["yes", "no", "40..80 %"]), st.floats(0.0, 60.0),
)  # fmt: skip
def test_far_below_and_just_clear_it_weighs_what_the_weighing_says(length, height, density, held, extra) -> None:
    found = chest(round(length, 3), round(height, 3), round(density, 1), held)
    weighs_as_weighed(found, Use(None, np.linspace(0.0, extra, 300)))


@pytest.mark.parametrize("key", sorted(starting_bodies()))
def test_every_starting_body_weighs_what_the_weighing_says(key) -> None:
    weighs_as_weighed(start(key), start(key).use)


@pytest.mark.parametrize("key", sorted(starting_bodies()))
def test_its_volume_grows_with_the_surface_to_the_whole_and_its_parts_lie_within_its_height(key) -> None:
    shape = splash_shape(start(key).sums)
    assert np.all(np.diff(shape.rising_m3) >= 0.0) and shape.rising_m3[0] == pytest.approx(0.0, abs=1e-9)
    assert shape.rising_m3[-1] == pytest.approx(sum(p.volume_m3 for p in shape.parts))
    assert min(p.base_m for p in shape.parts) == 0.0
    for part in shape.parts:
        assert 0.0 < part.waterplane_m2 <= part.plan_m2 * (1 + 1e-9)
        assert part.volume_m3 <= part.plan_m2 * part.height_m * (1 + 1e-6) and part.added_m3 > 0.0


@pytest.mark.parametrize("key", ["cask", "gun", "rudder"])
def test_the_static_pull_follows_the_emergence_curve_whatever_the_shape(key) -> None:
    found = start(key)
    body = splash_body(found.sums, found.use, splash_shape(found.sums))
    water = float(np.median(found.sums.drawn.full(found.sums.drawn.water_kg_m3)))
    model = SplashModel.of(body, Line(3e5), Water(water))
    scale = float(np.median(found.sums.volume_m3)) * 1025.0
    for level in np.linspace(-1.0, 0.0, 11) * found.emergence.height_m:
        pull = np.median(model.static_n(level, model.mass_kg, model.volume_share)) + model.held_over_n(level)
        assert pull / model.g_m_s2 == pytest.approx(load_at(found, level).best_kg, abs=0.02 * scale)


def test_hoisted_ever_more_slowly_the_line_follows_the_emergence_curve_of_the_weighing() -> None:
    found = chest(1.2, 0.6, 1500.0, "yes", 40)
    shape = splash_shape(found.sums)
    body = splash_body(found.sums, found.use, shape)
    model = SplashModel.of(replace(body, mass_kg=body.mass_kg[:1], volume_share=body.volume_share[:1]),
                           Line(1.2e5, 0.2), Water(shape.water_kg_m3))  # fmt: skip
    worst = []
    for speed in (0.2, 0.05, 0.02):
        run = Run(model, RegularSea(0.0, 4.0), TipStill(), Hoist(speed, -0.8, 0.2))
        trace = traced(run, 1, np.random.SeedSequence(1))
        counted = trace.time_s > run.fade_s
        level, pull = trace.height_m[counted, 0][::40], trace.line_n[counted, 0][::40]
        static = found.emergence.loads_kg(found.emergence.shares(level), slice(0, 1))[0] * model.g_m_s2
        worst.append(float(np.max(np.abs(pull - static))))
    assert worst[0] > worst[1] > worst[2]
    assert worst[2] < 0.015 * float(found.emergence.clear_kg[0]) * model.g_m_s2


@settings(max_examples=6, deadline=None)
@given(st.floats(1500.0, 3000.0), st.floats(1.05, 1.6))
def test_a_heavier_body_of_one_shape_has_its_slack_line_later(density, times) -> None:
    limits = []
    for each in (density, density * times):
        found = chest(1.0, 0.6, round(each, 1), "no")
        sea = SeaAsked(tz_s=4.0, periods_s=(4.0,), depth_m=14.0, hoist_m_s=0.25, line_n_m=3e5,
                       tip=TipPerHeight(0.5, 0.6, 0.8))  # fmt: skip
        answer = seaway_answer(SeawayInputs(found.sums, found.use, found.slack, sea, hook_kg=1e6))
        assert answer.curve is not None
        limits.append(answer.curve.points[0].hs_m or np.inf)
    assert limits[0] <= limits[1] * (1 + 1e-6)
