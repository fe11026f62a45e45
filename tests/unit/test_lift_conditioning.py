"""What a load-cell reading does to the draws, and when it is an open question instead."""

from __future__ import annotations

import numpy as np
import pytest

from oakum.lift import Body, CellReading, WeightReport, parse_body, weigh
from oakum.lift.weights.conditioning import condition, pool

GUN = """
title = "Crusted bar"
water = "1027 kg/m3"
hook_above_top = "2 m"
[[part]]
name = "bar"
shape = "cylinder"
diameter = "0.30 m"
height = "2.00 m"
density = "7200 ± 60 kg/m3"
coat = { density = "1900..2900 kg/m3", material = "crust", thickness = "10..40..100 mm", covers = "100 %" }
"""


def weighed(*readings: CellReading, draws: int = 20_000, body: Body | None = None) -> WeightReport:
    return weigh(body or parse_body(GUN), rng=np.random.default_rng(3), draws=draws, readings=readings)


def reading(kg: float, sd: float | None, rigging: float = 0.0) -> CellReading:
    return CellReading(kg, sd, f"{kg:g} kg", rigging)


def test_a_reading_moves_what_hangs_together_with_it() -> None:
    model = weighed()
    before = model.state("submerged").load_kg
    high = before.best + before.sd
    done = weighed(reading(high, 12.0))
    assert done.conditioning is not None and done.conditioning.effective_draws > 500
    assert done.conditioning.after_kg.best == pytest.approx(high, abs=10.0)
    assert not any("reading" in q for q in done.open_questions)
    assert done.state("clear").load_kg.best > model.state("clear").load_kg.best + 30.0
    assert done.state("clear").load_kg.sd < model.state("clear").load_kg.sd
    coats = [next(p for p in r.parts if p.role == "concretion").mass_kg.best for r in (model, done)]
    assert coats[1] > coats[0] + 30.0


def test_rigging_between_cell_and_object_is_taken_off() -> None:
    kg = weighed().state("submerged").load_kg.best
    plain, rigged = weighed(reading(kg, 5.0)), weighed(reading(kg + 20.0, 5.0, 20.0))
    assert plain.state("clear").load_kg.best == pytest.approx(rigged.state("clear").load_kg.best)


def test_a_reading_without_a_spread_is_asked_about_and_not_used() -> None:
    report = weighed(reading(900.0, None))
    assert report.conditioning is None
    assert any("has no standard deviation and was not used" in q for q in report.open_questions)
    assert report.state("clear").load_kg == weighed().state("clear").load_kg


def test_a_reading_above_the_range_is_asked_about_and_the_hook_takes_the_worse() -> None:
    model = weighed()
    kg = model.state("submerged").load_kg.p95 + 600.0
    report = weighed(reading(kg, 5.0))
    assert any("outside the model's own range" in q for q in report.open_questions)
    assert report.state("submerged").load_kg.best == pytest.approx(kg, abs=2.0)
    assert report.state("clear").load_kg.best > model.state("clear").load_kg.p95
    assert report.emergence.best[0] == pytest.approx(kg, abs=2.0)


def test_a_reading_below_the_range_leaves_the_hook_load_and_warns_of_floating() -> None:
    model, report = weighed(), weighed(reading(20.0, 5.0))
    assert report.state("clear").load_kg == model.state("clear").load_kg
    assert any("outside the model's own range" in q for q in report.open_questions)
    assert any("may float or capsize" in o for o in report.objections)


def test_too_few_effective_draws_are_an_open_question() -> None:
    kg = weighed().state("submerged").load_kg.best
    report = weighed(reading(kg, 1.0), draws=2000)
    assert report.conditioning is not None and report.conditioning.effective_draws < 500
    assert any("effective draws, fewer than 500" in q for q in report.open_questions)


def test_readings_that_agree_are_pooled() -> None:
    kg = weighed().state("submerged").load_kg.best
    one = weighed(reading(kg, 10.0 / np.sqrt(2.0)))
    two = weighed(reading(kg - 2.0, 10.0), reading(kg + 2.0, 10.0))
    assert two.conditioning is not None and two.conditioning.reading.sd_kg == pytest.approx(10.0 / np.sqrt(2.0))
    assert two.state("clear").load_kg.best == pytest.approx(one.state("clear").load_kg.best)
    assert not any("differ by" in q for q in two.open_questions)


def test_readings_that_contradict_each_other_leave_the_worse_to_each_check() -> None:
    spread = weighed().state("submerged").load_kg
    low, high = reading(spread.p5, 8.0), reading(spread.p95, 8.0)
    both = weighed(low, high)
    assert any("differ by" in q and "worse" in q for q in both.open_questions)
    assert both.state("clear").load_kg.best == pytest.approx(weighed(high).state("clear").load_kg.best)


def test_pooling_weighs_by_precision() -> None:
    pooled = pool([reading(110.0, 1.0, 10.0), reading(103.0, 2.0)])
    assert pooled.reading_kg == pytest.approx((100.0 * 1.0 + 103.0 * 0.25) / 1.25)
    assert pooled.sd_kg == pytest.approx(1.25**-0.5)


def test_linear_gaussian_case_equals_the_closed_form() -> None:
    """Normal prior and normal reading: precision adds, means weigh by precision (any statistics text)."""
    rng = np.random.default_rng(5)
    prior = rng.normal(1000.0, 50.0, 200_000)
    found = condition(prior, [reading(1060.0, 25.0)], rng).result
    assert found is not None
    precision = 1 / 50.0**2 + 1 / 25.0**2
    mean = (1000.0 / 50.0**2 + 1060.0 / 25.0**2) / precision
    assert found.after_kg.mean == pytest.approx(mean, abs=0.5)
    assert found.after_kg.sd == pytest.approx(precision**-0.5, rel=0.01)


def test_a_reading_that_forgets_the_slings_is_asked_about() -> None:
    text = GUN.replace('height = "2.00 m"', 'height = "2.00 m"\nplace = { z = "0 m" }') + """
[[part]]
name = "slings"
role = "rigging"
shape = "lump"
mass = "20 kg"
material = "steel"
place = { z = "3 m" }
"""
    body = parse_body(text)
    kg = weighed(body=body).state("submerged").load_kg.best
    report = weighed(reading(kg, 10.0), body=body)
    assert any("names no gear between cell and body" in q for q in report.open_questions)
    named = weighed(reading(kg, 10.0, 17.4), body=body)
    assert not any("names no gear" in q for q in named.open_questions)
