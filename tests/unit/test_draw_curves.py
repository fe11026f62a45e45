"""Band charts and driver bars: what is drawn is what the numbers say."""

from __future__ import annotations

import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest

from oakum.draw import PRINT, bars, curves, figure, spread_figures
from oakum.draw.svg import NAMESPACE
from oakum.ground.estimate import Driver, Spread
from oakum.lift.weights.report import Curve

RISE = Curve(
    "emergence", "height above the water", "m", "hook load", "kg",
    x=(-1.0, 0.0, 1.0), p5=(180.0, 900.0, 950.0), best=(200.0, 1000.0, 1100.0), p95=(230.0, 1200.0, 1300.0),
    marks=((-1.0, "breaks the <surface>"), (0.0, "clear"), (7.0, "off the chart")),
)  # fmt: skip
WIDTH = Spread(
    90, 100, 115, 101, 8, "kg", (Driver("crust", 0.6), Driver("oak <i>", 0.25), Driver("tape", 0.004))
)


def path(drawing: str, name: str) -> list[tuple[float, float]]:
    for found in ElementTree.fromstring(drawing).iter(f"{{{NAMESPACE}}}path"):
        if found.attrib.get("class") == name:
            pairs = re.findall(r"(-?[\d.]+),(-?[\d.]+)", found.attrib["d"])
            return [(float(x), float(y)) for x, y in pairs]
    raise AssertionError(f"no {name}")


def test_the_best_line_runs_inside_its_band_and_keeps_its_proportions() -> None:
    drawing = curves.band(RISE, theme=PRINT)
    best, band = path(drawing, "best"), path(drawing, "band")
    assert len(best) == 3 and len(band) == 6
    upper, lower = band[:3], band[3:][::-1]
    assert all(u[1] < b[1] < w[1] for u, b, w in zip(upper, best, lower, strict=True))
    per_kg = (best[0][1] - best[1][1]) / 800
    assert (best[1][1] - best[2][1]) / 100 == pytest.approx(per_kg, abs=1e-3)
    assert best[1][0] - best[0][0] == pytest.approx(best[2][0] - best[1][0], abs=0.02)


def test_the_present_place_is_marked_with_what_it_reads_there() -> None:
    drawing = curves.band(RISE, at=-0.5)
    assert "−0.50 m: 600 kg (540 to 715)" in drawing


def test_a_place_off_the_curve_reads_its_end_and_says_so() -> None:
    assert "3.00 m: 1,100 kg (950 to 1,300) (end of the curve)" in curves.band(RISE, at=3.0)


def test_marks_on_the_chart_are_named_escaped_and_others_left_out() -> None:
    drawing = curves.band(RISE)
    assert "breaks the &lt;surface&gt;" in drawing and "off the chart" not in drawing
    assert "hook load, kg" in drawing and "height above the water, m" in drawing


def test_the_numbers_of_the_curve_come_as_a_table_with_its_marks() -> None:
    rows = curves.band_rows(RISE)
    assert rows.head[0] == "height above the water (m)"
    assert ("0.00", "900", "1,000", "1,200", "clear") in rows.lines
    long = replace(RISE, x=tuple(range(100)), p5=(1.0,) * 100, best=(2.0,) * 100, p95=(3.0,) * 100, marks=())
    assert len(curves.band_rows(long, most=15).lines) == 15


def test_a_flat_curve_at_zero_can_be_drawn() -> None:
    flat = replace(RISE, p5=(0.0,) * 3, best=(0.0,) * 3, p95=(0.0,) * 3)
    assert "<svg" in curves.band(flat)


def test_bars_are_as_long_as_their_shares() -> None:
    drawing = bars.driver_bars(WIDTH, "hook load", theme=PRINT)
    bars_drawn = [
        float(r.attrib["width"]) for r in ElementTree.fromstring(drawing).iter(f"{{{NAMESPACE}}}rect")
    ]
    full, crust, _, oak = bars_drawn
    assert crust / full == pytest.approx(0.6, abs=1e-3) and oak / full == pytest.approx(0.25, abs=1e-3)
    assert "60 %" in drawing and "oak &lt;i&gt;" in drawing and "tape" not in drawing
    assert bars.driver_rows(WIDTH, "hook load").lines[-1] == ("tape", "under 1 %")


def test_without_a_width_the_drawing_says_why() -> None:
    exact = Spread(5, 5, 5, 5, 0, "kg")
    assert "every input is given as exact" in bars.driver_bars(exact, "x")


def test_a_table_and_a_sentence_never_differ() -> None:
    spread = Spread(1515.2, 1710.4, 2017.8, 1730.0, 147.0, "kg")
    low, best, high = spread_figures(spread)
    assert spread.words() == f"likely {best} kg; 9 in 10 within {low} to {high} kg"
    assert spread_figures(Spread(1.23456, 1.3, 1.4, 1.3, 0.01, "m"))[0] == "1.235"


@pytest.mark.parametrize(
    ("value", "words"),
    [(1710.3, "1,710"), (44.37, "44.4"), (0.05234, "0.052"), (-0.0001, "0.000"), (-12.0, "−12.0")],
)
def test_figures_are_whole_above_a_hundred_and_have_three_digits_below(value: float, words: str) -> None:
    assert figure(value) == words
