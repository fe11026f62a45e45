"""Drawings of a vessel's tables: what is not said is left open, and the twin has every number."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest

from oakum.draw.load_chart import AtRadius, allowed_kg, load_chart, load_chart_rows, note_rows
from oakum.draw.motions import motions, motions_rows
from oakum.draw.theme import PRINT
from oakum.lift.vessel import Derating, LoadChart, ResponseTable, example_vessel, parse_vessel

GAP = LoadChart("crane", (2.0, 4.0, 5.0, 7.0), (3000.0, 2000.0, 1500.0, 1000.0), gaps_m=(6.0, 8.0))
TABLE = ResponseTable(
    "workboat",
    "beam",
    (3.0, 4.0, 6.0, 8.0),
    (0.3, 0.6, 0.9, 1.0),
    (0.1, 0.4, 0.2, 0.1),
    None,
    "yard",
    gaps_s=(5.0,),
)
SPACE = "{http://www.w3.org/2000/svg}"


def parts(svg: str, kind: str) -> list[ET.Element]:
    return ET.fromstring(svg).findall(f".//{SPACE}{kind}")


def test_the_line_stops_at_a_gap_and_every_point_is_drawn() -> None:
    drawn = load_chart(GAP)
    (line,) = [p for p in parts(drawn, "path") if p.get("class") == "chart"]
    assert (line.get("d") or "").count(
        "M"
    ) == 1  # one run of three points; the point beyond the gap stands alone
    assert len(parts(drawn, "circle")) == 4
    assert "Nothing is said between 5 and 7 m." in drawn and "no load given" in drawn


def test_a_marker_says_load_radius_and_what_the_chart_has_there() -> None:
    drawn = load_chart(GAP, at=AtRadius(4.2, 1400.0, 4.5), factor=1.0)
    assert "1,400 kg at 4.5 m with the heel, chart 1,750 kg" in drawn
    assert "at 6.5 m, chart says nothing" in load_chart(GAP, at=AtRadius(6.5), factor=1.0)
    assert "before a derating that is not known" in load_chart(GAP, at=AtRadius(4.5), factor=None)
    assert "chart says nothing" in load_chart(
        GAP, at=AtRadius(9.0, 500.0), factor=1.0, theme=PRINT, width=300.0
    )


def test_a_derating_is_a_second_line_and_a_column() -> None:
    chart = LoadChart("c", (2.0, 4.0), (3000.0, 2000.0), derating=Derating(0.75, "page 6"))
    assert "derated by 0.75" in load_chart(chart, factor=0.75) and "derated" not in load_chart(chart)
    assert load_chart_rows(chart, 0.75).lines == (("2", "3,000", "2,250", ""), ("4", "2,000", "1,500", ""))
    assert allowed_kg(chart, 3.0, 0.75) == pytest.approx(1875.0) and allowed_kg(chart, 3.0, None) is None


def test_the_twin_of_a_chart_lists_the_blank_radii_in_their_place() -> None:
    lines = load_chart_rows(GAP).lines
    assert [line[0] for line in lines] == ["2", "4", "5", "6", "7", "8"]
    assert lines[3][1] == "not given" and "nothing is read" in lines[3][2]


def test_footnotes_of_a_sheet_are_rows_and_blank_ones_are_not() -> None:
    papers = parse_vessel(*example_vessel())
    rows = note_rows(papers.charts[1])
    assert [line[0] for line in rows.lines] == ["row 1", "row 8", "row 10", "row 11"]
    assert "hook block of 40 kg" in rows.lines[-1][1]


def test_motions_are_not_drawn_across_a_gap_and_the_twin_has_every_period() -> None:
    drawn = motions(TABLE)
    lines = [p.get("d") or "" for p in parts(drawn, "path") if p.get("stroke-width") == "1.5"]
    assert [line.count("M") for line in lines] == [2, 2] and len(parts(drawn, "circle")) == 8
    assert "Nothing is given at 5 s" in drawn and "greatest at 4 s" in drawn
    rows = motions_rows(TABLE)
    assert [line[0] for line in rows.lines] == ["3", "4", "5", "6", "8"] and rows.lines[2][1:] == (
        "not given",
    ) * 2
    assert rows.lines[1] == ("4", "0.600", "22.9")


def test_motions_that_were_seen_are_a_table() -> None:
    papers = parse_vessel(*example_vessel())
    assert motions_rows(papers.motions[1]).lines == (
        ("Hs 0.5 m, Tz 4 s", "0.150 m in 4.5 s", "1.00° in 4 s", "1.50° in 4.2 s"),
    )
    drawn = motions(papers.motions[0])  # type: ignore[arg-type]
    assert "roll and pitch" in drawn and len(parts(drawn, "title")) == len(parts(drawn, "desc")) == 1
