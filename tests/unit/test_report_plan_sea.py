"""Sea, vessel and cradle on the sheets of a plan: every figure, and only the two verdicts."""

from __future__ import annotations

import datetime
import io
import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from rich.console import Console

from oakum.lift import parse_body, starting_bodies, weighing_of
from oakum.lift.cradle import parse_cradle
from oakum.lift.raising import PlanContext, RaisingPlan, example_rig, parse_rig, raising_plan
from oakum.lift.seaway import Limit, SeaAsked, SeawayAnswer
from oakum.lift.splash import LimitCurve, LimitPoint
from oakum.lift.vessel import parse_vessel, vessel_files
from oakum.report import deck_sheet_pdf, plan_cradle, plan_file_pdf, render_plan
from oakum.report import plan_sea as say
from oakum.report.deck_back import back_data, begin_words

DAY = datetime.date(2026, 5, 20)
EXAMPLES = Path(__file__).resolve().parents[2] / "docs" / "examples"
SEA = """
[seaway]
vessel = "Workboat Tolmarren Girl"
heading = "beam"
waters = "sheltered"
hs = "0.3 m"
tz = "5 s"
periods = ["3 s", "4 s", "6 s"]
depth = "14 m"
radius = "3.2 m"
wind = "6 m/s"
hoist_speed = "0.15 m/s"
line = { axial_stiffness = "3 MN", length = "15 m" }
"""


@cache
def at_sea() -> RaisingPlan:
    """Return the capstan's plan with its cradle, from the example vessel."""
    weighed = weighing_of(
        parse_body(starting_bodies()["capstan"].toml, name="capstan"), rng=np.random.default_rng(7), draws=1000, seed=7
    )
    text = re.sub(r"(?ms)^\[seaway.*?(?=^\[(?!seaway|\[seaway)|\Z)", "", example_rig())
    vessel = (EXAMPLES / "workboat.toml").read_text(encoding="utf-8")
    files = {name: (EXAMPLES / name).read_bytes() for name in vessel_files(vessel)}
    cradle = (EXAMPLES / "capstan_cradle.toml").read_text(encoding="utf-8")
    context = PlanContext(on="2026-05-20", vessel=parse_vessel(vessel, files), cradle=parse_cradle(cradle))
    return raising_plan(weighed, parse_rig(text + SEA, name="capstan"), context, with_helps=False)


def words(pdf: bytes) -> str:
    pages = [page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(pdf)]
    return re.sub(r"\s+", " ", " ".join(pages))


def a_sea(*points: LimitPoint, tz_s: float | None = 5.0) -> SeawayAnswer:
    plan = at_sea().seaway
    assert plan is not None
    return replace(plan, curve=LimitCurve(points, ()), asked=replace(plan.asked, tz_s=tz_s))


HIGH = LimitPoint(4.0, 0.6, "the line may go slack", 0.4, 1.9, ())
LOW = LimitPoint(6.0, 0.4, "hook load over what it bears", 0.25, 3.9, ())
LOST = LimitPoint(6.0, None, None, None, 3.9, ("the body is not small against the wave",))


def test_between_two_periods_the_lower_value_is_told() -> None:
    assert say.nearest_limit(a_sea(HIGH, LOW)) is LOW
    assert "by its lower neighbour Tz 6 s, begin in Hs 0.25 m at most" in say.skipper_lead(a_sea(HIGH, LOW))


def test_beside_a_period_at_which_the_method_does_not_hold_no_height_is_told() -> None:
    assert say.nearest_limit(a_sea(HIGH, LOST)) is LOST
    assert say.skipper_lead(a_sea(HIGH, LOST)).endswith("no height is given: the method does not hold.")


@pytest.mark.parametrize("tz_s", [3.0, 7.0, None])
def test_outside_the_solved_periods_no_height_is_told(tz_s: float | None) -> None:
    assert say.nearest_limit(a_sea(HIGH, LOW, tz_s=tz_s)) is None
    assert "No height is given to the skipper" in say.skipper_lead(a_sea(HIGH, LOW, tz_s=tz_s))


def test_a_limit_on_a_sheet_is_rounded_down() -> None:
    limit = Limit("radius", "m", 3.337, "over the chart", 3.2)
    assert say.limit_pair(limit) == ("3.2 m", "3.33 m")
    assert say.limit_pair(None) == ("not known", "not known")


def test_values_in_large_type_are_heights_none_or_that_no_objection_was_found() -> None:
    assert begin_words(HIGH) == "0.40 m"
    assert begin_words(LOST) == "none"
    assert begin_words(replace(HIGH, skipper_m=0.0)) == "none"
    assert begin_words(replace(HIGH, hs_m=None, skipper_m=None)) == "no objection"


