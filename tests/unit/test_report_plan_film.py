"""Deck sheet and role cards: legible with wet hands, complete, refused where they cannot be."""

from __future__ import annotations

import ctypes
import datetime
import io
import re
import time
from collections.abc import Callable
from dataclasses import replace

import pikepdf
import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from oakum.lift.raising import RaisingPlan, RoleHeld, Step
from oakum.report import SheetError, deck_sheet_pdf, role_cards_pdf
from oakum.report import plan_phrases as say
from oakum.report.deck_sheet import deck_steps
from oakum.report.phrases import PLANNING_SUPPORT
from oakum.report.role_card import card_roles

DAY = datetime.date(2026, 5, 20)
MM = 72 / 25.4
HOSTILE = '<script>alert(1)</script> #panic("x") *b* $x$ \\ @a [c] "q" %'
Names = dict[str, str]


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
    """Clear width and height of every box of 1.1 points, mm; the bounds reach a stroke beyond its middle."""
    found = []
    for page in pypdfium2.PdfDocument(pdf):
        for item in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH]):
            stroke = ctypes.c_float()
            pdfium.FPDFPageObj_GetStrokeWidth(item, ctypes.byref(stroke))
            left, bottom, right, top = item.get_bounds()
            if abs(stroke.value - 1.1) < 0.01 and top - bottom > 10:
                found.append(((right - left - 3.3) / MM, (top - bottom - 3.3) / MM))
    return found


def sizes_mm(pdf: bytes) -> list[tuple[float, float]]:
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        return [(float(p.mediabox[2]) / MM, float(p.mediabox[3]) / MM) for p in opened.pages]


def many_steps(plan: RaisingPlan, count: int, abort: str) -> RaisingPlan:
    steps = tuple(
        Step(i, f"Step number {i}", "Do it.", "deck hand", None, "look", abort, "in" if i < 15 else "out")
        for i in range(1, count + 1)
    )
    return replace(plan, steps=steps)


def odd_plans(plan: RaisingPlan) -> dict[str, RaisingPlan]:
    return {
        "as it is": plan,
        "no objection": replace(plan, objections=(), blocked_by=()),
        "twelve objections": replace(
            plan, objections=tuple(f"reason {i} " + "why not " * 12 for i in range(12))
        ),
        "no bags": replace(plan, bags=None, trial=None),
        "withdrawn": replace(plan, stage="briefed", withdrawn="the hook was changed on 2026-05-19"),
        "25 steps": many_steps(plan, 25, "out of the band: lower"),
        "5 steps": many_steps(plan, 5, "out of the band: lower to the bed and find out why before going on"),
        "long title": replace(plan, title="A title in all the words somebody had for it, " * 4),
        "kN": replace(plan, cell_unit="kN"),
    }


ODD = (
    "as it is", "no objection", "twelve objections", "no bags", "withdrawn", "25 steps", "5 steps", "long title", "kN",
)  # fmt: skip


@pytest.fixture(params=ODD)
def deck(request: pytest.FixtureRequest, plan: RaisingPlan) -> bytes:
    return deck_sheet_pdf(odd_plans(plan)[request.param], date=DAY)


def test_the_deck_sheet_is_one_a4_page(deck: bytes) -> None:
    assert sizes_mm(deck) == [pytest.approx((210, 297), abs=0.2)]


def test_no_letter_of_the_deck_sheet_is_smaller_than_fourteen_points(deck: bytes) -> None:
    found = letters(deck)
    assert len(found) > 400
    assert not [(letter, round(size, 2)) for letter, size in found if size < 13.99]


def test_boxes_of_the_deck_sheet_are_at_least_twelve_millimetres(deck: bytes) -> None:
    found = boxes_mm(deck)
    assert len(found) >= 5 and min(min(box) for box in found) >= 12.0


def test_everything_of_the_deck_sheet_lies_on_the_page(deck: bytes) -> None:
    page = pypdfium2.PdfDocument(deck)[0].get_textpage()
    for index in range(page.count_rects()):
        left, bottom, right, top = page.get_rect(index)
        assert left >= 20 and right <= 595.3 - 20 and bottom >= 15 and top <= 842 - 15
    assert PLANNING_SUPPORT in words(deck)


@pytest.mark.parametrize("sheet", ["deck", "cards"])
def test_film_is_black_on_white(plan: RaisingPlan, names: Names, sheet: str) -> None:
    pdf = deck_sheet_pdf(plan, date=DAY) if sheet == "deck" else role_cards_pdf(plan, date=DAY, names=names)
    for page in pypdfium2.PdfDocument(pdf):
        picture = page.render(scale=0.5).to_pil().convert("RGB")
        assert max(max(p) - min(p) for _, p in picture.getcolors(1 << 20)) <= 8


