"""The plan of a lift in its sea: what sea, vessel and cradle answer stands in checks, list, steps and fingerprint."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from oakum.lift import Weighing, parse_body, weighing_of
from oakum.lift.cradle import CradlePlan, Frame, Member, frame_parts, rectangle, timber_grade
from oakum.lift.raising import PlanContext, RaisingPlan, RigPlan, parse_rig, plan_dict, raising_plan
from oakum.lift.raising.assemble import solved_before
from oakum.lift.raising.at_sea import NO_CRADLE, NO_SEA, ONE_PERIOD, legs_n_m
from oakum.lift.raising.go_no_go import NOT_COVERED
from oakum.lift.raising.helps_sea import helps_at_sea
from oakum.lift.raising.sea_words import limit_at
from oakum.lift.raising.solved import solve
from oakum.lift.vessel import VesselPapers, parse_vessel, vessel_files
from oakum.lift.weights.sums import without_frame

EXAMPLES = Path(__file__).resolve().parents[2] / "docs" / "examples"
STONE = """
title = "Millstone"
water = "1027 kg/m3"
hook_above_top = "2 m"
[[part]]
name = "stone"
shape = "cylinder"
diameter = "90 ± 1 cm"
height = "45 ± 1 cm"
density = "2500 ± 40 kg/m3"
"""
LEG = """
[[leg]]
name = "{name}"
at = {{ x = "{x} m", y = "{y} m", z = "0.45 m" }}
wll = "3 t"
kind = "wire rope"
hitch = "straight"
axial_stiffness = "4 MN"
"""
RIG = (
    """
title = "Millstone on three legs"
cell_unit = "kg"
[rules]
sharing = "bound"
hitches = "EU"
[hook]
place = "over the hanging point"
level = "in air"
height = "1.8 m"
wll = "5 t"
rigging = "25 kg"
"""
    + "".join(
        LEG.format(name=name, x=round(0.4 * math.cos(a), 3), y=round(0.4 * math.sin(a), 3))
        for name, a in (("one", 0.3), ("two", 2.4), ("three", 4.5))
    )
    + """
