"""The weight sheet on paper: archival, complete, the same bytes twice, whatever people wrote in it."""

from __future__ import annotations

import datetime
import io
import re
import time
from dataclasses import replace
from functools import lru_cache
from typing import Any

import numpy as np
import pikepdf
import pypdfium2
import pytest

from oakum.ground.estimate import Spread
from oakum.lift import CellReading, WeightReport, parse_body, starting_bodies, weigh
from oakum.report import weight_sheet_pdf
from oakum.report.pdf import date_words
from oakum.report.phrases import hanging_words

DAY = datetime.date(2026, 5, 3)


@lru_cache
def capstan(reading_kg: float | None = None) -> WeightReport:
    body = parse_body(starting_bodies()["capstan"].toml, name="capstan")
    readings = () if reading_kg is None else (CellReading(reading_kg, 15.0, f"{reading_kg:g} ± 15 kg", 4.0),)
    return weigh(body, rng=np.random.default_rng(7), draws=4000, seed=7, readings=readings)


@lru_cache
def sheet() -> bytes:
    return weight_sheet_pdf(capstan(), date=DAY)


def words(pdf: bytes) -> str:
    """All text of the PDF, blanks and line breaks made one blank."""
    document = pypdfium2.PdfDocument(pdf)
    pages = [page.get_textpage().get_text_bounded() for page in document]
    return re.sub(r"\s+", " ", " ".join(pages))


def fonts(pdf: pikepdf.Pdf) -> dict[str, pikepdf.Object]:
    """Every font of the file by its name, those inside drawings included."""
    found: dict[str, Any] = {}
    for item in pdf.objects:
        if isinstance(item, pikepdf.Dictionary) and item.get("/Type") == "/FontDescriptor":
            found[str(item["/FontName"])] = item
    return found


def alt_texts(pdf: pikepdf.Pdf) -> list[str]:
    return [str(o["/Alt"]) for o in pdf.objects if isinstance(o, pikepdf.Dictionary) and "/Alt" in o]


def test_the_file_says_it_is_pdf_a_2a_and_pdf_ua_1() -> None:
    with pikepdf.open(io.BytesIO(sheet())) as pdf, pdf.open_metadata() as data:
        assert (data["pdfaid:part"], data["pdfaid:conformance"], data["pdfuaid:part"]) == ("2", "A", "1")
        assert data["dc:title"] == "Capstan (invented): weight sheet"
        assert data["xmp:CreateDate"].startswith("2026-05-03")
        assert str(pdf.Root["/Lang"]).startswith("en")
        assert pdf.Root["/MarkInfo"]["/Marked"] and "/StructTreeRoot" in pdf.Root
        assert not pdf.is_encrypted and "/Names" not in pdf.Root


def test_only_the_fonts_of_the_package_are_used_and_all_are_embedded() -> None:
    with pikepdf.open(io.BytesIO(sheet())) as pdf:
        found = fonts(pdf)
        assert {name.partition("+")[2] for name in found} == {
            "Inter-Regular", "Inter-SemiBold", "Vollkorn-SemiBold",
        }  # fmt: skip
        assert all(any(f"/FontFile{k}" in font for k in ("", "2", "3")) for font in found.values())


def test_every_page_is_a4() -> None:
    with pikepdf.open(io.BytesIO(sheet())) as pdf:
        for page in pdf.pages:
            width, height = (float(page.mediabox[i]) / 72 * 25.4 for i in (2, 3))
            assert (width, height) == pytest.approx((210, 297), abs=0.1)


def test_the_sheet_states_what_it_must() -> None:
    report, text = capstan(), words(sheet())
    for state in report.states:
        assert state.title in text
    clear = report.state("clear").load_kg
    for statement in (
        "Weight sheet 3 May 2026",
        "no objection found under these assumptions",
        f"{report.state('clear').title}: {clear.words()}.",
        "low, P5 likely high, P95",
        "What drives the width",
        "To scale, 1:20 when printed at full size on A4",
        "Where the hook must be",
        "Hook load against height of the lowest point above the water",
        "Not weighed under water yet.",
        "an upper bound, to be dug, vented and tilted away",
        "checked by (competent person)",
        f"Oakum {report.version}, 4,000 draws, seed 7.",
        "Planning support: local codes, the gear's own papers and competent persons govern.",
    ):
        assert statement in text, statement
    for said in (*report.cautions, *report.assumptions, *report.open_questions):
        assert said[:60] in text, said


def test_every_part_stands_in_the_list_with_its_weights() -> None:
    text = words(sheet())
    for part in capstan().parts:
        assert part.name in text and part.role in text
    assert "Object with its crust, saturated, in air: likely" in text


