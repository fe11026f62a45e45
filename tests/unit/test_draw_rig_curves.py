"""Hook load with trial band and readings, the rise on bags, turning: what is drawn is what was computed."""

from __future__ import annotations

from dataclasses import replace
from xml.etree import ElementTree

import numpy as np
import pytest

from oakum.draw import DrawingError, ascent, turning
from oakum.draw.forces import curve_in, in_unit, load_words, reading
from oakum.draw.hook_load import (
    LoadPoint,
    hook_load,
    plan_curve,
    points_of,
    reading_rows,
    side_of,
    trial_figure,
)
from oakum.draw.svg import NAMESPACE
from oakum.ground.estimate import Spread
from oakum.ground.gravity import G_M_S2
from oakum.lift.bags import (
    AirSupply,
    Bag,
    BagAnswer,
    BagKind,
    BagLoad,
    BagSet,
    Column,
    CrownLine,
    Eye,
    answer,
)
from oakum.lift.raising import Happened, LoadRead, RaisingPlan, TrialLift, compare
from oakum.lift.weights.report import Curve

RISE = Curve(
    "emergence", "height above the water", "m", "hook load", "kg",
    x=(-2.0, 0.0, 1.0), p5=(400.0, 900.0, 950.0), best=(450.0, 1000.0, 1100.0), p95=(500.0, 1200.0, 1300.0),
    marks=((-1.5, "top breaks the surface"),),
)  # fmt: skip
TRIAL = TrialLift("kg", 400.0, 500.0, (0.3, 0.5), 10.0, "above 500 kg stop", "below 400 kg stop")


def carrying() -> BagAnswer:
    """Bags that carry a load of about 500 kg under water."""
    rng = np.random.default_rng(3)
    load = rng.normal(500.0, 20.0, 800)
    kind = {
        v: BagKind(str(v), f"{v} l bag", v / 1000, None, 3.0, air_height_m=0.6, valve_area_m2=8e-4)
        for v in (400, 130)
    }
    crown = CrownLine(9.0, 14.0, False, 800.0, 800.0)
    bags = BagSet(
        (Bag("A", kind[400], 800.0, "eye", crown, (0.6, 0.0)), Bag("B", kind[130], 800.0, "eye", crown, (-0.6, 0.0))),
        (Eye("eye", 2000.0),), 12.0, 12.0, 3.0, 0.2, "hook below the surface", 1.4, None,
    )  # fmt: skip
    supply = AirSupply(0.012, 232e5, 4, 40e5, "bags only", 0.2, 2)
    hanging = np.zeros((800, 2))
    return answer(BagLoad(load, load + 1500.0, True, None, hanging), bags, Column(1026.0, 11.0), supply)


def circles(drawing: str) -> int:
    group = next(
        g
        for g in ElementTree.fromstring(drawing).iter(f"{{{NAMESPACE}}}g")
        if g.attrib.get("class") == "readings"
    )
    return len(group.findall(f"{{{NAMESPACE}}}circle"))


def test_readings_inside_are_dots_and_those_outside_are_named() -> None:
    points = [
        LoadPoint(-2.0, 450.0),
        LoadPoint(0.5, 1000.0),
        LoadPoint(-1.0, 1200.0, "12:31"),
        LoadPoint(1.0, 800.0),
    ]
    assert [side_of(RISE, p) for p in points] == ["inside", "inside", "above", "below"]
    drawing = hook_load(RISE, trial=TRIAL, points=points)
    assert circles(drawing) == 2
    assert "above the band: 12:31" in drawing and "below the band" in drawing
    assert "2 of 4 readings lie inside the band." in drawing


def test_a_reading_beyond_the_curve_counts_against_its_end() -> None:
    assert side_of(RISE, LoadPoint(-9.0, 450.0)) == "inside"
    assert side_of(RISE, LoadPoint(9.0, 2000.0)) == "above"
    assert "above the band" in hook_load(RISE, points=[LoadPoint(9.0, 9000.0)])


def test_the_trial_band_stands_at_its_loads() -> None:
    drawing = hook_load(RISE, trial=TRIAL)
    assert "trial lift: expect 400 to 500 kg" in drawing
    root = ElementTree.fromstring(drawing)
    band = next(g for g in root.iter(f"{{{NAMESPACE}}}g") if g.attrib.get("class") == "trial")
    box = band.find(f"{{{NAMESPACE}}}rect")
    assert box is not None
    zero = 0.56 * 480 - 3.6 * 12.5  # the height less the axis
    per_kg = (zero - float(box.attrib["y"])) / 500.0
    assert float(box.attrib["height"]) == pytest.approx(100.0 * per_kg, rel=0.01)


