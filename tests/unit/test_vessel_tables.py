"""Load charts and motions as people send them: mixed units, blanks, footnotes; what is refused and how."""

from __future__ import annotations

import math

import numpy as np
import pytest

from oakum.lift.vessel import (
    Derating,
    LoadChart,
    ResponseTable,
    VesselError,
    read_load_chart,
    read_motions,
)

SKIPPER = """\
Crane of the workboat (invented),,,
Reach (m),Harbour SWL (t),Sea SWL (t),remarks
2,3.2,2.4,
3.0 m,"5,500 lb",1.7,
4,1.9,,ask skipper
16 ft,15 kN,1.1,

6,1.1 ,0.8,
7,0.9*,0.6,
* loads less hook block 40 kg,,,
"""

MOTIONS = """\
Workboat, beam seas, at anchor
Period (s);Heave (m/m);Roll (deg/m)
3;0,25;4
4;0.55;14 deg
5;0.8;
6;0.9;0.1 rad
8;1.0;6
10;1.0;4
read off a curve;;
"""


def test_a_chart_as_a_skipper_types_it_gives_its_good_rows_and_names_the_others() -> None:
    chart = read_load_chart(SKIPPER, name="crane", column="Harbour SWL (t)", holds_in="sheltered")
    assert chart.radius_m == (2.0, 4.0, pytest.approx(4.8768), 6.0)
    assert chart.load_kg == (3200.0, 1900.0, pytest.approx(15_000 / 9.80665), pytest.approx(1100.0))
    assert [note.row for note in chart.notes] == [1, 4, 7, 9, 10]
    said = " ".join(note.words for note in chart.notes)
    assert "5.500 or 5500" in said and "row 7: blank" in said and "taken as a footnote" in said
    assert "carries a footnote mark" in said


def test_nothing_is_read_between_the_neighbours_of_a_radius_without_a_load() -> None:
    chart = read_load_chart(SKIPPER, name="crane", column="sea swl", holds_in="open")
    assert chart.gaps_m == (4.0,)
    assert np.isnan(chart.capacity_kg(3.5)) and np.isnan(chart.capacity_kg(4.8))
    assert float(chart.capacity_kg(3.0)) == 1700.0
    assert float(chart.capacity_kg(6.5)) == pytest.approx(700.0)
    assert "lists a radius between 3 and 4.8768 m without a load" in (chart.why_outside(4.0) or "")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "is empty"),
        ("2,3.2\n3,2.1\n", "no row names radius and load"),
        ("radius (m),load (t)\n3,2\n4,2.5\n", "rises with radius"),
        ("radius (m),load (t)\n3,2\n", "at least two radii"),
        ("radius (m),load (t)\n3,2\n3,1.5\n4,1\n", "rows 2 and 3 have one radius and two loads"),
        ("radius (m),load (ton)\n3,2\n4,1\n", "more than one meaning"),
        ("radius (m),load at sea (t),load in harbour (t)\n3,2,3\n4,1,2\n", "several columns of loads"),
        ("radius (m),load\n3,2\n4,1\n", "has no unit"),
    ],
)
def test_a_chart_that_cannot_be_is_refused_with_what_to_do(text: str, said: str) -> None:
    with pytest.raises(VesselError, match=said):
        read_load_chart(text, name="c")


def test_a_column_that_is_not_there_is_refused_with_those_that_are() -> None:
    with pytest.raises(VesselError, match='no column is called "winch"; there are "Harbour SWL'):
        read_load_chart(SKIPPER, name="c", column="winch")


def test_bare_numbers_take_the_unit_that_is_typed_beside_the_table() -> None:
    chart = read_load_chart("radius,load\n10,2.5\n20,1.2\n", name="c", radius_unit="ft", load_unit="long ton")
    assert chart.radius_m == (pytest.approx(3.048), pytest.approx(6.096))
    assert chart.load_kg[0] == pytest.approx(2.5 * 1016.0469088)


def test_rows_in_any_order_are_sorted_by_radius() -> None:
    chart = read_load_chart("radius (m);load (kg)\n6;800\n3;1700,5\n", name="c")
    assert chart.radius_m == (3.0, 6.0) and chart.load_kg == (1700.5, 800.0)