def test_the_deck_sheet_says_what_is_done_on_deck_and_what_stops_it(plan: RaisingPlan) -> None:
    pdf = deck_sheet_pdf(plan, date=DAY)
    text = words(pdf)
    assert plan.trial is not None
    for statement in (
        "T-0001-7 Capstan (invented)",
        "draft: not briefed, not released",
        f"objections: {len(plan.objections)}, see file; the first:",
        f"objection: {plan.objections[0]}",
        f"Trial lift 0.3 to 0.5 m: expect {say.trial_expected(plan.trial)} hold 10 min",
        plan.trial.above,
        plan.trial.below,
        "Time of the whole lift not known: no minutes for step 2",
        "under water: Sling (slinging diver)",
        "under water: Fill the bags (bag diver)",
        "DIVERS OUT",
    ):
        assert statement in text, statement
    for _, load in say.hook_lines(plan):
        assert load in text
    on_deck = deck_steps(plan)
    assert {s.role for s in plan.steps} - {s.role for s in on_deck} == {"slinging diver", "bag diver"}
    assert len(boxes_mm(pdf)) == len(on_deck) + 1  # and one for what the cell reads
    for step in on_deck:
        assert step.title in text and step.role in text and step.abort in text
    assert not [s.action for s in plan.steps if s.role == "bag diver" and s.action in text]


def test_figures_read_against_an_instrument_are_at_least_twenty_points(plan: RaisingPlan) -> None:
    assert plan.trial is not None
    odd = replace(plan, trial=replace(plan.trial, low=7777.0, high=7777.0), title="x", number="")
    sizes = [size for letter, size in letters(deck_sheet_pdf(odd, date=DAY)) if letter == "7"]
    assert sum(size >= 19.99 for size in sizes) >= 8


def test_a_release_that_no_longer_holds_is_said(plan: RaisingPlan) -> None:
    text = words(deck_sheet_pdf(odd_plans(plan)["withdrawn"], date=DAY))
    assert "release withdrawn: the hook was changed on 2026-05-19" in text and "briefed, not released" in text


def test_a_plan_without_objection_has_the_other_verdict_only(plan: RaisingPlan) -> None:
    text = words(deck_sheet_pdf(odd_plans(plan)["no objection"], date=DAY))
    assert "no objection found under these assumptions" in text and "objection:" not in text


def test_abort_points_that_are_alike_are_said_once_where_it_is_tight(plan: RaisingPlan) -> None:
    text = words(deck_sheet_pdf(odd_plans(plan)["25 steps"], date=DAY))
    assert "Abort 1 to 25: out of the band: lower" in text
    roomy = words(deck_sheet_pdf(odd_plans(plan)["5 steps"], date=DAY))
    assert roomy.count("abort: out of the band") == 5


def test_steps_that_do_not_fit_are_refused_with_what_to_shorten(plan: RaisingPlan) -> None:
    long = many_steps(plan, 25, "")
    steps = tuple(replace(s, abort=f"{s.number} " + "stop and think " * 8) for s in long.steps)
    told = r"its 25 steps are \d+ mm too long; shorten the abort points of steps 1 to 25 to 70 characters"
    with pytest.raises(SheetError, match=told):
        deck_sheet_pdf(replace(long, steps=steps), date=DAY)
    with pytest.raises(SheetError, match="plan them as two lifts"):
        deck_sheet_pdf(many_steps(plan, 60, ""), date=DAY)
    with pytest.raises(SheetError, match="needs steps"):
        deck_sheet_pdf(replace(plan, steps=()), date=DAY)


def test_a_warm_deck_sheet_takes_less_than_a_second(plan: RaisingPlan) -> None:
    deck_sheet_pdf(plan, date=DAY)
    begun = time.perf_counter()
    deck_sheet_pdf(replace(plan, title="Another title"), date=DAY)
    assert time.perf_counter() - begun < 1.0


@pytest.fixture(scope="module")
def cards(plan: RaisingPlan, names: Names) -> bytes:
    return role_cards_pdf(plan, date=DAY, names=names)


def test_cards_are_a5_with_legible_letters_and_boxes(cards: bytes, plan: RaisingPlan) -> None:
    sizes = sizes_mm(cards)
    assert len(sizes) >= len(plan.roles) and all(s == pytest.approx((148, 210), abs=0.2) for s in sizes)
    assert not [letter for letter, size in letters(cards) if size < 13.99]
    found = boxes_mm(cards)
    asked = sum(1 for line in plan.go_no_go)
    nobody = sum(1 for role in plan.roles if role.person is None)
    assert len(found) == len(plan.steps) + 2 * asked + nobody
    assert min(min(box) for box in found) >= 12.0