def test_what_nobody_said_of_the_sea_is_not_known() -> None:
    facts = dict(say.sea_facts(SeaAsked()))
    assert facts["Sea of this plan"] == "Hs not known, Tz not known"
    assert {value for name, value in facts.items() if name != "Sea of this plan"} == {"not known"}


def test_the_stability_book_is_quoted_by_its_page_and_its_absence_objected_to() -> None:
    sea = at_sea().seaway
    assert sea is not None
    assert "page 14, condition \u201c3, lifting over the side, tanks half\u201d" in say.book_words(sea)
    none = replace(sea, vessel=tuple(replace(v, book_page=None) for v in sea.vessel))
    assert "no page of it is quoted, and that is an objection" in say.book_words(none)


def test_each_objection_stands_once_with_the_crossing_or_with_the_vessel() -> None:
    sea = at_sea().seaway
    assert sea is not None
    crossing, vessel = say.sea_said(sea, "objections"), say.vessel_said(sea, "objections")
    assert not set(crossing) & set(vessel)
    assert set(crossing) | set(vessel) == set(sea.objections)


def test_the_cradle_is_told_state_by_state() -> None:
    report = at_sea().cradle
    assert report is not None and report.frame is not None
    rows = plan_cradle.state_rows(report, "kg")
    assert [line[0] for line in rows.lines] == ["in the water", "clear of the water", "on deck", "on the lorry"]
    stands = plan_cradle.stand_rows(report, "kg").lines
    assert len(stands) == sum(len(state.stands) for state in report.frame.states)
    assert any("thinner at depth" in line for line in plan_cradle.touch_lines(report, "kg"))


def test_the_file_has_sea_vessel_and_cradle_with_their_drawings_and_cautions() -> None:
    plan = at_sea()
    assert plan.seaway is not None and plan.cradle is not None
    text = words(plan_file_pdf(plan, date=DAY, names={}))
    for title in (
        "Through the surface",
        "Where an objection appears",
        "Load cases from below up",
        "Vessel: Workboat Tolmarren Girl",
        "In section, the load in air",
        "Load chart",
        "Cradle: Timber cradle for the capstan",
        "The frame, state by state",
        "What holds the frame up",
    ):
        assert title in text, title
    for caution in (*plan.seaway.cautions, *plan.cradle.cautions):
        assert " ".join(caution.split()) in text
    for objection in plan.objections:
        assert objection in text
    assert "no objection" in text.lower() and " is safe" not in text.lower()


def test_a_file_without_sea_and_cradle_says_so() -> None:
    text = words(plan_file_pdf(replace(at_sea(), seaway=None, cradle=None), date=DAY, names={}))
    assert "The sea of this lift is not described" in text
    assert "No cradle is described" in text


def test_the_deck_sheet_has_a_back_for_the_skipper_only_where_there_is_a_sea() -> None:
    plan = at_sea()
    assert plan.seaway is not None and plan.seaway.curve is not None
    pdf = pypdfium2.PdfDocument(deck_sheet_pdf(plan, date=DAY))
    assert len(pdf) == 2
    back = re.sub(r"\s+", " ", pdf[1].get_textpage().get_text_bounded())
    for point in plan.seaway.curve.points:
        assert f"Tz {point.tz_s:g} s {begin_words(point)}" in back
    assert "Sudden loss of the load" in back and "Nobody between load, rail and boom" in back
    assert "not leave to go" in back and "page 14" in back
    data = back_data(plan)
    assert data is not None
    assert [fact[0] for fact in data["facts"]] == ["Hs at Tz 5 s", "radius", "wind abeam", "heel, load in air"]
    assert len(pypdfium2.PdfDocument(deck_sheet_pdf(replace(plan, seaway=None), date=DAY))) == 1


def test_the_front_of_the_deck_sheet_gives_the_load_through_the_surface() -> None:
    plan = at_sea()
    crossing = say.crossing_range(plan)
    assert crossing is not None
    front = pypdfium2.PdfDocument(deck_sheet_pdf(plan, date=DAY))[0].get_textpage().get_text_bounded()
    assert f"Through the surface, {crossing[0]}: {crossing[1]}" in re.sub(r"\s+", " ", front)


def test_the_terminal_says_the_same_of_sea_vessel_and_cradle() -> None:
    plan = at_sea()
    assert plan.seaway is not None and plan.cradle is not None
    console = Console(file=io.StringIO(), width=80, color_system=None)
    render_plan(plan, console, names={})
    assert isinstance(console.file, io.StringIO)
    said = " ".join(console.file.getvalue().split())
    assert " ".join(say.skipper_lead(plan.seaway).split()) in said
    assert say.book_words(plan.seaway) in said
    assert plan_cradle.cradle_lead(plan.cradle) in said
    assert "freeboard at the low corner" in said and "on the lorry" in said


def test_the_file_says_what_many_seas_gave_or_that_none_were_run_through() -> None:
    assert "Not run through many seas" in words(plan_file_pdf(at_sea(), date=DAY, names={}))