def test_a_trial_in_another_unit_than_the_curve_is_not_drawn_wrongly() -> None:
    assert "trial lift" not in hook_load(RISE, trial=TRIAL, cell_unit="kN").replace("Trial lift", "")
    assert "hook load, kN" in hook_load(RISE, cell_unit="kN")


def test_rows_say_where_each_reading_lies() -> None:
    rows = reading_rows(RISE, [LoadPoint(-1.0, 1200.0, "12:31"), LoadPoint(-2.0, 420.0)])
    assert rows.lines[0] == ("12:31", "\u22121.00", "1,200", "650 to 850", "above the band")
    assert rows.lines[1][-1] == "inside"


def test_what_happened_comes_with_the_verdict_of_the_comparison(plan: RaisingPlan) -> None:
    reads = (
        LoadRead(480.0, height_m=-2.2, time="12:01", by="p-03"),
        LoadRead(2500.0, height_m=0.0, time="12:20"),
        LoadRead(300.0, height_m=-2.2, bags_empty=False),
        LoadRead(1400.0, clear_s=60.0),
    )
    rows = compare(plan, Happened(readings=reads)).readings
    points = points_of(rows, {"p-03": "Cleo"})
    assert [p.side for p in points] == ["inside", "above", "not compared"]
    assert points[0].words == "12:01, Cleo"
    for row, point in zip(rows, points, strict=False):
        if row.verdict != "not compared":
            assert side_of(plan_curve(plan), replace(point, side=None)) == row.verdict
    assert circles(hook_load(plan_curve(plan), points=points)) == 2


def test_figures_have_no_float_noise() -> None:
    assert trial_figure(432.0) == "432" and trial_figure(4.300000000000001) == "4.3"
    assert trial_figure(1240.5) == "1,240.5"


def test_loads_turn_into_the_unit_of_the_cell() -> None:
    assert load_words(1000.0, "kN") == "9.81 kN" and reading(1000.0, "lbf") == "2,205"
    force = Spread(G_M_S2, 2 * G_M_S2, 3 * G_M_S2, 2 * G_M_S2, G_M_S2, "N")
    assert in_unit(force, "kg").best == pytest.approx(2.0) and in_unit(force, "kg").unit == "kg"
    assert curve_in(RISE, "t").best[1] == pytest.approx(1.0)
    assert curve_in(replace(RISE, y_unit="m/s"), "t").best == RISE.best


def test_the_rise_is_drawn_as_force_and_speed_against_depth() -> None:
    bags = carrying()
    curves = ascent.ascent_curves(bags, "kN")
    assert [c.y_unit for c in curves] == ["kN", "m/s", "m/s"]
    drawings = ascent.ascent_drawings(bags, "kN")
    assert len(drawings) == 3 and all("depth of the bags" in d for d in drawings)
    assert [len(r.lines) for r in ascent.ascent_rows(bags, "kN", most=5)] >= [5, 5, 5]


def test_each_failing_bag_has_its_band_and_its_words() -> None:
    bags = carrying()
    drawing = ascent.failed_bands(bags, "kg")
    rows = ascent.failed_rows(bags, "kg")
    assert [line[0] for line in rows.lines] == ["A", "B"]
    for case, line in zip(bags.failed, rows.lines, strict=True):
        assert f"&quot;{case.name}&quot; fails: " in drawing and line[-1] == case.words
        assert case.words.replace('"', "&quot;") in drawing
    root = ElementTree.fromstring(drawing)
    bands = [float(r.attrib["x"]) for r in root.iter(f"{{{NAMESPACE}}}rect")]
    assert bands[0] < bands[1]  # the greater bag leaves the greater force down


def test_bags_that_only_relieve_a_hook_have_no_rise(plan: RaisingPlan) -> None:
    assert plan.bags is not None and plan.bags.lifts == 0.0
    assert ascent.ascent_curves(plan.bags, "kg") == ()
    assert "The bags alone do not lift the load" in ascent.failed_bands(plan.bags)


def test_turning_marks_where_it_goes_by_itself(plan: RaisingPlan) -> None:
    drawing = turning.pull_drawing(plan.turning[0], "kg")
    assert 'class="balance"' in drawing and "goes by itself" in drawing
    turn = plan.turning[0].turn
    assert turn is not None and f"It goes by itself at {turn.balance_deg.words()}." in drawing
    rows = turning.pull_rows(plan.turning[0])
    assert rows.caption.startswith("laying it over: ") and len(rows.lines) >= 10


def test_a_turning_that_was_not_computed_says_why(plan: RaisingPlan) -> None:
    with pytest.raises(DrawingError, match="inside the cylinder"):
        turning.pull_drawing(plan.turning[1])
    assert turning.pull_rows(plan.turning[1]).lines == ()
