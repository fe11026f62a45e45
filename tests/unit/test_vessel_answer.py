"""The whole answer of a vessel under a load: what is checked, what is not known, what is refused."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from oakum.lift.vessel import (
    Aboard,
    Boom,
    Derating,
    Derrick,
    FreeSurface,
    Head,
    HungLoad,
    LoadChart,
    RightingCurve,
    RollTest,
    StabilityBook,
    Vessel,
    VesselError,
    VesselLift,
    chart_load_kg,
    criteria_for,
    derrick_forces,
    first_roll_rad,
    greatest_radius_m,
    greatest_wind_m_s,
    heel_rad,
    roll_test_gm_m,
    tip_height_m,
    vessel_answer,
    vessel_classes,
)

BOOK = StabilityBook(
    "Stability book of the boat (invented)", "p. 14", "half fuel, lifting", heel_limit_deg=10.0
)
BOAT = Vessel(
    name="boat",
    displacement_kg=45_000.0,
    kg_m=1.55,
    km_m=2.35,
    beam_m=5.0,
    freeboard_m=0.85,
    draught_m=1.4,
    waterplane_m2=52.0,
    water_kg_m3=1025.0,
    book=BOOK,
    vessel_class="small commercial vessel",
    free_surfaces=(),
    aboard=(),
    bm_m=1.9,
    gm_long_m=14.0,
    corner_m=6.0,
    floods_at_deg=25.0,
)
CHART = LoadChart(
    "crane", (2.0, 4.0, 6.0), (3000.0, 1500.0, 900.0), holds_in="open", list_limit_deg=10.0, page="p. 3"
)
HEAD = Head(y_m=4.0, height_m=6.0, x_m=0.0, foot_y_m=0.5, foot_height_m=2.2)


def lift(kg: float = 700.0, **changes: object) -> VesselLift:
    """A lift of some kilograms, give or take 3 %."""
    load = np.random.default_rng(3).normal(kg, 0.03 * kg, 2000)
    asked = VesselLift(BOAT, HEAD, HungLoad("in air", load), CHART, "open")
    return replace(asked, **changes)  # type: ignore[arg-type]


def said(answer: object, part: str) -> bool:
    return any(part in text for text in answer.objections)  # type: ignore[attr-defined]


def test_a_small_load_on_a_known_vessel_brings_no_objection() -> None:
    found = vessel_answer(lift())
    assert found.objections == ()
    assert found.verdict == "no objection found under these assumptions"
    assert found.heel_deg is not None and found.freeboard_m is not None and found.radius_m is not None
    assert 3.0 < found.heel_deg.best < 6.0
    assert found.heel_limit_deg == 7.0
    assert found.upright_m == 3.5 and found.radius_m.best > 3.5
    assert found.wall_sided_deg is not None and found.wall_sided_deg.best < found.heel_deg.best
    assert found.book_page == "Stability book of the boat (invented), p. 14"
    assert {"chart", "chart-list", "heel-range", "lost-load", "uk-heel", "uk-freeboard", "book-heel"} == {
        c.key for c in found.checks
    }
    used = [c.utilisation for c in found.checks]
    assert used == sorted(used, reverse=True) and found.governing is found.checks[0]


def test_the_95th_percentile_of_the_load_is_checked() -> None:
    found = vessel_answer(lift())
    chart = next(c for c in found.checks if c.key == "chart")
    assert chart.demand == pytest.approx(found.load_kg.p95)
    assert chart.capacity is not None and found.radius_m is not None
    assert chart.capacity == pytest.approx(float(CHART.capacity_kg(found.radius_m.p95)))


def test_too_much_heel_too_little_freeboard_and_the_chart_object_together() -> None:
    found = vessel_answer(lift(1500.0))
    assert said(found, "heel with the load at most 7 degrees")
    assert said(found, 'chart "crane"') and said(found, "holds up to a list")
    assert said(found, "beyond the range of the formula")
    assert found.heel_load_kg is not None and found.heel_load_kg < 1100.0


def test_everything_that_is_not_known_is_an_objection() -> None:
    blank = replace(
        BOAT, beam_m=None, freeboard_m=None, draught_m=None, waterplane_m2=None, book=None, vessel_class=None,
        free_surfaces=None, aboard=None, bm_m=None, gm_long_m=None, corner_m=None, floods_at_deg=None,
    )  # fmt: skip
    found = vessel_answer(lift(vessel=blank, chart=None, waters=None))
    for part in (
        "stability book is not quoted",
        "free surface",
        "who and what is aboard",
        "deck edge or bilge",
        "at which heel water comes in",
        "no load chart",
        "class of vessel is not said",
    ):
        assert said(found, part), part
    assert found.heel_deg is not None and found.freeboard_m is None
    nothing = vessel_answer(lift(vessel=replace(blank, displacement_kg=None, kg_m=None), chart=None))
    assert nothing.heel_deg is None and said(nothing, "not known: displacement, KG")
    assert vessel_answer(lift(vessel=replace(BOAT, freeboard_m=None))).freeboard_m is None


def test_an_unknown_that_a_criterion_needs_is_named() -> None:
    found = vessel_answer(lift(head=replace(HEAD, x_m=3.0), vessel=replace(BOAT, gm_long_m=None)))
    assert said(found, "cannot be checked: at least 250 mm freeboard") and said(found, "GM along")
    ship = vessel_answer(lift(vessel=replace(BOAT, vessel_class="cargo ship")))
    assert said(ship, "righting curve for this condition is not given")
    curve = RightingCurve((0.0, 10.0, 20.0, 30.0, 40.0, 50.0), (0.0, 0.13, 0.28, 0.42, 0.45, 0.4), "p. 15")
    given = vessel_answer(
        lift(vessel=replace(BOAT, vessel_class="cargo ship", book=replace(BOOK, curve=curve)))
    )
    assert not said(given, "righting curve") and "imo-area-40" in {c.key for c in given.checks}


def test_trim_takes_freeboard_at_the_corner() -> None:
    amidships, aft = vessel_answer(lift()), vessel_answer(lift(head=replace(HEAD, x_m=-5.0)))
    assert amidships.freeboard_m is not None and aft.freeboard_m is not None
    lower = 6.0 * 700.0 * 5.0 / (45_700.0 * 14.0)
    assert amidships.freeboard_m.best - aft.freeboard_m.best == pytest.approx(lower, rel=0.01)


def test_sinkage_and_heel_take_freeboard() -> None:
    found = vessel_answer(lift())
    assert found.heel_deg is not None and found.freeboard_m is not None
    by_hand = 0.85 - 700.0 / (1025.0 * 52.0) - 2.5 * math.tan(math.radians(found.heel_deg.best))
    assert found.freeboard_m.best == pytest.approx(by_hand, abs=2e-3)


def test_people_at_the_rail_and_a_half_full_tank_make_it_worse() -> None:
    plain = vessel_answer(lift())
    people = vessel_answer(lift(vessel=replace(BOAT, aboard=(Aboard("six at the rail", 480.0, 2.5, 2.2),))))
    tank = vessel_answer(lift(vessel=replace(BOAT, free_surfaces=(FreeSurface("hold", 4.0, 3.0, 1025.0),))))
    assert plain.heel_deg and people.heel_deg and tank.heel_deg and plain.gm_m and tank.gm_m
    assert people.heel_deg.best > plain.heel_deg.best + 0.5
    assert tank.heel_deg.best > plain.heel_deg.best + 1.0
    virtual = 1025.0 * 4.0 * 27.0 / 12.0 / 45_700.0
    assert plain.gm_m.best - tank.gm_m.best == pytest.approx(virtual, rel=1e-3)


def test_a_counterweight_on_the_other_side_makes_the_lost_load_worse() -> None:
    weight = Aboard("ballast to the other side", 800.0, 1.5, -2.0)
    plain, trimmed = vessel_answer(lift()), vessel_answer(lift(vessel=replace(BOAT, aboard=(weight,))))
    assert plain.heel_deg and plain.first_roll_deg and trimmed.heel_deg and trimmed.first_roll_deg
    assert plain.first_roll_deg.best == pytest.approx(plain.heel_deg.best, rel=1e-6)
    assert trimmed.heel_deg.best < plain.heel_deg.best
    assert trimmed.first_roll_deg.best > plain.first_roll_deg.best
    wet = vessel_answer(lift(vessel=replace(BOAT, floods_at_deg=3.0)))
    assert said(wet, "water comes in at 3°")


def test_gm_not_above_nothing_is_an_objection_and_gives_no_heel() -> None:
    tender = vessel_answer(lift(vessel=replace(BOAT, kg_m=2.32)))
    assert tender.heel_deg is None and tender.gm_m is not None
    assert said(tender, "GM with the load is not above 0 in")
    with pytest.raises(VesselError, match="does not come back upright"):
        heel_rad(1000.0, 45_000.0, -0.05)
    with pytest.raises(VesselError, match="GM without the load"):
        first_roll_rad(0.1, 0.0)


def test_a_radius_outside_the_chart_is_an_objection_with_its_ends() -> None:
    far = vessel_answer(lift(head=replace(HEAD, y_m=6.4)))
    assert said(far, "is outside the chart") and said(far, "(2 to 6 m)")
    assert next(c for c in far.checks if c.key == "chart").capacity is None
    near = vessel_answer(lift(head=replace(HEAD, y_m=2.0)))
    assert said(near, "is outside the chart")


def test_the_heel_takes_a_load_over_the_edge_of_the_chart() -> None:
    short = LoadChart(
        "short", (2.0, 3.7), (3000.0, 1500.0), holds_in="open", list_limit_deg=10.0, page="p. 3"
    )
    found = vessel_answer(lift(chart=short))
    assert found.upright_m == 3.5 and said(found, "is outside the chart")


def test_waters_and_derating() -> None:
    harbour = replace(CHART, holds_in="sheltered")
    assert said(vessel_answer(lift(chart=harbour)), "its derating for a seaway is not known")
    assert said(vessel_answer(lift(chart=replace(CHART, holds_in=None))), "sheltered or in open water")
    assert said(vessel_answer(lift(chart=harbour, waters=None)), "not said in which water")
    derated = vessel_answer(lift(chart=replace(harbour, derating=Derating(0.5, "p. 4"))))
    full = vessel_answer(lift())
    assert derated.chart_kg is not None and full.chart_kg is not None
    assert derated.chart_kg == pytest.approx(0.5 * full.chart_kg)
    assert not said(derated, "seaway")


def test_a_load_that_only_the_straight_line_allows_is_told() -> None:
    found = vessel_answer(
        lift(chart=replace(CHART, radius_m=(3.4, 4.4, 6.0), load_kg=(1100.0, 600.0, 500.0)))
    )
    assert any("only the straight line" in text for text in found.advice)


def test_the_derrick_is_checked_where_there_is_one() -> None:
    boom = Derrick("derrick", 6.0, 5.0, 2, 900.0, None)
    found = vessel_answer(lift(derrick=boom))
    assert said(found, "thrust in the boom") and "topping-lift" in {c.key for c in found.checks}
    assert said(
        vessel_answer(lift(derrick=replace(boom, runner_parts=None))), "hauling part runs down the boom"
    )
    upright = derrick_forces(boom, 3.5, 700.0)
    topping = next(c for c in found.checks if c.key == "topping-lift")
    assert topping.demand > 1.03 * float(upright.topping)  # 95th percentile and heel
    with pytest.raises(VesselError, match="its radius must be more"):
        derrick_forces(boom, 0.0, 100.0)
    with pytest.raises(VesselError, match="a boom 6 m long reaches less"):
        tip_height_m(6.0, 6.5)
    with pytest.raises(VesselError, match="mast head must be above"):
        derrick_forces(replace(boom, mast_m=0.0), 3.0, 100.0)


def test_weights_of_the_draws_count() -> None:
    load = np.array([500.0] * 50 + [1500.0] * 50)
    weights = np.array([1.0] * 50 + [0.0] * 50)
    found = vessel_answer(lift(load=HungLoad("in air", load, weights)))
    assert found.load_kg.p95 == 500.0 and not said(found, "heel with the load")


def test_numbers_that_cannot_be_are_refused() -> None:
    for change, part in (
        ({"beam_m": -5.0}, "its beam must be above 0"),
        ({"freeboard_m": -0.1}, "deck under water"),
        ({"aboard": (Aboard("x", 0.0, 1.0, 1.0),)}, "needs a mass above 0"),
        ({"free_surfaces": (FreeSurface("x", 1.0, 0.0, 1000.0),)}, "length, breadth and density"),
        ({"vessel_class": "canoe"}, 'no criteria for the class "canoe"'),
    ):
        with pytest.raises(VesselError, match=part):
            vessel_answer(lift(vessel=replace(BOAT, **change)))  # type: ignore[arg-type]
    with pytest.raises(VesselError, match="to the side of the lift"):
        vessel_answer(lift(head=replace(HEAD, y_m=-1.0)))
    with pytest.raises(VesselError, match="row of draws"):
        vessel_answer(lift(load=HungLoad("in air", np.array([-1.0]))))


def test_every_class_has_criteria_and_an_answer() -> None:
    for name in vessel_classes():
        fishing = replace(BOAT, vessel_class=name, depth_m=2.4, superstructure_m=3.0, length_m=14.0)
        found = vessel_answer(lift(vessel=fishing))
        assert criteria_for(name) and found.checks
    unknown = vessel_answer(
        lift(vessel=replace(BOAT, vessel_class="decked fishing vessel under 30 m", depth_m=2.4))
    )
    assert said(unknown, "length and length of the superstructures")


def test_gm_from_a_rolling_test_has_the_spread_of_its_factor() -> None:
    test = RollTest(5.0, ((10, 45.2), (10, 44.6), (10, 45.6)), "liquids 10 %")
    gm = roll_test_gm_m(test, 20_000, np.random.default_rng(1))
    assert float(np.median(gm)) == pytest.approx((0.75 * 5.0 / 4.513) ** 2, rel=0.01)
    assert float(gm.std() / gm.mean()) == pytest.approx(2.0 * 0.05 / math.sqrt(3.0) / 0.75, rel=0.05)
    found = vessel_answer(
        lift(vessel=replace(BOAT, kg_m=2.35 - roll_test_gm_m(test, 2000, np.random.default_rng(2))))
    )
    assert found.gm_before_m is not None and not found.gm_before_m.is_exact
    for bad, part in (
        (replace(test, runs=test.runs[:2]), "time at least 3"),
        (replace(test, loading="full"), "not a state of loading"),
        (replace(test, runs=((10, 0.0), (1, 4.0), (1, 4.0))), "seconds above 0"),
    ):
        with pytest.raises(VesselError, match=part):
            roll_test_gm_m(bad, 10, np.random.default_rng(1))


def test_greatest_radius_and_wind_are_where_the_first_limit_is_reached() -> None:
    boom = Boom(45_000.0, 1.55, 2.35, 0.0, 0.5, 2.2, 6.0)
    furthest = greatest_radius_m(boom, CHART, 1.0, 900.0, 7.0, 2.0)
    assert furthest is not None and math.degrees(boom.heel_rad(900.0, furthest)) == pytest.approx(
        7.0, rel=1e-6
    )
    assert greatest_radius_m(boom, CHART, 1.0, 50.0, 45.0, 2.0) is not None  # the end of the chart itself
    assert chart_load_kg(boom, CHART, 1.0, 1.0) == 0.0
    wind = greatest_wind_m_s(7.0, 46_000.0, 0.68, 700.0 * 4.0, 30.0, 2.5, 1.2)
    pressed = 0.5 * 1.25 * 1.2 * 30.0 * wind**2 * 2.5 / 9.80665 + 2800.0
    assert math.degrees(math.atan(pressed / (46_000.0 * 0.68))) == pytest.approx(7.0)
    with pytest.raises(VesselError, match="no wind heel"):
        greatest_wind_m_s(7.0, 46_000.0, 0.0, 0.0, 30.0, 2.5, 1.2)


def test_a_righting_curve_is_refused_where_it_cannot_be_and_silent_beyond_its_end() -> None:
    with pytest.raises(VesselError, match="begin at 0"):
        RightingCurve((5.0, 10.0, 20.0), (0.0, 0.1, 0.2), "p. 1")
    with pytest.raises(VesselError, match="at least three heels"):
        RightingCurve((0.0, 10.0), (0.0, 0.1), "p. 1")
    short = RightingCurve((0.0, 10.0, 20.0), (0.0, 0.1, 0.2), "p. 1")
    assert short.at(25.0) is None and short.area_m_rad(0.0, 30.0) is None
    assert short.area_m_rad(0.0, 20.0) == pytest.approx(0.1 * math.radians(20.0))
