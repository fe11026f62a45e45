"""The SVG writer: short numbers, everything escaped, announced to a screen reader, nothing from outside."""

from __future__ import annotations

import math
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oakum.draw import PAGE, PRINT, DrawingError, stylesheet, svg
from oakum.draw.theme import VARIABLES


def test_numbers_carry_no_float_noise_and_no_minus_zero() -> None:
    assert [svg.number(v) for v in (0.1 + 0.5, 3.0, -0.001, 1e6, 2.345)] == [
        "0.6",
        "3",
        "0",
        "1000000",
        "2.35",
    ]


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_a_number_that_is_not_finite_is_refused(value: float) -> None:
    with pytest.raises(DrawingError, match="finite"):
        svg.number(value)


@given(st.text())
def test_any_text_comes_back_as_it_was_but_for_what_xml_forbids(words: str) -> None:
    drawing = svg.document(10, 10, svg.text(0, 0, words), title=words, description=words, key=words)
    root = ElementTree.fromstring(drawing)
    shown = root.find(f"{{{svg.NAMESPACE}}}text")
    assert shown is not None
    kept = "".join(
        c
        if c in "\t\n\r" or " " <= c <= "\ud7ff" or "\ue000" <= c <= "\ufffd" or c >= "\U00010000"
        else "\ufffd"
        for c in words
    )
    assert (shown.text or "") == kept.replace("\r\n", "\n").replace("\r", "\n")


def test_a_tag_in_a_name_stays_text() -> None:
    drawing = svg.document(
        1, 1, svg.text(0, 0, "<script>x</script>"), title='"><b>', description="&", key="a b"
    )
    assert "<script" not in drawing and "<b>" not in drawing
    assert "&lt;script&gt;" in drawing


def test_a_drawing_is_announced_by_title_and_description() -> None:
    root = ElementTree.fromstring(svg.document(4, 3, title="What", description="Why", key="My Drawing"))
    names = root.attrib["aria-labelledby"].split()
    assert root.attrib["role"] == "img" and root.attrib["viewBox"] == "0 0 4 3"
    assert names == ["my-drawing-title", "my-drawing-desc"]
    assert [e.text for e in root if e.attrib.get("id") in names] == ["What", "Why"]


def _luminance(colour: str) -> float:
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(a: str, b: str) -> float:
    """WCAG 2.1 contrast ratio (relative luminance of sRGB; memory, verify)."""
    high, low = sorted((_luminance(a), _luminance(b)), reverse=True)
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("side", [0, 1], ids=["light", "dark"])
def test_words_and_lines_stand_out_from_the_paper_in_light_and_dark(side: int) -> None:
    paper = VARIABLES["paper"][side]
    assert all(contrast(VARIABLES[n][side], paper) >= 4.5 for n in ("ink", "soft", "signal", "water"))
    assert all(contrast(pair[side], paper) >= 3.0 for n, pair in VARIABLES.items() if n.startswith("data-"))


@pytest.mark.parametrize("theme", [PAGE, PRINT], ids=lambda t: t.name)
def test_roles_are_told_apart_without_colour(theme: object) -> None:
    strokes = (PAGE if theme is PAGE else PRINT).roles.values()
    assert len({(s.width, s.dash) for s in strokes}) == len(strokes)


def test_print_is_black_and_greys_and_the_page_names_variables() -> None:
    used = [
        PRINT.ink,
        PRINT.soft,
        PRINT.rule,
        PRINT.signal,
        PRINT.water,
        *(s.colour for s in PRINT.roles.values()),
    ]
    assert all(c[1:3] == c[3:5] == c[5:7] for c in used)
    assert all(s.colour.startswith("var(--draw-") for s in PAGE.roles.values())
    assert all(f"--draw-{name}:" in stylesheet() for name in VARIABLES)
