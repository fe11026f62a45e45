"""Drawings of a lift in its sea: what is drawn is what was solved, and says so without colour."""

from __future__ import annotations

import re
from dataclasses import replace
from xml.etree import ElementTree

import numpy as np
import pytest

from oakum.draw import PAGE, PRINT, DrawingError, heel, sea_limit, splash_cases, splash_time, splash_trace
from oakum.draw.plot import LogAxis
from oakum.lift.splash import (
    LimitCurve,
    LimitPoint,
    Line,
    Part,
    Question,
    RandomSea,
    SplashBody,
    TipPerHeight,
    TipStill,
    Water,
    in_time,
    limit_curve,
    simplified,
    traced,
)
from oakum.lift.vessel import (
    Head,
    HungLoad,
    LoadChart,
    StabilityBook,
    Vessel,
    VesselLift,
    vessel_answer,
)

CRADLE = Part("cradle", 0.0, 0.2, 0.05, 0.3, 1.6, 0.8)
CAPSTAN = Part("capstan", 0.2, 0.8, 0.5, 0.8, 1.2, 0.9)
BODY = SplashBody((CRADLE, CAPSTAN), np.random.default_rng(1).normal(1400.0, 60.0, 200), np.ones(200), 2.0)
ASKED = Question(BODY, Water(1025.0, 14.0), TipPerHeight(0.3, 0.3, 0.4), Line(4e5), 0.25, 2600.0)
CURVE = limit_curve(ASKED, (2.5, 4.0, 6.0))
BOAT = Vessel(
    name="boat", displacement_kg=45_000.0, kg_m=1.55, km_m=2.35, beam_m=5.0, freeboard_m=0.85, draught_m=1.4,
    waterplane_m2=52.0, water_kg_m3=1025.0, book=StabilityBook("Book (invented)", "p. 14", "half fuel", 10.0),
    vessel_class="small commercial vessel", free_surfaces=(), aboard=(), bm_m=1.9, gm_long_m=14.0, corner_m=6.0,
    floods_at_deg=25.0,
)  # fmt: skip
HEAD = Head(y_m=4.0, height_m=6.0, x_m=0.0, foot_y_m=0.5, foot_height_m=2.2)
CHART = LoadChart("crane", (2.0, 4.0, 6.0), (3000.0, 1500.0, 900.0), holds_in="open")


def words(svg: str) -> str:
    found = (one for one in ElementTree.fromstring(svg).iter() if one.tag.endswith("text"))
    return " ".join("".join(one.itertext()) for one in found)


def drawn_all() -> dict[str, str]:
    found = vessel_answer(VesselLift(BOAT, HEAD, HungLoad("in air", np.full(50, 900.0)), CHART, "open"))
    return {
        "limit": sea_limit.sea_limit(CURVE, hs_m=0.35, tz_s=4.0),
        "cases": splash_cases.splash_cases(simplified(ASKED, 0.9), body=BODY, bears_kg=2600.0),
        "heel": heel.heel(found, BOAT, HEAD),
    }


def test_every_drawing_is_well_formed_with_title_and_description() -> None:
    for name, svg in drawn_all().items():
        root = ElementTree.fromstring(svg)
        tags = [child.tag.rpartition("}")[2] for child in root]
        assert tags[:2] == ["title", "desc"], name
        assert root.attrib["role"] == "img" and (root[1].text or "").strip(), name


def test_print_has_black_ink_only() -> None:
    for svg in (
        sea_limit.sea_limit(CURVE, hs_m=0.35, tz_s=4.0, theme=PRINT),
        splash_cases.splash_cases(simplified(ASKED, 0.9), body=BODY, bears_kg=2600.0, theme=PRINT),
    ):
        colours = set(re.findall(r"#[0-9a-f]{6}", svg))
        assert colours <= {PRINT.ink, PRINT.soft, PRINT.rule, PRINT.paper}
        assert "var(" not in svg


def test_the_limit_names_each_objection_by_a_letter_and_the_skippers_value_under_its_period() -> None:
    svg = sea_limit.sea_limit(CURVE, hs_m=0.35, tz_s=4.0)
    said = words(svg)
    for point in CURVE.points[1:]:
        assert point.skipper_m is not None and f"{point.skipper_m:.2f}" in said
        assert point.objection is not None and point.objection.split(",")[0] in said
    assert "the sea of this plan: Hs 0.35 m, Tz 4 s" in said
    assert 'class="own-sea"' in svg


def test_a_period_at_which_the_method_does_not_hold_is_hatched_and_gives_no_value() -> None:
    assert CURVE.points[0].why_not
    svg = sea_limit.sea_limit(CURVE)
    first, *_ = sea_limit.sea_limit_rows(CURVE).lines
    assert re.search(r'<g class="unheld"><path', svg)
    assert "method does not hold" in words(svg)
    assert first[1] == "not given" and first[5].startswith("does not hold: ")


def test_where_no_objection_is_found_the_steepest_sea_is_marked() -> None:
    points = tuple(LimitPoint(tz, None, None, None, high, ()) for tz, high in ((4.0, 1.9), (6.0, 3.9)))
    curve = LimitCurve(points, ())
    assert "no objection found up to the steepest sea" in words(sea_limit.sea_limit(curve))
    assert [line[1] for line in sea_limit.sea_limit_rows(curve).lines] == [
        "no objection up to 1.90", "no objection up to 3.90",
    ]  # fmt: skip


def test_a_limit_under_five_centimetres_is_never_told_as_a_height() -> None:
    point = LimitPoint(5.0, 0.03, "hook load over what it bears", 0.0, 2.9, ())
    curve = LimitCurve((point, replace(point, tz_s=6.0)), ())
    assert sea_limit.skipper_words(point) == "under 0.05"
    assert 'class="skipper"' not in sea_limit.sea_limit(curve)