def test_every_role_has_its_card_with_its_steps_and_lines(plan: RaisingPlan, names: Names) -> None:
    for role in plan.roles:
        text = words(role_cards_pdf(plan, date=DAY, names=names, roles=[role.role]))
        assert role.role in text and role.duty in text and "Where you must not be" in text
        for step in plan.steps:
            mine = step.role == role.role
            assert (f"{step.number} {step.title}" in text) == mine
            if mine:
                assert step.action in text and step.watch in text and step.abort in text
        for line in plan.go_no_go:
            if line.by == role.role:
                assert line.words in text
        assert names.get(role.person or "", role.person or "name") in text
        assert PLANNING_SUPPORT in text and say.water_words(role, plan.steps) in text


def test_a_card_says_when_its_holder_must_be_out_of_the_water(plan: RaisingPlan) -> None:
    diver = next(r for r in plan.roles if r.role == "bag diver")
    out = next(s for s in plan.steps if s.title == "Divers out")
    assert say.water_words(diver, plan.steps) == f'in the water from step {out.number}, "Divers out", on'
    leader = replace(diver, in_water=False)
    assert say.water_words(leader, plan.steps) == "in the water at any time during the lift"
    assert "not known: ask" in say.water_words(replace(diver, in_water=None), plan.steps)
    assert say.water_words(diver, ()) == "in the water when the load crosses the surface"


def test_a_role_that_only_a_step_names_gets_a_card_too(plan: RaisingPlan, names: Names) -> None:
    odd = replace(plan, steps=(*plan.steps, Step(99, "Watch the quay", "Look.", "quay watch", None)))
    assert [r.role for r in card_roles(odd)][-1] == "quay watch"
    text = words(role_cards_pdf(odd, date=DAY, names=names, roles=["quay watch"]))
    assert "quay watch: nobody is named" in text and "Watch the quay" in text


def test_cards_that_cannot_be_printed_say_why(plan: RaisingPlan, bare_plan: RaisingPlan) -> None:
    with pytest.raises(SheetError, match="name who does what"):
        role_cards_pdf(bare_plan, date=DAY, names={})
    with pytest.raises(SheetError, match="this plan has: lift leader"):
        role_cards_pdf(plan, date=DAY, names={}, roles=["cook"])


def hostile(plan: RaisingPlan) -> RaisingPlan:
    steps = tuple(replace(s, title=HOSTILE, action=HOSTILE, watch="", abort="") for s in plan.steps[:2])
    roles = (RoleHeld(steps[0].role, HOSTILE, "p-01", (), None, None, None, HOSTILE),)
    return replace(plan, title=HOSTILE, steps=steps, roles=roles, objections=(HOSTILE,), go_no_go=())


@pytest.mark.parametrize(
    "make", [deck_sheet_pdf, lambda p, date: role_cards_pdf(p, date=date, names={"p-01": HOSTILE})]
)
def test_what_people_write_stays_text(plan: RaisingPlan, make: Callable[..., bytes]) -> None:
    assert words(make(hostile(plan), date=DAY)).count(HOSTILE) >= 3


def test_the_same_plan_and_date_give_the_same_bytes(plan: RaisingPlan, names: Names, cards: bytes) -> None:
    assert deck_sheet_pdf(plan, date=DAY) == deck_sheet_pdf(plan, date=DAY)
    assert role_cards_pdf(plan, date=DAY, names=names) == cards
    assert deck_sheet_pdf(plan, date=DAY) != deck_sheet_pdf(plan, date=DAY + datetime.timedelta(days=1))


def test_demo_figures_say_that_they_are_invented(plan: RaisingPlan, names: Names, cards: bytes) -> None:
    assert "Invented figures: practice only." in words(deck_sheet_pdf(plan, date=DAY, demo=True))
    made = pypdfium2.PdfDocument(role_cards_pdf(plan, date=DAY, names=names, demo=True))
    assert all("Invented figures" in page.get_textpage().get_text_bounded() for page in made)
    assert "Invented figures" not in words(cards)


def test_film_sheets_of_a_plan_are_archival(plan: RaisingPlan, cards: bytes) -> None:
    for pdf_bytes in (deck_sheet_pdf(plan, date=DAY), cards):
        with pikepdf.open(io.BytesIO(pdf_bytes)) as pdf, pdf.open_metadata() as data:
            assert (data["pdfaid:part"], data["pdfaid:conformance"]) == ("2", "A")


def test_no_sheet_calls_anything_safe(plan: RaisingPlan, cards: bytes) -> None:
    for pdf in (deck_sheet_pdf(plan, date=DAY), cards):
        assert not re.search(r"\bsafe(ly)?\b", words(pdf), re.IGNORECASE)
