"""The file of a lift plan and its terminal rendering: everything, archival, whatever people wrote."""

from __future__ import annotations

import datetime
import io
import re
import time
from dataclasses import replace

import pikepdf
import pypdfium2
import pytest
from rich.console import Console

from oakum.draw.hook_load import LoadPoint
from oakum.draw.utilisation import percent_words
from oakum.ground.estimate import Spread
from oakum.lift.checks import Check, Rule
from oakum.lift.raising import GearItem, RaisingPlan
from oakum.report import plan_file_pdf, render_plan
from oakum.report import plan_phrases as say
from oakum.report.phrases import DEMO, PLANNING_SUPPORT
from oakum.report.plan_terminal import bar

DAY = datetime.date(2026, 5, 20)
HOSTILE = '<script>alert(1)</script> #panic("x") *b* $x$ \\ @a [c] "q" %'
POINTS = (LoadPoint(-2.2, 500.0, "12:01, reader"), LoadPoint(-1.0, 2400.0, "12:20"))
Names = dict[str, str]


def words(pdf: bytes) -> str:
    pages = [page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(pdf)]
    return re.sub(r"\s+", " ", " ".join(pages))


@pytest.fixture(scope="module")
def pdf(plan: RaisingPlan, names: Names) -> bytes:
    return plan_file_pdf(plan, date=DAY, names=names, points=POINTS)


@pytest.fixture(scope="module")
def text(pdf: bytes) -> str:
    return words(pdf)


def shown(plan: RaisingPlan, names: Names, width: int = 80, *, demo: bool = False) -> str:
    console = Console(file=io.StringIO(), width=width, color_system=None)
    render_plan(plan, console, names=names, points=POINTS, demo=demo)
    assert isinstance(console.file, io.StringIO)
    return console.file.getvalue()


def flat(said: str) -> str:
    return " ".join(said.split())


def test_the_file_is_archival_a4_with_the_fonts_of_the_package(pdf: bytes) -> None:
    with pikepdf.open(io.BytesIO(pdf)) as opened, opened.open_metadata() as data:
        assert (data["pdfaid:part"], data["pdfaid:conformance"], data["pdfuaid:part"]) == ("2", "A", "1")
        assert data["dc:title"] == "Capstan (invented): lift plan"
        fonts = {
            str(o["/FontName"]).partition("+")[2]
            for o in opened.objects
            if isinstance(o, pikepdf.Dictionary) and o.get("/Type") == "/FontDescriptor"
        }
        assert fonts == {"Inter-Regular", "Inter-SemiBold", "Vollkorn-SemiBold"}
        for page in opened.pages:
            assert [float(v) / 72 * 25.4 for v in page.mediabox[2:]] == pytest.approx([210, 297], abs=0.1)


def test_the_first_page_has_verdict_loads_and_trial(plan: RaisingPlan, pdf: bytes) -> None:
    first = flat(pypdfium2.PdfDocument(pdf)[0].get_textpage().get_text_bounded())
    for line in say.verdict_lines(plan):
        assert line in first
    assert plan.governing is not None and plan.governing.title in first
    assert say.trial_sentence(plan.trial) in first and "Stage: draft: not briefed, not released." in first
    for state, load in say.hook_lines(plan):
        assert f"hook load {state} {load}" in first


def test_the_file_leaves_nothing_of_the_plan_out(plan: RaisingPlan, text: str, names: Names) -> None:
    for check in plan.checks:
        assert check.title in text and percent_words(check) in text and check.rule.source in text
        assert check.rule.mark in text
    for item in plan.gear:
        assert item.key in text and (item.objection or "none found")[:40] in text
    for role in plan.roles:
        assert role.role in text and names.get(role.person or "", role.person or "nobody") in text
    for step in plan.steps:
        assert f"{step.number} {step.title}" in text and step.action in text and step.abort in text
    for line in plan.go_no_go:
        assert line.words in text
    for hazard in plan.hazards:
        assert hazard.words in text and hazard.answer in text
    for item in plan.helps:
        assert item.title in text and item.cost in text and say.help_words(item)[0] in text
    for said in (
        *plan.open_questions, *plan.assumptions, *plan.cautions, *plan.not_covered, *plan.advice, plan.in_situ or "",
        plan.fingerprint, *plan.blocked_by,
    ):  # fmt: skip
        assert said[:60] in text, said