[seaway]
vessel = "Workboat Tolmarren Girl"
heading = "head"
waters = "sheltered"
hs = "0.20 m"
tz = "4 s"
periods = ["3 s", "4 s", "6 s"]
depth = "14 m"
radius = "4 m"
wind = "5 m/s"
hoist_speed = "0.2 m/s"
line = { axial_stiffness = "12 MN", length = "12 m" }
"""
)


@cache
def papers() -> VesselPapers:
    text = (EXAMPLES / "workboat.toml").read_text()
    return parse_vessel(text, {n: (EXAMPLES / n).read_bytes() for n in vessel_files(text)}, "workboat")


@cache
def cradle() -> CradlePlan:
    wood, beam = timber_grade("C24"), rectangle(0.075, 0.15)
    members = [
        Member(f"runner {i}", "runner", beam, wood, (-0.7, y, -0.15), (0.7, y, -0.15))
        for i, y in enumerate((-0.3, 0.3), 1)
    ]
    members += [
        Member(f"bearer {i}", "bearer", beam, wood, (x, -0.5, 0.0), (x, 0.5, 0.0))
        for i, x in enumerate((-0.3, 0.3), 1)
    ]
    return CradlePlan("two and two", Frame("two and two", tuple(members)), at_m=(0.0, 0.0, -0.075))


@cache
def weighed(framed: bool = False) -> Weighing:
    plan = cradle()
    assert plan.frame is not None
    frame = frame_parts(plan.frame, plan.at_m) if framed else ()
    return weighing_of(
        parse_body(STONE), rng=np.random.default_rng(3), draws=1500, seed=3, frame=frame
    )


@cache
def rig() -> RigPlan:
    return parse_rig(RIG)


def at(**changes: object) -> RigPlan:
    sea = rig().sea
    assert sea is not None
    return replace(rig(), sea=replace(sea, **changes))  # type: ignore[arg-type]


def context(**changes: object) -> PlanContext:
    return replace(PlanContext("2026-07-01", vessel=papers()), **changes)  # type: ignore[arg-type]


@cache
def planned() -> RaisingPlan:
    return raising_plan(weighed(), rig(), context(), with_helps=False)


def line(plan: RaisingPlan, key: str) -> tuple[str, str, str]:
    found = next(one for one in plan.go_no_go if one.key == key)
    return found.answer, found.words, found.why


def test_the_sea_answers_in_the_plan_with_its_checks_and_objections() -> None:
    plan = planned()
    assert plan.seaway is not None and NO_SEA not in plan.objections and NO_CRADLE in plan.objections
    keys = {c.key for c in plan.checks}
    assert {"splash-slack", "splash-hook", "chart", "heel-range"} <= keys
    assert set(plan.seaway.objections) <= set(plan.objections)
    assert set(plan.seaway.assumptions) <= set(plan.assumptions)
    assert set(plan.seaway.cautions) <= set(plan.cautions)


def test_a_calm_sea_meets_its_lines_and_the_limit_is_for_the_deck() -> None:
    plan = planned()
    assert line(plan, "sea")[0] == line(plan, "slack line")[0] == "met"
    assert line(plan, "vessel")[0] == line(plan, "chart")[0] == "met"
    point = limit_at(plan.seaway)
    assert point is not None and point.hs_m is not None and point.skipper_m is not None
    assert point.skipper_m <= 0.7 * point.hs_m
    answer, words, _ = line(plan, "sea on deck")
    assert answer == "on the day"
    assert f"Tz 4 s: Hs {point.skipper_m:.2f} m at most" in words and f"{point.hs_m:.2f} m" in words
    answer, words, _ = line(plan, "book")
    assert answer == "on the day" and "page 14" in words


def test_a_rough_sea_does_not_meet_them() -> None:
    plan = raising_plan(weighed(), at(hs_m=0.9, tz_s=5.0, heading="beam"), context(), with_helps=False)
    answer, words, why = line(plan, "slack line")
    assert answer == "not met" and "Hs 0.9 m, Tz 5 s" in words and "slack" in why
    assert why in plan.objections


def test_a_long_radius_fails_by_the_chart() -> None:
    plan = raising_plan(weighed(), at(radius_m=8.5), context(), with_helps=False)
    answer, _, why = line(plan, "chart")
    assert answer in ("not met", "not known") and why and why in plan.objections


def test_without_a_vessel_its_lines_are_not_known() -> None:
    plan = raising_plan(weighed(), rig(), context(vessel=None), with_helps=False)
    for key in ("vessel", "chart", "book"):
        assert line(plan, key)[0] == "not known"
    assert any("no papers of the vessel" in o for o in plan.objections)
    assert line(plan, "sea on deck")[0] == "not known"  # nobody knows how her boom head moves


def test_without_a_sea_of_the_plan_its_lines_say_so() -> None:
    plan = raising_plan(weighed(), at(hs_m=None), context(), with_helps=False)
    answer, _, why = line(plan, "sea")
    assert answer == "not known" and "Hs missing" in why
    assert line(plan, "sea on deck")[0] == "on the day"  # the limit is known all the same


def test_the_crossing_is_told_the_limit() -> None:
    step = next(s for s in planned().steps if s.key == "through the surface")
    point = limit_at(planned().seaway)
    assert point is not None and f"Tz 4 s: Hs {point.skipper_m:.2f} m at most" in step.watch
    bare = raising_plan(weighed(), replace(rig(), sea=None), context(), with_helps=False)
    step = next(s for s in bare.steps if s.key == "through the surface")
    assert "no limit of wave height is known" in step.watch


def test_the_cradle_is_asked_with_the_find_alone() -> None:
    framed = context(cradle=cradle())
    plan = raising_plan(weighed(True), rig(), framed, with_helps=False)
    assert plan.cradle is not None and plan.cradle.air_n is not None and NO_CRADLE not in plan.objections
    find = without_frame(weighed(True).sums)
    assert plan.cradle.air_n.best == pytest.approx(9.80665 * float(np.median(find.mass_kg)), rel=1e-3)
    objections = [o for o in plan.objections if o.startswith("cradle: ")]
    assert objections == [f"cradle: {o}" for o in plan.cradle.objections] != []
    assert line(plan, "cradle")[0] != "met" and line(plan, "cradle")[2]


def test_the_plan_names_the_hardest_check_of_each_kind_of_the_cradle_and_all_that_object() -> None:
    plan = raising_plan(weighed(True), rig(), context(cradle=cradle()), with_helps=False)
    assert plan.cradle is not None
    mine = [c for c in plan.checks if c.key.startswith("cradle:")]
    free = [c for c in mine if c.objection is None]
    kinds = [c.key.rpartition(":")[2] for c in free]
    assert len(kinds) == len(set(kinds))
    assert len(mine) - len(free) == sum(c.objection is not None for c in plan.cradle.checks)


def test_the_trial_band_has_the_frame_in_it() -> None:
    trial = raising_plan(weighed(True), rig(), context(cradle=cradle()), with_helps=False).trial
    band = weighed(True).report.state("submerged").load_kg
    assert trial is not None and weighed(True).report.frame is not None
    assert trial.low <= band.p5 + 25.0 < trial.low + 10.0 and trial.high - 10.0 < band.p95 + 25.0 <= trial.high


def test_a_changed_vessel_or_cradle_is_another_plan_and_other_words_are_not() -> None:
    mark = planned().fingerprint

    def of(**changes: object) -> str:
        return raising_plan(weighed(), rig(), context(**changes), with_helps=False).fingerprint

    lower = replace(papers(), vessel=replace(papers().vessel, freeboard_m=0.4))
    assert of() == mark == of(vessel=replace(papers(), notes="read in the harbour"))
    assert len({mark, of(vessel=None), of(vessel=lower), of(cradle=cradle())}) == 4
    moved = replace(cradle(), at_m=(0.1, 0.0, -0.075))
    assert of(cradle=moved) != of(cradle=cradle()) == of(cradle=replace(cradle(), notes="oak is dear"))


def test_all_of_it_is_in_the_json_and_no_draws_are() -> None:
    told = json.loads(
        json.dumps(plan_dict(raising_plan(weighed(True), rig(), context(cradle=cradle()), with_helps=False)))
    )
    assert told["seaway"]["curve"]["points"][0]["tz_s"] == 3.0 and told["seaway"]["vessel"]
    assert told["seaway"]["asked"]["radius_m"] == 4.0 and "body" not in told["seaway"]
    assert told["cradle"]["plan"]["title"] == "two and two"
    assert told["weight"]["frame"]["words"]


def test_what_a_control_of_the_sea_does_not_touch_is_taken_over() -> None:
    before = solved_before(weighed(True), rig(), context(cradle=cradle()))
    for changed in (at(hs_m=0.35), at(tz_s=5.0), at(wind_m_s=9.0)):
        quick = raising_plan(weighed(True), changed, context(cradle=cradle()), with_helps=False, before=before)
        anew = raising_plan(weighed(True), changed, context(cradle=cradle()), with_helps=False)
        assert quick.cradle is before.at_sea.cradle and quick.under_water is not None
        assert quick.seaway is not None and anew.seaway is not None
        assert quick.seaway.curve == anew.seaway.curve and quick.objections == anew.objections
        assert [(c.key, c.demand) for c in quick.checks] == [(c.key, c.demand) for c in anew.checks]


def test_a_control_that_moves_the_whole_limit_curve_gives_it_for_the_plans_period() -> None:
    before = solved_before(weighed(), rig(), context())
    for changed in (at(radius_m=5.0), at(heading="beam"), at(depth_m=9.0)):
        quick = raising_plan(weighed(), changed, context(), with_helps=False, before=before)
        anew = raising_plan(weighed(), changed, context(), with_helps=False)
        assert quick.objections == anew.objections and ONE_PERIOD in quick.assumptions
        assert quick.seaway is not None and quick.seaway.curve is not None and quick.seaway.asked == changed.sea
        assert limit_at(quick.seaway) == limit_at(anew.seaway)
        assert [p.tz_s for p in quick.seaway.curve.points] == [4.0]


def test_the_legs_stretch_as_springs_at_their_angles() -> None:
    asked = solved_before(weighed(), rig(), context()).asked
    hung = solve(rig(), asked, elastic_draws=0).hung
    answer = hung.answers["in air"]
    total = sum(
        4e6 / leg.length_m.best * math.sin(math.radians(leg.from_horizontal_deg.best)) ** 2
        for leg in answer.legs
    )
    assert legs_n_m(rig(), hung) == pytest.approx(total)
    unknown = replace(rig(), legs=(replace(rig().legs[0], ea_n=None), *rig().legs[1:]))
    assert legs_n_m(unknown, hung) is None
    assert planned().seaway is not None and planned().seaway.line_n_m is not None  # type: ignore[union-attr]


def test_what_no_number_answers_is_named() -> None:
    said = " ".join(NOT_COVERED)
    assert all(word in said for word in ("Mooring", "Current", "Swing"))
    assert "heel" not in said and "not in this plan yet" not in said


def test_members_that_carry_are_not_bored_and_a_find_in_its_cradle_is_not_turned() -> None:
    before = solved_before(weighed(True), rig(), context(cradle=cradle()))
    refused = [h.refused or "" for h in helps_at_sea(before.at_sea, weighed(True))]
    assert any("what carries is not bored" in why for why in refused)
    assert any("another cradle is needed" in why for why in refused)
