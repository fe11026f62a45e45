"""A cradle drawn, set as a sheet, printed and entered: the same pieces and figures everywhere."""

from __future__ import annotations

import ctypes
import datetime
import io
import re
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pypdfium2
import pypdfium2.raw as pdfium
import pytest
from rich.console import Console

from oakum.cli.main import run
from oakum.desk.finds.entering import FieldErrors
from oakum.desk.lifts.cradles import CradleUnknownError, cradle_of, keep_cradle, report_under, show_cradle
from oakum.desk.lifts.weigh import weighing_text
from oakum.draw.cradle import (
    VIEWS,
    assembly_drawing,
    assembly_rows,
    frame_use,
    joint_rows,
    sheet_scale,
    use_rows,
)
from oakum.draw.svg import DrawingError
from oakum.draw.theme import PRINT
from oakum.lift import starting_bodies
from oakum.lift.cradle import Built, CradlePlan, CradleReport, built, parse_cradle, starting_cradle
from oakum.record import Logbook
from oakum.report import SheetError, cradle_sheet_pdf, render_cradle
from oakum.report.cradle_sheet import cradle_data, run_of

DAY = datetime.date(2026, 7, 1)
Oakum = Callable[..., tuple[int, str, str]]


@cache
def framed() -> tuple[CradlePlan, Built, CradleReport]:
    plan = parse_cradle(starting_cradle("frame"))
    weighing = weighing_text(starting_bodies()["capstan"].toml, draws=2000, cradle=plan)
    return plan, built(plan), report_under(weighing, plan, 14.0)


def test_every_piece_has_a_mark_of_its_line_and_is_named_on_the_drawing() -> None:
    plan, made, _ = framed()
    assert len(set(made.marks.values())) == 19 and made.letters == ("A", "B", "C", "D", "E", "F")
    written = " ".join(
        text
        for view in VIEWS
        for text in re.findall(r">([A-Z]\d?(?:, [A-Z]\d?)*)</text>", assembly_drawing(plan, made, view))
    )
    assert set(re.findall(r"[A-Z]\d?", written)) == set(made.marks.values())


def test_the_drawing_measures_to_centre_lines_and_says_its_scale() -> None:
    plan, made, _ = framed()
    above = assembly_drawing(plan, made, VIEWS[0], theme=PRINT, scale=20)
    for place in ("50", "440", "720", "1000", "1280", "1560", "1950", "200", "1400"):
        assert f">{place}</text>" in above, place
    assert "scale 1:20 on A4" in above and ">2.00 m</text>" in above and ">1.60 m</text>" in above
    bearer = next(p for p in re.findall(r'd="M([^"]+)Z"', above) if p)
    xs = [float(c.split(",")[0]) for c in bearer.split()]
    assert max(xs) - min(xs) <= 2.0 / 20 * 72 / 0.0254 + 0.1
    with pytest.raises(DrawingError, match="take 1:"):
        assembly_drawing(plan, made, VIEWS[0], theme=PRINT, scale=5)
    assert sheet_scale(plan, width_pt=400.0, height_pt=480.0) == 20


def test_the_twins_of_the_drawings_hold_members_joints_and_use() -> None:
    plan, made, report = framed()
    rows = assembly_rows(made)
    assert [line[0] for line in rows.lines] == list(made.marks.values())
    assert ("B5", "bearer 5", "bearer", "100 x 100 mm", "1560, 100, 200", "1560, 1700, 200", "1,600") in rows.lines
    joints = joint_rows(made, report.frame)
    assert len(joints.lines) == 34 and joints.lines[0][1] == "C1 and B1" and "clear" in joints.lines[0][4]
    assert joint_rows(made).lines[0][4] == "not reckoned"
    assert report.frame is not None
    used = use_rows(plan, report.frame, made.marks)
    drawn = frame_use(plan, report.frame)
    assert len(used.lines) == 7 and all(line[1] in drawn for line in used.lines)


def test_steps_build_every_piece_once_and_make_every_joint_once() -> None:
    _, made, _ = framed()
    assert sorted(m for s in made.steps for m in s.marks) == sorted(made.marks.values())
    assert sorted(j for s in made.steps for j in s.joints) == sorted(j.name for j in made.assembly.joints)
    assert made.steps[0].joints == () and "runners" in made.steps[0].words
    assert run_of(["B1", "B2", "B3", "C1", "J9", "J10"]) == "B1 to B3, C1, J9, J10"


def test_the_sheet_holds_cutting_list_drawing_order_joints_and_cautions() -> None:
    plan, _, report = framed()
    pdf = cradle_sheet_pdf(plan, report, date=DAY, number="T-0001-X", demo=True)
    assert pdf == cradle_sheet_pdf(plan, report, date=DAY, number="T-0001-X", demo=True)
    text = " ".join(page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(pdf))
    for words in ("Cutting list", "1,600", "To buy", "Assembly drawing, 1:20", "Order of assembly", "Cautions", "J34"):
        assert words in text, words
    assert "Invented figures" in text and "it tips" in text and "checked before the lift by" in text
    lines = cradle_data(plan, report)["cut"]
    assert [(c["letter"], c["count"], c["length"]) for c in lines][:2] == [("A", "4", "600"), ("B", "5", "1,600")]