def test_the_file_has_drawings_to_scale_and_fields_for_two_named_people(text: str, pdf: bytes) -> None:
    assert re.search(r"The rig to scale, 1:\d+ when printed at full size on A4", text)
    assert "Released by two named people" in text and text.count("signature") == 2
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        alts = " | ".join(
            str(o["/Alt"]) for o in opened.objects if isinstance(o, pikepdf.Dictionary) and "/Alt" in o
        )
    for beginning in (
        "Utilisation: ",
        "From the front: the rig",
        "From above: the rig",
        "Hook load against",
        "laying it over",
    ):
        assert beginning in alts
    assert "Not computed: the hanging point must lie inside the cylinder." in text


def test_readings_of_the_lift_stand_against_the_band(text: str) -> None:
    assert "12:01, reader" in text and "above the band" in text


def test_every_page_names_its_limits_and_the_demo_that_it_is_invented(
    plan: RaisingPlan, names: Names
) -> None:
    pages = pypdfium2.PdfDocument(plan_file_pdf(plan, date=DAY, names=names, demo=True))
    for page in pages:
        said = flat(page.get_textpage().get_text_bounded())
        assert PLANNING_SUPPORT in said and DEMO in said


def test_the_same_plan_and_date_give_the_same_bytes(plan: RaisingPlan, names: Names, pdf: bytes) -> None:
    assert plan_file_pdf(plan, date=DAY, names=names, points=POINTS) == pdf
    assert plan_file_pdf(plan, date=DAY + datetime.timedelta(days=1), names=names, points=POINTS) != pdf


def test_a_file_without_a_rig_says_what_is_missing(bare_plan: RaisingPlan) -> None:
    said = words(plan_file_pdf(bare_plan, date=DAY, names={}))
    for line in (
        "objection: no rig is described", "Nothing was checked", "No rig is described: there is nothing to draw.",
        "No gear is named.", "No steps", "Not known: no decision is recorded.", "Not known: nobody is named.",
        "Not known: no hazard was asked about.", "No trial lift is planned",
    ):  # fmt: skip
        assert line in said, line


def crowded(plan: RaisingPlan) -> RaisingPlan:
    rule = Rule("r", "a rule in many words " * 6, "a source", "EU", "memory, verify")
    return replace(
        plan,
        title="A title in all the words that somebody had for it, " * 4,
        objections=tuple(f"reason {i} why this is not to be lifted yet" for i in range(12)),
        gear=tuple(
            GearItem(f"G-{i:03d}", "sling of a very long description " * 2, None, "1 ton", None, None, None, "tag gone")
            for i in range(40)
        ),
        checks=tuple(
            Check(f"c{i}", f"check number {i} " + "x" * 40, i, None if i % 7 == 0 else 20.0, "kg", "basis", rule,
                  "objection in words " * 8 if i % 3 == 0 else None)
            for i in range(40)
        ),
        steps=tuple(replace(plan.steps[i % len(plan.steps)], number=i + 1) for i in range(25)),
        bags=None, trial=None, roles=(), withdrawn="the register was changed",
    )  # fmt: skip


def test_forty_pieces_twelve_objections_and_long_words_lose_nothing(plan: RaisingPlan) -> None:
    made = plan_file_pdf(crowded(plan), date=DAY, names={})
    said = words(made)
    assert all(f"G-{i:03d}" in said for i in range(40)) and "1 ton (not read as a mass)" in said
    assert all(f"check number {i} " in said for i in range(40))
    assert all(f"objection: reason {i} why" in said for i in range(12))
    assert "an earlier release no longer holds: the register was changed" in said
    for page in pypdfium2.PdfDocument(made):
        text_page = page.get_textpage()
        for index in range(text_page.count_rects()):
            left, bottom, right, top = text_page.get_rect(index)
            assert left >= 45 and right <= 595.3 - 45 and bottom >= 20 and top <= 842 - 20


