"""Sheets for waterproof film: black, letters and boxes large enough for a pencil and gloves, codes that read."""

from __future__ import annotations

import ctypes
import datetime
import io
import re
from functools import lru_cache

import pikepdf
import pypdfium2
import pypdfium2.raw as pdfium
import pytest
import segno

from oakum.draw.sketches import letters as sketch_letters
from oakum.draw.sketches import sketch, sketched_kinds
from oakum.lift.body.shapes import SHAPES
from oakum.report import MEASURING_CARD_FIELDS, IntakeSlip, SheetError, intake_slip_pdf, measuring_card_pdf
from oakum.report.intake_slip import INTAKE_SLIP_FIELDS, QUIET_MODULES, code_side_mm

DAY = datetime.date(2026, 5, 3)
MM = 72 / 25.4
FULL = IntakeSlip(
    "T-0001-7", "stoneware jar & <b>handle</b>", "1", "2 May, 14:20", "grid D4, north of the mast step",
    "diver 7", "tub 3", "sea",
)  # fmt: skip


@lru_cache
def slips() -> bytes:
    return intake_slip_pdf(["T-0001-7", FULL, ""], date=DAY)


@lru_cache
def card(kind: str, paper: str = "a4") -> bytes:
    return measuring_card_pdf(kind, date=DAY, number="T-0001-7", paper=paper)


SHEETS = {
    "slips": slips,
    **{f"{kind} {paper}": (lambda k=kind, p=paper: card(k, p)) for kind in SHAPES for paper in ("a4", "a5")},
}


def letters(pdf: bytes) -> list[tuple[str, float]]:
    """Every visible character with its size on paper, points."""
    found = []
    for page in pypdfium2.PdfDocument(pdf):
        text = page.get_textpage()
        for index in range(text.count_chars()):
            letter = chr(pdfium.FPDFText_GetUnicode(text, index))
            matrix = pdfium.FS_MATRIX()
            pdfium.FPDFText_GetMatrix(text, index, ctypes.byref(matrix))
            if not letter.isspace():
                size = pdfium.FPDFText_GetFontSize(text, index)
                found.append((letter, size * (matrix.b**2 + matrix.d**2) ** 0.5))
    return found


def words(pdf: bytes) -> str:
    pages = [page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(pdf)]
    return " ".join(" ".join(pages).split())


def boxes_mm(pdf: bytes) -> list[tuple[float, float]]:
    """Clear width and height of every box to write in, mm: the outlines of 1.1 points, which nothing else has.

    The bounds that the reader gives reach one stroke beyond the middle of the line on either side.
    """
    found = []
    for page in pypdfium2.PdfDocument(pdf):
        for item in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH]):
            stroke = ctypes.c_float()
            pdfium.FPDFPageObj_GetStrokeWidth(item, ctypes.byref(stroke))
            if abs(stroke.value - 1.1) < 0.01:
                left, bottom, right, top = item.get_bounds()
                found.append(((right - left - 3.3) / MM, (top - bottom - 3.3) / MM))
    return found


@pytest.mark.parametrize("name", SHEETS)
def test_no_letter_is_smaller_than_fourteen_points(name: str) -> None:
    found = letters(SHEETS[name]())
    assert len(found) > 60
    small = [(letter, round(size, 2)) for letter, size in found if size < 13.99]
    assert not small


@pytest.mark.parametrize("name", SHEETS)
def test_boxes_are_at_least_twelve_millimetres_high(name: str) -> None:
    found = boxes_mm(SHEETS[name]())
    boxes = sum(2 if f.group == "measure" else 1 for f in MEASURING_CARD_FIELDS.get(name[:-3], ()))
    assert len(found) == (boxes or 3 * 9 + 1)  # three slips, two ticks each, one with a box for its number
    assert min(h for _, h in found) >= 12.0 and min(w for w, _ in found) >= 12.0


@pytest.mark.parametrize("name", SHEETS)
def test_the_sheet_is_black_on_white(name: str) -> None:
    for page in pypdfium2.PdfDocument(SHEETS[name]()):
        picture = page.render(scale=0.5).to_pil().convert("RGB")
        assert max(max(p) - min(p) for _, p in picture.getcolors(1 << 20)) <= 8


def test_values_are_at_least_twenty_points() -> None:
    sizes = dict(letters(intake_slip_pdf([IntakeSlip("7", what="ZZZ")], date=DAY)))
    assert sizes["Z"] >= 19.99


@pytest.mark.parametrize(("paper", "size"), [("a4", (210, 297)), ("a5", (148, 210))])
def test_cards_have_the_size_of_their_paper(paper: str, size: tuple[float, float]) -> None:
    with pikepdf.open(io.BytesIO(card("ring", paper))) as pdf:
        for page in pdf.pages:
            assert [float(v) / MM for v in page.mediabox[2:]] == pytest.approx(size, abs=0.2)
        assert len(pdf.pages) == (1 if paper == "a4" else 2)