def test_a_chart_for_sheltered_water_needs_its_derating_at_sea() -> None:
    chart = LoadChart("c", (2.0, 5.0), (2000.0, 900.0), holds_in="sheltered")
    assert chart.factor_in("sheltered") == 1.0 and chart.factor_in("open") is None
    derated = LoadChart(
        "c", (2.0, 5.0), (2000.0, 900.0), holds_in="sheltered", derating=Derating(0.6, "p. 4")
    )
    assert derated.factor_in("open") == 0.6 and derated.factor_in("sheltered") == 0.6
    assert LoadChart("c", (2.0, 5.0), (2000.0, 900.0)).factor_in("sheltered") is None
    with pytest.raises(VesselError, match="at most 1"):
        Derating(1.2, "p. 4")
    with pytest.raises(VesselError, match="its source"):
        Derating(0.8, " ")


def motions() -> ResponseTable:
    """The invented motions."""
    return read_motions(MOTIONS, name="boat", heading_words="beam", per="wave amplitude", source="invented")


def test_motions_take_commas_units_and_keep_blanks_as_gaps() -> None:
    table = motions()
    assert table.period_s == (3.0, 4.0, 6.0, 8.0, 10.0)
    assert table.heave == (0.25, 0.55, 0.9, 1.0, 1.0)
    assert table.roll_rad == pytest.approx(
        [math.radians(4), math.radians(14), 0.1, math.radians(6), math.radians(4)]
    )
    assert table.gaps_s == (5.0,)
    assert [n.row for n in table.notes] == [1, 5, 9]
    assert not table.covers(5.0) and table.covers(4.0) and not table.covers(2.9)


def test_the_head_moves_with_heave_and_roll_as_if_they_came_together() -> None:
    ratio = motions().tip_ratio(np.array([4.0, 7.0]), 3.5)
    assert ratio[0] == pytest.approx(0.55 + 3.5 * math.radians(14))
    assert ratio[1] == pytest.approx(0.95 + 3.5 * 0.5 * (0.1 + math.radians(6)))
    full = read_motions(
        MOTIONS.replace("5;0.8;\n", ""),
        name="boat",
        heading_words="beam",
        per="wave amplitude",
        source="invented",
    )
    tip = full.tip(3.5)
    assert tip.period_s == full.period_s and tip.phase_deg is None
    assert tip.motion_m_per_m[1] == pytest.approx(ratio[0])
    assert "heave and angles add up" in tip.words
    assert float(tip.amplitudes(np.array([0.4]), 6.0).motion_m[0]) > 0.9 * 0.4


def test_motions_outside_the_table_or_across_a_gap_are_refused() -> None:
    with pytest.raises(VesselError, match="the row of 5 s has no full motion"):
        motions().tip(3.5)
    assert np.isnan(motions().tip_ratio(np.array([2.0, 4.5, 11.0]), 3.0)).all()
    with pytest.raises(VesselError, match="the table has no pitch"):
        motions().tip_ratio(4.0, 3.0, 6.0)


def test_per_metre_of_height_is_half_of_per_metre_of_amplitude() -> None:
    height = read_motions(MOTIONS, name="b", heading_words="beam", per="wave height", source="x")
    assert height.heave[0] == pytest.approx(2 * motions().heave[0])
    measured = "period (s),heave (m),roll (deg),pitch (deg)\n3,0.1,2,1\n6,0.2,1,1\n"
    with pytest.raises(VesselError, match="amplitude of the wave"):
        read_motions(measured, name="b", heading_words="bow", per=None, source="x")
    table = read_motions(measured, name="b", heading_words="bow", per=None, source="x", wave_amplitude_m=0.25)
    assert table.heave == (0.4, 0.8)
    assert float(table.tip_ratio(3.0, 0.0, 5.0)) == pytest.approx(0.4 + 5 * math.radians(4))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("period,heave,roll\n3,1,2\n", "has no unit"),
        ("a,b\n1,2\n", "no row names period, heave and roll"),
        ("period (s),heave (m/m),roll (m/m)\n3,1,2\n4,1,2\n", "roll is in m"),
        ("period (s),heave (m/m),roll (deg/m)\n3,1,2\n3,1,3\n4,1,1\n", "rows 2 and 3 have one period"),
        ("period (s),heave (m/m),roll (deg)\n3,1,2\n4,1,2\n", "give all alike"),
        ("period (s),heave (m/m),roll (deg/m)\n3,-1,2\n4,1,2\n", "at least two periods"),
    ],
)
def test_motions_that_cannot_be_are_refused(text: str, said: str) -> None:
    with pytest.raises(VesselError, match=said):
        read_motions(text, name="b", heading_words="beam", per="wave amplitude", source="x")


def test_not_saying_what_the_metre_is_refused() -> None:
    with pytest.raises(VesselError, match="wave amplitude or of wave height"):
        read_motions(MOTIONS, name="b", heading_words="beam", per=None, source="x")
