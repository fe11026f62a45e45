"""The plan on paper: a ruler on it measures the site; the diver's sheet is black, large, and has boxes."""

from __future__ import annotations

import ctypes
import io
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pikepdf
import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from oakum.cli.main import run
from oakum.desk.seabed.survey import survey_of
from oakum.record import Logbook
from oakum.report.pdf import SheetError
from oakum.report.site_sheet import SheetAsked, site_sheet_pdf, square_sheet_pdf

ON = date(2026, 6, 14)
MM = 72 / 25.4


@pytest.fixture(scope="module")
def book(survey_into: Any, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Logbook]:
    with Logbook.create(tmp_path_factory.mktemp("sheet"), "Tolmarren", author="director", prefix="T") as logbook:
        find = logbook.append("find.entered", None, {"title": "capstan"}, author="recorder").subject
        survey_into(logbook, find=find)
        ring = (("a", "5", "4"), ("b", "9", "4"), ("c", "9", "8"), ("d", "5", "8"))
        corners = [{"name": n, "x": x, "y": y} for n, x, y in ring]
        logbook.append("dig.square", None, {"name": "B2", "corners": corners}, author="director")
        yield logbook


def sheet(book: Logbook, asked: SheetAsked) -> bytes:
    survey = survey_of(book)
    return site_sheet_pdf(book, survey, survey.solution, asked, on=ON)


def text(pdf: bytes) -> str:
    return "\n".join(page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pdf))


def middle_of(pdf: bytes, words: str) -> float:
    """Where the highest appearance of these words is centred on the first page, points from the left."""
    page = pypdfium2.PdfDocument(pdf)[0].get_textpage()
    search, found = page.search(words, match_whole_word=True), []
    while (hit := search.get_next()) is not None:
        boxes = [page.get_charbox(hit[0] + i) for i in range(hit[1])]
        found.append((max(b[3] for b in boxes), (min(b[0] for b in boxes) + max(b[2] for b in boxes)) / 2))
    return max(found)[1]


@pytest.mark.parametrize(("paper", "size"), [("a4", (297, 210)), ("a3", (420, 297))])
def test_a_ruler_on_the_sheet_measures_the_site(book: Logbook, paper: str, size: tuple[int, int]) -> None:
    pdf = sheet(book, SheetAsked(paper, 200))
    page = pypdfium2.PdfDocument(pdf)[0]
    assert tuple(round(v / MM) for v in page.get_size()) == size
    metres = (middle_of(pdf, "20") - middle_of(pdf, "10")) / MM / 1000 * 200
    assert metres == pytest.approx(10.0, abs=0.05)
    said = text(pdf)
    assert "1:200" in said and "printed at full size" in said


def test_the_sheet_takes_the_largest_round_scale_that_holds_everything(book: Logbook) -> None:
    small, large = text(sheet(book, SheetAsked("a4"))), text(sheet(book, SheetAsked("a3")))
    assert "1:200" in small and "1:100" in large


def test_the_sheet_says_datum_method_sigma_date_and_that_positions_are_local(book: Logbook) -> None:
    said = " ".join(text(sheet(book, SheetAsked("a3"))).split())
    for words in ("held at A", "least squares of", "readings scatter", "14 June 2026", "withheld", "95 %"):
        assert words in said, words
    assert "misread by 1 m" in said
    assert "objection: hut-" in said and "Places of 13 marks" in said
    with pikepdf.open(io.BytesIO(sheet(book, SheetAsked()))) as held:
        assert held.Root.MarkInfo.Marked and len(held.pages) == 2


def test_one_sheet_twice_is_the_same_file(book: Logbook) -> None:
    assert sheet(book, SheetAsked()) == sheet(book, SheetAsked())


def test_a_paper_or_scale_there_is_none_of_is_refused(book: Logbook, tmp_path: Path) -> None:
    with pytest.raises(SheetError, match="a4 or a3"):
        sheet(book, SheetAsked("a7"))
    with pytest.raises(SheetError, match="1:37 is no scale"):
        sheet(book, SheetAsked("a4", 37))
    with pytest.raises(SheetError, match='no square "Z9"; squares: B2'):
        square_sheet_pdf(book, survey_of(book), "Z9", on=ON)
    with Logbook.create(tmp_path, "Empty", author="director") as empty, pytest.raises(SheetError, match="no plan"):
        sheet(empty, SheetAsked())


def test_the_divers_sheet_is_black_with_words_of_14_points_and_boxes_of_12_mm(book: Logbook) -> None:
    pdf = square_sheet_pdf(book, survey_of(book), "b2", on=ON)
    sizes, boxes = [], 0
    for page in pypdfium2.PdfDocument(pdf):
        words = page.get_textpage()
        for i in range(words.count_chars()):
            if words.get_text_range(i, 1).strip():
                sizes.append(pdfium.FPDFText_GetFontSize(words.raw, i) * _scale(words, i))
        for one in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH]):
            left, low, right, high = one.get_bounds()
            boxes += high - low >= 12 * MM and right - left >= 12 * MM
        assert all(max(c) - min(c) <= 8 for c in _colours(page))  # nothing but black, white and their edges
    assert min(sizes) >= 13.95 and boxes >= 3 + 24 + 4
    said = text(pdf)
    assert "Square B2" in said and "1:50" in said and "P1" in said and "13.95 m down" in said


def _scale(words: Any, index: int) -> float:
    matrix = pdfium.FS_MATRIX()
    assert pdfium.FPDFText_GetMatrix(words.raw, index, ctypes.byref(matrix))
    return float(abs(matrix.d))


def _colours(page: Any) -> set[tuple[int, ...]]:
    image = page.render(scale=1).to_pil().convert("RGB")
    return {colour for _, colour in image.getcolors(1 << 20)}


def test_the_command_line_writes_the_same_files(
    book: Logbook, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    from oakum.desk.seabed.exports import site_export
    from oakum.report.site_files import FILE_KINDS

    def oakum(*words: str) -> tuple[int, str]:
        with pytest.raises(SystemExit) as ended:
            run(["survey", *words, "--project", str(book.folder)])
        held = capsys.readouterr()
        return int(ended.value.code or 0), held.out + held.err

    for kind in ("marks", "readings", "svg", "gpkg"):
        file = tmp_path / kind
        code, said = oakum("export", kind, "-o", str(file))
        assert code == 0 and "local grid" in said
        assert file.read_bytes() == FILE_KINDS[kind].write(site_export(book, on=date.today()))
    assert oakum("export", "dwg", "-o", str(tmp_path / "x")) == (
        2, 'oakum: There is no file "dwg"; choose one of marks, readings, about, svg, dxf, gpkg.\n'
    )  # fmt: skip
    assert oakum("plan", "-o", str(tmp_path / "p.pdf"), "--scale", "100")[0] == 0
    assert oakum("square", "B2", "-o", str(tmp_path / "s.pdf"))[0] == 0
    assert (tmp_path / "p.pdf").read_bytes()[:5] == (tmp_path / "s.pdf").read_bytes()[:5] == b"%PDF-"
    asked = ("--to", "archive", "--because", "asked", "--by", "director", "-o", str(tmp_path / "r.geojson"))
    code, said = oakum("release", "datums", *asked)
    assert code == 2 and "not tied to a map grid" in said and not (tmp_path / "r.geojson").exists()
    assert oakum("release", "secrets", *asked)[0] == 2
