"""The whole answer of a lift in its sea: which fails first, worse values, what is not known, what is refused."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from oakum.lift import CellReading, Weighing, parse_body, weighing_of
from oakum.lift.seaway import (
    HeaveAndRollSeen,
    SeaAsked,
    SeaPart,
    SeawayAnswer,
    SeawayInputs,
    seaway_answer,
    seaway_question,
    slings_n_m,
)
from oakum.lift.splash import TipPerHeight, TipStill, limit_curve
from oakum.lift.vessel import VesselPapers, WindArea, example_vessel, parse_vessel

BODY = """
title = "Crusted block"
water = "1025 kg/m3"
[[part]]
name = "block"
shape = "box"
length = "0.8 m"
width = "0.6 m"
height = "0.5 m"
density = "2200..3400 kg/m3"
"""
SEA = SeaAsked(
    vessel="Tolmarren Girl",
    heading="beam",
    waters="open",
    hs_m=0.2,
    tz_s=4.0,
    periods_s=(3.0, 4.0, 6.0),
    depth_m=14.0,
    radius_m=4.0,
    wind_m_s=6.0,
    hoist_m_s=0.25,
    line_n_m=3e5,
)


@cache
def papers() -> VesselPapers:
    return parse_vessel(*example_vessel())


@cache
def weighed(*readings: CellReading) -> Weighing:
    return weighing_of(parse_body(BODY), rng=np.random.default_rng(3), draws=6000, readings=readings)


def inputs(sea: SeaAsked = SEA, of: Weighing | None = None, **more) -> SeawayInputs:
    of = of or weighed()
    given = {"papers": papers(), "hook_kg": 3000.0, "slings_n_m": 2e6} | more
    return SeawayInputs(of.sums, of.use, of.slack, sea, **given)


@cache
def plain() -> SeawayAnswer:
    return seaway_answer(inputs())


def said(answer: SeawayAnswer) -> str:
    return " | ".join(answer.objections)


def test_a_quiet_sea_has_no_objection_but_the_papers_own() -> None:
    answer = plain()
    assert answer.verdict == "no objection found under these assumptions", answer.objections
    assert answer.splash is not None and answer.splash.holds and answer.splash.hook_kg is not None
    assert [v.state for v in answer.vessel] == ["under water", "in air"]
    assert answer.vessel_title == papers().title and answer.line_n_m == pytest.approx(1 / (1 / 3e5 + 1 / 2e6))
    assert {"splash-slack", "splash-hook", "chart", "wind-heel"} <= {c.key for c in answer.checks}
    assert answer.curve is not None and [p.tz_s for p in answer.curve.points] == [3.0, 4.0, 6.0]
    assert not answer.refused and any(papers().mark in q for q in answer.open_questions)


def test_the_load_on_the_vessel_in_air_is_the_greatest_hook_load_through_the_surface() -> None:
    answer = plain()
    assert answer.splash is not None
    assert answer.vessel[1].load_kg.p95 == pytest.approx(answer.splash.hook_kg, rel=2e-3)
    calm = seaway_answer(inputs(replace(SEA, hs_m=None)))
    assert calm.vessel[1].load_kg.p95 < answer.vessel[1].load_kg.p95
    assert calm.vessel[0].load_kg.p95 == pytest.approx(np.quantile(weighed().sums.submerged_kg, 0.95), rel=0.01)


def test_what_fails_first_is_named_and_the_least_of_hook_chart_and_heel_governs_the_curve() -> None:
    point = next(p for p in plain().curve.points if p.tz_s == 4.0)
    assert point.hs_m is not None and f"Hs {point.hs_m:.2f} m" in plain().first and "Tz 4 s" in plain().first
    weak = seaway_answer(inputs(hook_kg=1000.0))
    at = next(p for p in weak.curve.points if p.tz_s == 4.0)
    assert at.hs_m < point.hs_m and "hook load over what it bears" in at.objection
    assert "the hook fails first" in weak.first and f"the plan has Hs {SEA.hs_m:.2f} m" in weak.first
    lead, sunk = (
        seaway_answer(inputs(of=weighing_of(
            parse_body(BODY.replace("2200..3400", density)), rng=np.random.default_rng(3), draws=2000
        ), hook_kg=9000.0))
        for density in ("6400..6600", "9000..9400")
    )  # fmt: skip
    assert "the load chart fails first, at Hs" in lead.first and "over what the load chart allows" in lead.first
    assert sunk.first.startswith("The vessel fails first, in flat water already: chart")
    assert not seaway_answer(inputs(hook_kg=600.0)).first.startswith("The vessel")


def test_two_readings_that_disagree_give_the_hook_the_greater_and_the_slack_line_the_lesser() -> None:
    low, high = (CellReading(kg, 10.0, f"{kg} kg", 0.0) for kg in (330.0, 520.0))
    both, light, heavy = (seaway_answer(inputs(of=weighed(*r))) for r in ((low, high), (low,), (high,)))

    def at(answer: SeawayAnswer, key: str) -> float:
        return max(c.demand for c in answer.checks if c.key == key)

    assert at(both, "splash-slack") == pytest.approx(at(light, "splash-slack"), rel=0.01)
    assert at(both, "splash-hook") == pytest.approx(at(heavy, "splash-hook"), rel=0.01)
    assert at(both, "chart") == pytest.approx(at(heavy, "chart"), rel=0.02)
    assert at(light, "splash-slack") > 1.1 * at(heavy, "splash-slack")
    assert at(heavy, "splash-hook") > 1.1 * at(light, "splash-hook")
    case = both.splash.cases[0]
    assert case.static_least_n < case.static_most_n
    for point, by_low, by_high in zip(both.curve.points, light.curve.points, heavy.curve.points, strict=True):
        assert point.hs_m == pytest.approx(min(by_low.hs_m, by_high.hs_m), rel=0.02)
    assert any("not settled" in a for a in both.assumptions)
    assert not any("not settled" in a for a in light.assumptions)


def test_an_unknown_motion_of_the_boom_head_is_an_objection_and_there_is_no_curve() -> None:
    for sea, why in (
        (replace(SEA, heading=""), "heading to the waves is not said"),
        (replace(SEA, heading="stern"), 'known for "beam", "head"'),
        (replace(SEA, radius_m=None), "off her centre line"),
    ):
        answer = seaway_answer(inputs(sea))
        assert answer.curve is None and answer.splash is None
        assert why in said(answer) and "motion of the boom head is not known" in said(answer)
        assert answer.first.startswith("Not known which fails first")


def test_everything_that_is_not_known_is_an_objection() -> None:
    answer = seaway_answer(SeawayInputs(weighed().sums, weighed().use, weighed().slack, SeaAsked()))
    for words in ("Hs and Tz missing", "depth of the water", "the vessel is not known", "radius of the boom head"):
        assert words in said(answer), words
    assert answer.vessel == () and answer.radius is None and answer.wind is None and answer.checks == ()
    still = seaway_answer(inputs(replace(SEA, tip=TipStill(), line_n_m=None), papers=None, hook_kg=None))
    assert "what the hook bears" in said(still) and "stiffness of the hoist line" in said(still)
    assert 'no papers of the vessel "Tolmarren Girl"' in said(still)
    assert all(p.why_not and p.skipper_m is None for p in still.curve.points)
    calm = seaway_answer(inputs(replace(SEA, wind_m_s=None, waters=None)))
    assert "wind of the plan is not known" in said(calm)
    assert "wind is not checked" in said(seaway_answer(inputs(papers=replace(papers(), wind=None))))


def test_a_sea_that_cannot_be_is_refused_and_the_vessel_still_answers() -> None:
    answer = seaway_answer(inputs(replace(SEA, hs_m=2.0, tz_s=3.0)))
    assert answer.splash is None and any("impossible" in r for r in answer.refused)
    assert answer.refused[0] in answer.objections and answer.vessel


def test_a_part_opened_beyond_the_table_and_a_radius_beyond_the_boom_are_refused_in_words() -> None:
    opened = seaway_answer(inputs(replace(SEA, parts=(SeaPart("object", open_percent=70.0),))))
    assert opened.body is None and "beyond the table" in said(opened)
    far = seaway_answer(inputs(replace(SEA, radius_m=20.0)))
    assert far.vessel == () and far.refused and "Not known" in far.first


def test_radius_and_wind_are_worded_as_the_point_where_an_objection_appears() -> None:
    radius, wind = plain().radius, plain().wind
    assert radius.value is not None and radius.asked == 4.0 and not radius.is_over
    over = seaway_answer(inputs(replace(SEA, radius_m=radius.value + 0.05)))
    assert over.radius.is_over and any("chart" in o for o in over.objections)
    under = seaway_answer(inputs(replace(SEA, radius_m=radius.value - 0.05)))
    assert not any("chart" in o for o in under.objections)
    for limit in (radius, wind):
        assert "an objection appears at" in limit.words and "the plan has" in limit.words
    windy = seaway_answer(inputs(replace(SEA, wind_m_s=wind.value * 1.01)))
    assert windy.wind.is_over and any("wind" in o and "abeam" in o for o in windy.objections)
    exposed = replace(papers(), wind=WindArea(200.0, 3.0, 1.1))
    assert seaway_answer(inputs(papers=exposed)).wind.value < wind.value


def test_unasked_the_curve_has_six_periods_at_which_the_method_holds_and_the_plans_own() -> None:
    sea = replace(SEA, periods_s=(), tz_s=9.5)
    answer = seaway_answer(inputs(sea))
    periods = [p.tz_s for p in answer.curve.points]
    assert len(periods) == 7 and periods[-1] == 9.5
    assert all(not p.why_not for p in answer.curve.points[:-1])
    seen = HeaveAndRollSeen(0.4, 4.0, 0.15, 4.0, 2.0, 4.5)
    near = seaway_answer(inputs(replace(SEA, periods_s=(), tip=seen)))
    assert [p.tz_s for p in near.curve.points] == [4.0]


def test_seen_motion_takes_its_lever_from_the_papers_or_the_file() -> None:
    seen = HeaveAndRollSeen(0.4, 4.0, 0.15, 4.0, 2.0, 4.5)
    by_papers = seaway_question(inputs(replace(SEA, tip=seen))).tip
    typed = seaway_question(inputs(replace(SEA, tip=replace(seen, lever_m=1.1 + 4.0)))).tip
    assert by_papers is not None and by_papers.amplitudes(0.4, 4.0).motion_m == pytest.approx(
        typed.amplitudes(0.4, 4.0).motion_m
    )
    without = seaway_answer(inputs(replace(SEA, tip=seen), papers=None))
    assert "lever in [seaway.tip]" in said(without)


def test_the_question_for_the_time_domain_has_the_plans_line_water_and_hook() -> None:
    asked = seaway_question(inputs(replace(SEA, tip=TipPerHeight(0.5, 0.6, 0.8), line_damping=0.02)))
    assert asked.hook_kg == 3000.0 and asked.line is not None and asked.line.damping_ratio == 0.02
    assert asked.water.depth_m == 14.0 and asked.water.density_kg_m3 == pytest.approx(1025.0)
    assert len(asked.body.mass_kg) == 6000 and asked.tip == TipPerHeight(0.5, 0.6, 0.8)
    assert limit_curve(asked, [4.0]).points[0].hs_m is not None


def test_legs_are_one_spring_by_the_squares_of_their_angles() -> None:
    assert slings_n_m((1e6, 1e6), (90.0, 90.0)) == pytest.approx(2e6)
    assert slings_n_m((1e6, 1e6), (30.0, 30.0)) == pytest.approx(5e5)
    assert slings_n_m((), ()) is None
