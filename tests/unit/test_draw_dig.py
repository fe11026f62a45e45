"""Drawings of the dig: what they say, that they can be read by a parser, and that rows carry the same numbers."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from oakum.draw.dig_progress import season_drawing, season_rows
from oakum.draw.dig_section import section_drawing, section_rows
from oakum.draw.dig_square import Depths, square_plan, square_rows
from oakum.draw.theme import PRINT
from oakum.seabed.dig import Dive, Level, Season, SpitDone, contours, outline, season, section, surface

SVG = "{http://www.w3.org/2000/svg}"
WHERE = outline([(0, 0), (2, 0), (2, 2), (0, 2)], "ABCD")
TOP = tuple(Level(n, *c, -1.2) for n, c in zip("ABCD", WHERE.corners, strict=True))
BOTTOM = (*(Level(n, *c, -1.4) for n, c in zip("ABCD", WHERE.corners, strict=True)), Level("middle <1>", 1, 1, -1.7))


def whole() -> Season:
    dives = [Dive(str(i), f"2026-06-1{i}", 1.5 + 0.2 * i, "N", str(i), 20 + i) for i in range(4)]
    spits = [SpitDone("N", str(i), f"2026-06-1{i}", 4.0, 0.3 + 0.02 * i, 0.03) for i in range(4)]
    return season(dives, spits, 3.0)


def test_plan_of_a_square_has_title_words_contours_and_levels() -> None:
    held = surface(BOTTOM, WHERE)
    lines = contours(held, 0.1, sd_m=0.01, where=WHERE)
    drawn = square_plan("N<2", WHERE, Depths(TOP, BOTTOM, "string 1"), lines, said="Every 0.1 m.")
    root = ElementTree.fromstring(drawn)
    assert root.find(f"{SVG}title").text == "Square N<2 in plan"  # type: ignore[union-attr]
    said = root.find(f"{SVG}desc").text  # type: ignore[union-attr]
    assert said and "4.00 square metres" in said and "5 levels between −1.70 and −1.40 m above string 1" in said
    assert "Every 0.1 m." in said
    words = [t.text for t in root.iter(f"{SVG}text")]
    assert {"A", "B", "C", "D", "−1.40", "−1.70", "−1.60", "1.00 m", "site north"} <= set(words)
    assert len(root.findall(f".//{SVG}path[@class='contour']")) == len(lines)
    rows = square_rows("N2", Depths(TOP, BOTTOM, "string 1"), surface(TOP, WHERE), held)
    assert rows.lines[0] == ("A", "0.00, 0.00", "−1.200", "−1.400", "0.200")
    assert rows.lines[-1] == ("middle <1>", "1.00, 1.00", "(−1.200)", "−1.700", "0.500")


def test_plan_without_levels_says_so() -> None:
    assert "No levels yet." in square_plan("N2", WHERE, Depths(), (), theme=PRINT)


@pytest.mark.parametrize("depth", [0.02, 0.3, 4.0])
def test_section_names_its_steepness_and_lists_what_it_leaves_out(depth: float) -> None:
    corners = (Level(n, *c, -1.2 - depth) for n, c in zip("ABCD", WHERE.corners, strict=True))
    bottom = (*corners, Level("far", 1, 0.2, -1.3))
    cut = section(
        (0.0, 1.0), (2.0, 1.0), [("before 1", TOP, surface(TOP)), ("after 1", bottom, surface(bottom, WHERE))], 0.3
    )
    drawn = section_drawing(cut, title="Section DA to BC", zero="string 1")
    root = ElementTree.fromstring(drawn)
    label = next(t.text for t in root.iter(f"{SVG}text") if t.text and t.text.startswith("m above string 1"))
    factor = 1 if "as long as lengths" in label else int(re.search(r"drawn (\d+) times", label)[1])  # type: ignore[index]
    assert factor in (1, 2, 5, 10, 20)
    texts = [(t.text or "", t) for t in root.iter(f"{SVG}text")]
    y = {
        float(words.replace("−", "-")): float(t.get("y", "0"))
        for words, t in texts
        if re.fullmatch(r"−\d+(\.\d+)?", words) and t.get("text-anchor") == "end"
    }
    x = {float(words): float(t.get("x", "0")) for words, t in texts if re.fullmatch(r"\d\.\d", words)}
    a_metre = (x[2.0] - x[0.0]) / 2.0
    high, low = max(y), min(y)
    assert (y[low] - y[high]) / (high - low) == pytest.approx(factor * a_metre, rel=0.03)
    rows = section_rows(cut, "Section")
    assert [line[-1] for line in rows.lines if "far" in line[0]] == ["left out: 0.80 m from the line, more than 0.3 m"]
    assert "9 are left out" in (root.find(f"{SVG}desc").text or "")  # type: ignore[union-attr]


def test_season_draws_spits_forecast_and_plan_and_its_rows_agree() -> None:
    found = whole()
    root = ElementTree.fromstring(season_drawing(found))
    said = root.find(f"{SVG}desc").text or ""  # type: ignore[union-attr]
    assert "1.32 m³ dug on 4.0 m² in 7.20 diver-hours of 4 dives" in said and "9 in 10 within" in said
    words = {t.text for t in root.iter(f"{SVG}text")}
    assert {"forecast", "planned: 3.00 m³", "diver-hours"} <= words
    rows = season_rows(found)
    assert rows.lines[0][:3] == ("2026-06-10: N spit 0 done", "1.50", "4.0") and rows.lines[-1][0] == "forecast"
    last = [float(cell) for cell in rows.lines[-1][3:]]
    assert last == sorted(last)


def test_season_without_a_rate_has_no_band_and_says_why() -> None:
    early = season([Dive("1", "2026-06-12", 1.0)], [SpitDone("N", "1", "2026-06-12", 4.0, 0.3, 0.03)], 3.0)
    drawn = season_drawing(early, theme=PRINT)
    assert "No forecast: a rate needs at least 3 dives" in drawn and 'class="band"' not in drawn