def test_film_sheets_are_archival_too() -> None:
    for pdf_bytes in (slips(), card("barrel")):
        with pikepdf.open(io.BytesIO(pdf_bytes)) as pdf, pdf.open_metadata() as data:
            assert (data["pdfaid:part"], data["pdfaid:conformance"]) == ("2", "A")


def test_a_slip_asks_for_every_field_and_keeps_what_is_known() -> None:
    text = words(slips())
    assert all(label in text for _, label in INTAKE_SLIP_FIELDS)
    for value in ("T-0001-7", "stoneware jar & <b>handle</b>", "2 May, 14:20", "diver 7", "tub 3"):
        assert value in text
    assert len(pypdfium2.PdfDocument(slips())) == 3


@pytest.mark.parametrize("number", ["T-0001-7", "WK/1987/0032-b"])
def test_the_code_on_the_slip_is_the_number_at_level_h_with_its_quiet_zone(number: str) -> None:
    """The modules printed are those a general QR library gives for the number (segno; ISO/IEC 18004)."""
    symbol = segno.make(number, error="h", micro=False, boost_error=False)
    assert symbol.error == "H" and QUIET_MODULES == 4
    page = pypdfium2.PdfDocument(intake_slip_pdf([number], date=DAY))[0]
    scale = 4.0
    picture = page.render(scale=scale).to_pil().convert("L")
    side = code_side_mm(number) * MM
    left, top = page.get_width() - 9 * MM - side, None
    for row in range(picture.height):  # the first dark row in the column of the top left finder
        if picture.getpixel((int((left + 4.5 * MM) * scale), row)) < 128:
            top = row / scale - QUIET_MODULES * MM
            break
    assert top is not None
    for i, line in enumerate(symbol.matrix):
        for j, dark in enumerate(line):
            x, y = left + (j + QUIET_MODULES + 0.5) * MM, top + (i + QUIET_MODULES + 0.5) * MM
            assert (picture.getpixel((int(x * scale), int(y * scale))) < 128) == bool(dark)
    for k in range(QUIET_MODULES):  # nothing is printed in the quiet zone
        assert picture.getpixel((int((left + (k + 0.5) * MM) * scale), int((top + side / 2) * scale))) > 200


def test_the_number_in_words_is_larger_than_its_code() -> None:
    page = pypdfium2.PdfDocument(intake_slip_pdf(["T-0001-7"], date=DAY))[0].get_textpage()
    wide = [page.get_rect(i) for i in range(page.count_rects())]
    widest = max(right - left for left, _, right, top in wide)
    assert widest > code_side_mm("T-0001-7") * MM


def test_a_slip_that_cannot_be_printed_says_why() -> None:
    with pytest.raises(SheetError, match="no slip to print"):
        intake_slip_pdf([], date=DAY)
    with pytest.raises(SheetError, match="longer than 24"):
        intake_slip_pdf(["9" * 25], date=DAY)


@pytest.mark.parametrize("kind", list(SHAPES))
def test_a_card_asks_for_the_measures_of_its_kind_in_order(kind: str) -> None:
    lettered = [f for f in MEASURING_CARD_FIELDS[kind] if f.letter]
    assert tuple(f.key for f in lettered) == SHAPES[kind].keys
    assert [f.letter for f in lettered] == list("ABC")[: len(lettered)]
    text = words(card(kind))
    assert all(field.label in text for field in MEASURING_CARD_FIELDS[kind])
    shown = [letter for letter, size in letters(card(kind)) if size >= 19.9]
    assert all(shown.count(f.letter) >= 2 for f in lettered)  # in the sketch and beside its box


def test_the_letters_of_a_ring_stand_at_the_diameters_they_name() -> None:
    drawing, named = sketch("ring"), sketch_letters("ring")
    reach = {}
    for start, end in re.findall(
        r'<line x1="([\d.]+)" y1="[\d.]+" x2="([\d.]+)" y2="[\d.]+" stroke-width="0.8"', drawing
    ):
        following = re.search(r">([ABC])</text>", drawing[drawing.index(f'<line x1="{start}"') :])
        assert following is not None
        reach[following.group(1)] = abs(float(end) - float(start))
    assert reach[named["outer_diameter"]] > reach[named["inner_diameter"]] > reach[named["height"]] == 0


@pytest.mark.parametrize("kind", list(SHAPES))
def test_every_measure_of_a_kind_is_in_its_sketch(kind: str) -> None:
    assert set(re.findall(r">([A-F])</text>", sketch(kind))) == set(sketch_letters(kind).values())


def test_every_kind_has_a_sketch_and_a_mesh_has_no_card() -> None:
    assert set(sketched_kinds()) == set(SHAPES) == set(MEASURING_CARD_FIELDS)
    with pytest.raises(SheetError, match="take one of: box, plank"):
        measuring_card_pdf("mesh", date=DAY)
    with pytest.raises(SheetError, match="a4 or a5"):
        measuring_card_pdf("box", date=DAY, paper="letter")


def test_the_same_card_gives_the_same_bytes() -> None:
    assert measuring_card_pdf("box", date=DAY) == measuring_card_pdf("box", date=DAY)
    assert "Invented" in words(measuring_card_pdf("box", date=DAY, demo=True))