def test_a_curve_without_periods_is_refused_with_its_objection() -> None:
    with pytest.raises(DrawingError, match="the motion"):
        sea_limit.sea_limit(LimitCurve((), ("the motion of the boom head is not known",)))


def test_cases_stand_from_below_up_and_slack_is_a_word() -> None:
    answer = simplified(ASKED, 0.9)
    svg = splash_cases.splash_cases(answer, body=BODY, bears_kg=2600.0, cell_unit="kN")
    said = words(svg)
    assert "% slack" in said and "hook bears 25.5 kN" in said and "line may go slack: objection" in said
    shown = splash_cases.hardest(answer)
    levels = [c.water_line_m for c in sorted(shown, key=lambda c: c.water_line_m)]
    assert levels == sorted(levels) and len(shown) == min(len(answer.cases), splash_cases.MOST)
    rows = splash_cases.splash_rows(answer, "kN")
    assert len(rows.lines) == len(answer.cases) and all(len(line) == len(rows.head) for line in rows.lines)


def test_the_hardest_cases_hold_the_one_nearest_to_slack_and_the_greatest_pull() -> None:
    answer = simplified(ASKED, 0.9)
    shown = splash_cases.hardest(answer, most=2)
    assert answer.governing in shown
    assert max(answer.cases, key=lambda c: max(c.greatest_n, c.snap_n or 0.0)) in shown


def test_nothing_to_draw_is_refused() -> None:
    unknown = simplified(replace(ASKED, tip=None), 0.4)
    with pytest.raises(DrawingError):
        splash_cases.splash_cases(unknown)


def test_the_section_says_heel_freeboard_radius_and_chart_with_their_spread() -> None:
    load = np.random.default_rng(3).normal(900.0, 27.0, 500)
    found = vessel_answer(VesselLift(BOAT, HEAD, HungLoad("in air", load), CHART, "open"))
    assert found.heel_deg is not None and found.freeboard_m is not None
    said = " ".join(heel.heel_lines(found))
    assert f"{found.heel_deg.best:.1f}" in said or f"{found.heel_deg.best:.2f}" in said
    assert "an objection appears over 7°" in said and "m upright" in said and "the chart allows" in said
    assert " to " in said


def test_the_low_corner_of_the_section_stands_at_the_freeboard_of_the_answer() -> None:
    found = vessel_answer(VesselLift(BOAT, HEAD, HungLoad("in air", np.full(50, 900.0)), CHART, "open"))
    assert found.heel_deg is not None and found.freeboard_m is not None
    turn = heel._turn(found.heel_deg.best, found.freeboard_m.best, 5.0, 0.85)
    assert turn.at(2.5, 0.85)[1] == pytest.approx(found.freeboard_m.best)


def test_a_vessel_whose_beam_is_not_known_is_not_drawn_but_stands_in_the_table() -> None:
    found = vessel_answer(VesselLift(BOAT, HEAD, HungLoad("in air", np.full(50, 900.0)), CHART, "open"))
    with pytest.raises(DrawingError, match="beam"):
        heel.heel(found, replace(BOAT, beam_m=None), HEAD)
    rows = heel.vessel_rows((replace(found, heel_deg=None),))
    assert dict(rows.lines)["heel"] == "not known"


def test_many_seas_are_drawn_with_the_interval_of_their_odds() -> None:
    still = replace(ASKED, tip=TipStill())
    answer = in_time(still, RandomSea(0.5, 4.0), np.random.SeedSequence(3), members=20, hold_s=20.0)
    (title, found), *_ = answer.operations
    svg = splash_time.extremes(found, title, bears_kg=2600.0, theme=PAGE)
    assert 'class="band"' in svg and "95 % interval" in words(svg) and "hook bears 2,600 kg" in words(svg)
    rows = splash_time.extreme_rows(answer.operations, 2600.0)
    assert len(rows.head) == 1 + len(answer.operations)
    told = {line[0]: line[1] for line in rows.lines}
    assert told["odds of a slack line"] == "none seen; under 17 %"  # 1 - 0.025 ** (1 / 20) = 0.168, own calculation
    assert "not known what the hook bears" in " ".join(splash_time.extreme_lines(found))


def test_one_sea_keeps_its_extremes_however_many_steps_are_left_out() -> None:
    still = replace(ASKED, tip=TipStill())
    answer = in_time(still, RandomSea(0.5, 4.0), np.random.SeedSequence(3), members=4, hold_s=20.0)
    assert answer.hold is not None
    trace = traced(answer.hold.run, 1, np.random.SeedSequence(5))
    _, line, _, _ = splash_trace._thinned(trace, 0)
    assert line.max() == trace.line_n[:, 0].max() and line.min() == trace.line_n[:, 0].min()
    near = splash_trace._about(trace, 0, 5.0)
    assert near.line_n[:, 0].max() == trace.line_n[:, 0].max() and near.time_s[-1] - near.time_s[0] <= 5.0
    svg = splash_trace.trace_drawing(trace)
    assert "lowest point of the load" in words(svg)
    assert len(splash_trace.trace_rows(trace).lines) <= 24


def test_a_log_axis_puts_decades_at_equal_steps_and_what_is_lower_at_its_end() -> None:
    axis = LogAxis(0.1, 100.0, 300.0, 0.0, (0.1, 1.0, 10.0, 100.0), 1.0)
    assert [round(axis.at(v), 6) for v in (0.0, 0.1, 1.0, 10.0, 100.0)] == [300.0, 300.0, 200.0, 100.0, 0.0]
    assert axis.label(0.1) == "0.1"