def hostile(plan: RaisingPlan) -> RaisingPlan:
    return replace(
        plan,
        title=HOSTILE,
        objections=(HOSTILE,),
        gear=(replace(plan.gear[0], key=HOSTILE, where=HOSTILE),),
        steps=(replace(plan.steps[0], action=HOSTILE),),
        in_situ=HOSTILE,
        open_questions=(HOSTILE,),
    )


def test_what_people_write_stays_text_wherever_it_stands(plan: RaisingPlan) -> None:
    said = words(plan_file_pdf(hostile(plan), date=DAY, names={"p-01": HOSTILE}))
    assert said.count(HOSTILE) >= 6  # in narrow columns a long word is broken
    assert flat(shown(hostile(plan), {"p-01": HOSTILE}, 200)).count(HOSTILE) >= 7


def test_a_warm_file_takes_a_few_seconds_at_most(plan: RaisingPlan, names: Names) -> None:
    begun = time.perf_counter()
    plan_file_pdf(replace(plan, title="Another title"), date=DAY, names=names)
    assert time.perf_counter() - begun < 4.0


def test_the_terminal_says_what_the_file_says(plan: RaisingPlan, names: Names) -> None:
    said = flat(shown(plan, names))
    for line in (
        *say.verdict_lines(plan), say.trial_sentence(plan.trial), say.total_words(plan), say.governing_words(plan),
        PLANNING_SUPPORT, plan.fingerprint, "Anna Example", "12:01, reader", *plan.cautions, *plan.not_covered,
    ):  # fmt: skip
        assert flat(line) in said, line
    for check in plan.checks:
        assert check.title in said
    for step in plan.steps:
        assert f"{step.number} {step.title}" in said and flat(step.action.rstrip(".")) in said
    assert DEMO not in said and DEMO in flat(shown(plan, names, demo=True))


def test_the_terminal_keeps_to_eighty_columns(
    plan: RaisingPlan, bare_plan: RaisingPlan, names: Names
) -> None:
    for odd in (plan, bare_plan, crowded(plan)):
        assert max(len(line) for line in shown(odd, names).splitlines()) <= 80


def test_a_bar_of_characters_is_as_long_as_its_share() -> None:
    rule = Rule("r", "w", "s")

    def one(demand: float, capacity: float | None) -> Check:
        return Check("c", "c", demand, capacity, "kg", "b", rule)

    assert bar(one(12.0, 24.0)) == "=" * 12 + " " * 12 + "|"
    assert bar(one(24.0, 24.0)) == "=" * 24 + "|"
    assert bar(one(24.1, 24.0)) == "=" * 24 + "|="
    assert bar(one(900.0, 24.0)) == "=" * 24 + "|" + "=" * 12
    assert bar(one(1.0, None)) == "/" * 24 + "|"


def test_minutes_and_helps_say_not_known_where_nothing_is_known(plan: RaisingPlan) -> None:
    assert say.minutes_words(None) == "not known" and say.minutes_short(None) == "min not known"
    ten = Spread(7.0, 10.0, 16.0, 10.5, 2.0, "min")
    assert say.minutes_words(ten) == "10 min (7 to 16)" and say.minutes_short(ten) == "10 min"
    timed = replace(plan, steps=tuple(replace(s, minutes=ten) for s in plan.steps[:3]))
    assert say.total_words(timed) == "Whole lift: 30 min (21 to 48)."
    none = replace(plan, steps=tuple(replace(s, minutes=None) for s in plan.steps))
    assert say.total_words(none) == "Time of the whole lift not known: no step has minutes."
    gain, _ = say.help_words(
        replace(plan.helps[0], measure="use", before=0.92, after=None, unit="1", removes=("a",))
    )
    assert gain == "use: 92 % becomes not known; takes away: a"


def test_no_sheet_calls_anything_safe(plan: RaisingPlan, names: Names, text: str) -> None:
    # titles of published guidance may contain the word; nothing of ours may
    ours = text.replace("Guidance on Safe Sling Use", "")
    assert not re.search(r"\bsafe(ly)?\b", ours, re.IGNORECASE)
    assert not re.search(
        r"\bsafe(ly)?\b", flat(shown(plan, names)).replace("Safe Sling Use", ""), re.IGNORECASE
    )