def test_the_page_for_the_saw_is_set_in_fourteen_points_and_more_above_its_foot() -> None:
    plan, _, report = framed()
    page = pypdfium2.PdfDocument(cradle_sheet_pdf(plan, report, date=DAY))[0].get_textpage()
    sizes = []
    for index in range(page.count_chars()):
        letter, matrix = chr(pdfium.FPDFText_GetUnicode(page, index)), pdfium.FS_MATRIX()
        pdfium.FPDFText_GetMatrix(page, index, ctypes.byref(matrix))
        if not letter.isspace() and page.get_charbox(index)[1] > 24 / 25.4 * 72:
            sizes.append(pdfium.FPDFText_GetFontSize(page, index) * (matrix.b**2 + matrix.d**2) ** 0.5)
    assert len(sizes) > 300 and min(sizes) >= 13.99 and max(sizes) >= 20.0


def test_a_cradle_that_no_find_presses_says_so_and_one_without_anything_is_refused() -> None:
    plan, _, _ = framed()
    assert cradle_data(plan)["objections"] == ["Not weighed: what it bears under its find is not known."]
    loose = parse_cradle('title = "Bed"\n[[bearing]]\nname = "sole"\narea = "1 m2"\n')
    with pytest.raises(SheetError, match="no members to saw"):
        cradle_sheet_pdf(loose, date=DAY)


def test_the_terminal_prints_what_is_sawn_and_what_it_bears() -> None:
    plan, _, report = framed()
    console = Console(file=io.StringIO(), width=120)
    render_cradle(plan, report, console)
    out = console.file.getvalue()  # type: ignore[attr-defined]
    for words in ("19 members, 34 joints", "objection: on lorry: it tips", "Order of assembly", "C1 runner 1"):
        assert words in out, words


@pytest.fixture
def book(tmp_path: Path) -> Logbook:
    with Logbook.create(tmp_path, "Sound", station="hut", author="director", prefix="S") as logbook:
        entry = logbook.append("find.entered", None, {"title": "capstan"}, author="director")
        assert entry.subject
    return Logbook.open(logbook.folder)


def test_a_cradle_is_entered_corrected_with_a_reason_and_kept_once(book: Logbook) -> None:
    find = book.find(next(e.subject for e in book.entries(kind="find.entered")))
    assert cradle_of(find) is None
    with pytest.raises(CradleUnknownError, match="has no cradle yet"):
        show_cradle(book, find.id)
    text = starting_cradle("frame")
    keep_cradle(book, find.id, text, author="director")
    shown = show_cradle(book, find.id)
    assert shown.toml == text and shown.report is None and "no body yet" in shown.why_not
    with pytest.raises(CradleUnknownError, match="holds already"):
        keep_cradle(book, find.id, text, author="director")
    other = text.replace('sag = "5 mm"', 'sag = "4 mm"')
    with pytest.raises(FieldErrors):
        keep_cradle(book, find.id, other, author="director")
    keep_cradle(book, find.id, other, author="director", reason="the conservator says 4 mm")
    body = {"toml": starting_bodies()["capstan"].toml}
    book.append("body.described", find.id, body, author="director")
    again = show_cradle(book, find.id)
    assert again.plan.sag_m == pytest.approx(0.004) and again.report is not None
    assert len(again.report.checks) > 100
    assert show_cradle(book, find.id).report is again.report
    book.close()


@pytest.fixture
def oakum(capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Oakum:
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("OAKUM_PROJECT", raising=False)

    def call(*words: object) -> tuple[int, str, str]:
        with pytest.raises(SystemExit) as ended:
            run([str(word) for word in words])
        out, err = capsys.readouterr()
        return int(ended.value.code or 0), out, err

    return call


def test_the_command_line_starts_checks_enters_shows_and_sets_a_cradle(
    oakum: Oakum, tmp_path: Path, book: Logbook
) -> None:
    number = next(iter(book.entries(kind="find.entered"))).subject
    book.close()
    code, out, _ = oakum("cradle", "start", "frame")
    file = tmp_path / "mine.toml"
    file.write_text(out, encoding="utf-8")
    assert code == 0 and out == starting_cradle("frame")
    assert "tray" in oakum("cradle", "start")[1]
    code, out, _ = oakum("cradle", "check", file)
    assert code == 0 and "Not weighed" in out and "To buy" in out
    code, out, err = oakum("cradle", "enter", number, file, "--project", book.folder)
    assert code == 0 and out.startswith("Entered "), err
    code, out, _ = oakum("cradle", "show", number, "--project", book.folder)
    assert code == 0 and "no body yet" in out
    code, out, _ = oakum("cradle", "sheet", number, "-o", tmp_path / "a.pdf", "--project", book.folder)
    assert code == 0 and (tmp_path / "a.pdf").read_bytes().startswith(b"%PDF")
    file.write_text(file.read_text(encoding="utf-8").replace("C24", "C25"), encoding="utf-8")
    code, _, err = oakum("cradle", "check", file)
    assert code == 2 and 'grade of section "runner"' in err and "line 14" in err
    file.write_text(starting_cradle("frame").replace('"5 mm"', '"4 mm"'), encoding="utf-8")
    code, _, err = oakum("cradle", "enter", number, file, "--project", book.folder)
    assert code == 2 and "--reason" in err
