"""Utilisation bars: sorted, the governing one named, what is not known hatched, objections in words."""

from __future__ import annotations

from dataclasses import replace
from xml.etree import ElementTree

import pytest

from oakum.draw.hatch import hatched
from oakum.draw.svg import NAMESPACE
from oakum.draw.theme import PAGE, PRINT
from oakum.draw.utilisation import amounts_words, percent_words, utilisation_bars, utilisation_rows
from oakum.draw.wrap import shortened, wrapped
from oakum.lift.checks import Check, Rule
from oakum.lift.raising import RaisingPlan

RULE = Rule("r", "words of the rule", "a source", "EU", "read")


def check(
    title: str, demand: float, capacity: float | None, unit: str = "kg", objection: str | None = None
) -> Check:
    return Check(title, title, demand, capacity, unit, "95th percentile", RULE, objection)


def rects(drawing: str) -> list[dict[str, str]]:
    return [r.attrib for r in ElementTree.fromstring(drawing).iter(f"{{{NAMESPACE}}}rect")]


@pytest.mark.parametrize(
    ("used", "words"),
    [(0.5, "50 %"), (0.9996, "under 100 %"), (0.996, "99.6 %"), (1.0, "100 %"), (1.0003, "over 100 %"),
     (1.004, "100.4 %"), (1.28, "128 %"), (12.0, "1,200 %")],
)  # fmt: skip
def test_a_share_never_rounds_over_the_line(used: float, words: str) -> None:
    assert percent_words(check("c", used * 100, 100.0)) == words


def test_what_is_not_known_is_hatched_and_said() -> None:
    drawing = utilisation_bars(
        [check("hook", 1669.0, None, objection="not known what it bears")], governing=None
    )
    assert "not known" in drawing and "stroke-dasharray" in drawing
    assert "objection: not known what it bears" in drawing
    assert "1,669 kg asked, capacity not known" in drawing
    assert percent_words(check("c", 5.0, 0.0)) == "not known"


def test_bars_are_as_long_as_their_shares() -> None:
    drawing = utilisation_bars([check("a", 100, 100), check("b", 50, 100), check("c", 25, 100)])
    filled = [float(r["width"]) for r in rects(drawing) if r.get("fill-opacity")]
    assert filled[1] == pytest.approx(filled[0] / 2, abs=0.02)
    assert filled[2] == pytest.approx(filled[0] / 4, abs=0.02)


def test_what_is_beyond_is_drawn_beyond_the_line_and_a_giant_is_broken_off() -> None:
    drawing = utilisation_bars([check("a", 150, 100, objection="a: too much")], theme=PRINT)
    beyond = [r for r in rects(drawing) if r.get("fill") == PRINT.signal and "fill-opacity" not in r]
    inside = [r for r in rects(drawing) if r.get("fill-opacity")]
    assert float(beyond[0]["width"]) == pytest.approx(float(inside[0]["width"]) / 2, abs=0.02)
    giant = utilisation_bars([check("a", 5000, 100)])
    assert "5,000 %" in giant and PAGE.paper.replace("#", "%23") not in giant
    assert max(float(r["x"]) + float(r["width"]) for r in rects(giant)) <= PAGE.width


def test_the_governing_check_is_named_where_it_stands(plan: RaisingPlan) -> None:
    drawing = utilisation_bars(plan.checks, governing=plan.governing, cell_unit=plan.cell_unit)
    assert plan.governing is not None and f"governs: {plan.governing.title}" in drawing
    assert drawing.count("governs:") == 1 and "100 %" in drawing
    for c in plan.checks:
        assert percent_words(c) in drawing


def test_loads_are_in_the_unit_of_the_cell_and_others_in_their_own() -> None:
    assert amounts_words(check("a", 1000.0, 2000.0), "kN") == "9.81 of 19.6 kN"
    assert amounts_words(check("a", 9806.65, 19613.3, "N"), "kg") == "1,000 of 2,000 kg"
    assert amounts_words(check("a", 26.8, 60.0, "deg"), "kN") == "26.8 of 60.0\u00b0"
    assert amounts_words(check("a", 0.114, 0.1, "1"), "kg") == "11.4 of 10.0 %"


def test_a_list_in_pieces_keeps_one_length_of_bars() -> None:
    a, b = check("a", 50, 100), check("b", 190, 100)
    first = utilisation_bars([a], across_share=2.0)
    second = utilisation_bars([b], across_share=2.0, with_head=False)
    assert rects(first)[0]["width"] == rects(second)[0]["width"]
    assert ">100 %<" in first and ">100 %<" not in second


def test_the_twin_has_every_check_with_its_rule() -> None:
    rows = utilisation_rows([check("a", 50, 100), check("b", 1, None, objection="tag missing")])
    assert rows.lines[0] == (
        "a", "50 %", "50.0 of 100 kg", "95th percentile", "words of the rule; a source (EU): read", "none found",
    )  # fmt: skip
    assert rows.lines[1][1] == "not known" and rows.lines[1][-1] == "tag missing"


def test_forty_checks_with_long_words_stay_on_the_drawing() -> None:
    many = [
        check(f"{i} " + "very long title " * 9, i, 40.0, objection="many words of objection " * 12)
        for i in range(40)
    ]
    root = ElementTree.fromstring(utilisation_bars(many, theme=PRINT))
    lowest = max(float(t.attrib["y"]) for t in root.iter(f"{{{NAMESPACE}}}text"))
    assert lowest <= float(root.attrib["height"])
    widest = max(len(t.text or "") for t in root.iter(f"{{{NAMESPACE}}}text"))
    assert PRINT.text_width("x" * widest) <= PRINT.width + 1


def test_nothing_checked_is_said() -> None:
    assert "nothing was checked" in utilisation_bars([])


def test_hostile_titles_stay_text(plan: RaisingPlan) -> None:
    odd = [replace(plan.checks[0], title="<b>&\x00", objection="<script>")]
    ElementTree.fromstring(utilisation_bars(odd))


def test_hatching_stays_inside_its_box() -> None:
    path = hatched(10.0, 20.0, 30.0, 8.0, stroke="#000")
    numbers = [
        tuple(map(float, p.split(","))) for p in path.split('d="M')[1].split('"')[0].replace("M", " ").split()
    ]
    assert len(numbers) >= 16
    assert all(10.0 <= x <= 40.0 and 20.0 <= y <= 28.0 for x, y in numbers)
    assert hatched(0, 0, 0, 5, stroke="#000") == ""


def test_wrapping_loses_no_word_unless_it_must() -> None:
    words = "one two three " + "x" * 90 + " four"
    lines = wrapped(words, 100.0, PRINT)
    assert "".join("".join(lines).split()) == "".join(words.split())
    assert all(PRINT.text_width(line) <= 100.0 for line in lines)
    short = wrapped(words, 100.0, PRINT, most=2)
    assert len(short) == 2 and short[-1].endswith("\u2026")
    assert shortened("abcdefghij", PRINT.text_width("abcde"), PRINT) == "abcd\u2026"