def test_drawings_are_described_in_words() -> None:
    with pikepdf.open(io.BytesIO(sheet())) as pdf:
        alts = " | ".join(alt_texts(pdf))
    for beginning in (
        "From the front: Capstan",
        "From above: Capstan",
        "What drives the width",
        "hook load against",
    ):
        assert beginning in alts


def test_the_same_report_and_date_give_the_same_bytes_and_another_date_others() -> None:
    assert weight_sheet_pdf(capstan(), date=DAY) == sheet()
    assert weight_sheet_pdf(capstan(), date=DAY + datetime.timedelta(days=1)) != sheet()


def test_every_page_of_the_demo_says_that_its_figures_are_invented() -> None:
    pages = pypdfium2.PdfDocument(weight_sheet_pdf(capstan(), date=DAY, demo=True))
    assert all("Invented figures" in page.get_textpage().get_text_bounded() for page in pages)
    assert "Invented figures" not in words(sheet())


HOSTILE = '<script>alert(1)</script> #panic("x") *b* $x$ \\ @a [c] "q" %'


def test_what_people_write_stays_text_wherever_it_stands() -> None:
    parts = tuple(replace(p, name=f"{p.name} {HOSTILE}", material=HOSTILE) for p in capstan().parts)
    odd = replace(
        capstan(), title=f"Title {HOSTILE}", parts=parts, objections=(HOSTILE,), assumptions=(HOSTILE,)
    )
    text = words(weight_sheet_pdf(odd, date=DAY))
    assert text.count(f"{HOSTILE}") >= 3 and "objection: <script>" in text


def test_a_long_title_forty_parts_and_many_objections_lose_nothing() -> None:
    base = capstan()
    odd = replace(
        base,
        title="A title in all the words that somebody had for it, " * 4,
        parts=tuple(replace(base.parts[i % len(base.parts)], name=f"part number {i}") for i in range(40)),
        objections=tuple(f"reason {i} why nothing can be said about this object yet" for i in range(12)),
        open_questions=tuple(f"question {i}" for i in range(30)),
        hanging=replace(base.hanging, swing_m=None, tilt_deg=None, why_no_tilt="it may float or capsize"),
        breakout_kg=None,
        draining=None,
    )
    pdf = weight_sheet_pdf(odd, date=DAY)
    text = words(pdf)
    assert all(f"part number {i} " in text for i in range(40))
    assert all(f"objection: reason {i} why" in text for i in range(12)) and "question 29" in text
    assert "No tilt is given: it may float or capsize." in text
    assert "The bed is not described" in text and "time after" not in text
    assert "no objection" not in text
    for page in pypdfium2.PdfDocument(pdf):
        text_page = page.get_textpage()
        for index in range(text_page.count_rects()):
            left, bottom, right, top = text_page.get_rect(index)
            assert left >= 45 and right <= 595.3 - 45 and bottom >= 20 and top <= 842 - 20


def test_a_reading_that_fits_narrows_and_the_sheet_says_by_how_much() -> None:
    likely = capstan().state("submerged").load_kg.best
    done = capstan(float(round(likely)))
    text = words(weight_sheet_pdf(done, date=DAY))
    assert done.conditioning is not None
    assert f"Load cell under water: {round(likely)} ± 15 kg, of which 4.00 kg is gear" in text
    assert f"Model alone, under water: {done.conditioning.before_kg.words()}." in text
    assert f"With the reading: {done.conditioning.after_kg.words()};" in text


def test_a_reading_far_off_the_model_is_not_said_to_narrow_it() -> None:
    text = words(weight_sheet_pdf(capstan(1500.0), date=DAY))
    assert "Reading and model do not agree" in text and "With the reading:" not in text


def test_a_body_that_hangs_the_same_in_water_and_air_is_said_not_to_move() -> None:
    still = replace(capstan().hanging, swing_m=Spread(0.0, 0.0, 0.0, 0.0, 0.0, "m"))
    assert hanging_words(replace(capstan(), hanging=still))[0] == (
        "The hanging point does not move on leaving the water."
    )


def test_a_warm_sheet_takes_less_than_a_second() -> None:
    weight_sheet_pdf(capstan(), date=DAY)
    other = replace(capstan(), title="Another title")
    begun = time.perf_counter()
    weight_sheet_pdf(other, date=DAY)
    assert time.perf_counter() - begun < 1.0


def test_dates_are_written_so_that_no_two_habits_of_reading_differ() -> None:
    assert date_words(datetime.date(2026, 12, 1)) == "1 December 2026"
