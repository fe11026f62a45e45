"""Sheets for the slate: black, words of 14 points, values of 20, boxes of 12 mm, a line a reading."""

from __future__ import annotations

import ctypes
import datetime
import io
import itertools

import pikepdf
import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from oakum.desk.seabed.typed import TYPED_FIELDS
from oakum.report import SheetError, TapeLine, depth_sheet_pdf, tape_sheet_pdf
from oakum.report.slate_sheet import ROWS

DAY = datetime.date(2026, 6, 12)
MM = 72 / 25.4
LINES = [TapeLine("A1", "B2", 12.34), TapeLine("A10", "Bow post", 3.2)]


def words_with_sizes(pdf: bytes) -> list[tuple[str, float]]:
    found = []
    for page in pypdfium2.PdfDocument(pdf):
        text = page.get_textpage()
        for index in range(text.count_chars()):
            letter = chr(pdfium.FPDFText_GetUnicode(text, index))
            matrix = pdfium.FS_MATRIX()
            pdfium.FPDFText_GetMatrix(text, index, ctypes.byref(matrix))
            if not letter.isspace():
                scale = (matrix.b**2 + matrix.d**2) ** 0.5
                found.append((letter, pdfium.FPDFText_GetFontSize(text, index) * scale))
    return found


def text_of(pdf: bytes) -> list[str]:
    return [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pdf)]


@pytest.mark.parametrize("paper", ["a5", "a4"])
def test_words_are_14_points_names_of_marks_20_and_rows_12_mm(paper: str) -> None:
    pdf = tape_sheet_pdf(LINES, date=DAY, paper=paper, title="Tolmarren", expected=True)
    sizes = words_with_sizes(pdf)
    assert min(size for _, size in sizes) >= 13.99
    whole = "".join(letter for letter, _ in sizes)
    at = whole.index("Bowpost")
    assert all(size >= 19.99 for _, size in sizes[at : at + 7])
    page = pypdfium2.PdfDocument(pdf)[0]
    rules = sorted(
        {round(obj.get_bounds()[1], 1) for obj in page.get_objects() if obj.type == pdfium.FPDF_PAGEOBJ_PATH},
        reverse=True,
    )
    tall = [high - low for high, low in itertools.pairwise(rules) if high - low >= 12 * MM]
    assert len(tall) == ROWS[paper]
    width = {"a5": 148, "a4": 210}[paper]
    assert page.get_width() == pytest.approx(width * MM, abs=0.5)


def test_the_pairs_stand_in_order_and_the_expected_length_only_where_asked() -> None:
    (blind,) = text_of(tape_sheet_pdf(LINES, date=DAY))
    assert blind.index("A1") < blind.index("B2") < blind.index("A10") and "about" not in blind
    (told,) = text_of(tape_sheet_pdf(LINES, date=DAY, expected=True))
    assert "about 12.3" in told and "about 3.2" in told


def test_columns_are_the_four_fields_of_the_entry_page_in_their_order() -> None:
    (tape,) = text_of(tape_sheet_pdf([], date=DAY))
    (depth,) = text_of(depth_sheet_pdf([], date=DAY))
    for what, text in (("tape", tape), ("depth", depth)):
        labels = [field.label.lower() for field in TYPED_FIELDS[what]]
        places = [text.lower().index(label, text.index("read by") + 7) for label in labels]
        assert places == sorted(places)


def test_the_bench_mark_stands_first_and_last_and_many_lines_go_on_to_another_page() -> None:
    (page,) = text_of(depth_sheet_pdf(["A2", "A1", "B1"], date=DAY, bench="A1"))
    assert page.count("A1") == 2 and page.index("A1") < page.index("A2") < page.rindex("A1")
    pages = text_of(tape_sheet_pdf([TapeLine("A", f"B{i}") for i in range(25)], date=DAY))
    assert len(pages) == 3 and "1 of 3" in pages[0] and "B24" in pages[2]


def test_the_same_input_gives_the_same_bytes_and_the_demo_says_so() -> None:
    first, second = (tape_sheet_pdf(LINES, date=DAY, demo=True) for _ in range(2))
    assert first == second and "Invented: practice only." in text_of(first)[0]
    with pikepdf.open(io.BytesIO(first)) as pdf:
        assert pdf.docinfo["/Title"] == "Tape sheet"


def test_what_cannot_be_printed_is_refused() -> None:
    with pytest.raises(SheetError, match="printed on a5 or a4"):
        tape_sheet_pdf(LINES, date=DAY, paper="a3")
    with pytest.raises(SheetError, match="does not fit a slate"):
        tape_sheet_pdf([TapeLine("the great stern post", "B")], date=DAY)
    with pytest.raises(SheetError, match="print several"):
        tape_sheet_pdf([TapeLine("A", "B")] * 300, date=DAY)
