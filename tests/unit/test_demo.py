"""The demo: the invented wreck with its honest trouble, whole or not at all, never touched twice."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from oakum.desk.demo import lifts as demo_lift
from oakum.desk.demo import project as demo
from oakum.desk.finds.entering import settle
from oakum.desk.lifts.plan import plan_find
from oakum.desk.lifts.weigh import weigh_find
from oakum.desk.today.due_gear import papers_due
from oakum.record import Logbook, ProjectExistsError

ON = date(2026, 7, 10)


@pytest.fixture(scope="module")
def project(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return demo.make_demo(tmp_path_factory.mktemp("demo"), on=ON)


def test_the_capstan_weighs_and_two_cells_disagree_about_it(project: Path) -> None:
    with Logbook.open(project, read_only=True) as logbook:
        report = weigh_find(logbook, demo.CAPSTAN).report
    assert report.conditioning is not None and report.conditioning.is_weighting
    assert report.conditioning.after_kg.sd < report.conditioning.before_kg.sd
    assert not report.objections
    assert any("differ by 80 kg" in question for question in report.open_questions)
    assert not any("starting body" in question for question in report.open_questions)


def test_the_demo_holds_the_trouble_it_promises(project: Path) -> None:
    with Logbook.open(project, read_only=True) as logbook:
        cells, ingot = logbook.open_questions()
        assert set(cells.values) == {text for text, _ in demo_lift.CAPSTAN_READINGS}
        assert {"61.4 ± 0.3 kg", "64.9 ± 0.3 kg"} == set(ingot.values)
        nails, lump, sherd = (logbook.find(n) for n in ("F.10", "TOL/26/019", "TOL/26/015"))
        assert nails.count == 40
        assert {child.title for child in lump.children} == {"buckle", "musket ball"}
        assert [joined.title for joined in sherd.joined] == ["jar sherd"]
        assert logbook.find("T-0022").samples[0].title == "slice for tree rings"
        assert logbook.check().ok


def test_the_capstans_plan_objects_to_its_cells_a_lapsed_sling_the_crane_and_the_lorry(project: Path) -> None:
    with Logbook.open(project, read_only=True) as logbook:
        plan = plan_find(logbook, demo.CAPSTAN, on=ON).plan
    question, chart, lorry, sling = plan.objections
    assert plan.blocked_by and question == f"open question: {plan.blocked_by[0]}"
    assert sling.startswith(f"{demo_lift.LAPSED_SLING}: its certificate lapsed on 2026-06-20")
    assert chart.startswith('chart "crane, at sea": ') and lorry.startswith("cradle: on lorry: it tips")
    assert plan.governing is not None and plan.governing.title == "cradle: stands without tipping, on lorry"
    assert plan.seaway is not None and plan.seaway.curve is not None and len(plan.seaway.curve.points) == 5
    assert plan.trial is not None and plan.minutes is not None and plan.stage == "draft"
    assert all(role.person and role.confirmed and not role.objection for role in plan.roles)


def test_the_guns_plan_objects_to_its_charge_and_to_nothing_else(project: Path) -> None:
    with Logbook.open(project, read_only=True) as logbook:
        plan = plan_find(logbook, "TOL/26/004", on=ON).plan
    (objection,) = plan.objections
    assert objection.startswith("a charge: ") and "no lift, no drill, no heat, no current" in objection


def test_papers_of_gear_and_people_fall_due_on_the_day_of_the_demo(project: Path) -> None:
    with Logbook.open(project, read_only=True) as logbook:
        due = papers_due(logbook, ON)
    assert [(one.paper, one.is_person, one.days) for one in due] == [
        ("certificate", False, -20),
        ("inspection", False, -8),
        ("inspection", False, 14),
        ("diver", True, 25),
    ]


def test_a_settled_reading_is_still_net_of_the_gear_below_the_cell(tmp_path: Path) -> None:
    with Logbook.open(demo.make_demo(tmp_path, on=ON)) as logbook:
        question = logbook.open_questions()[0]
        settle(logbook, question, "420 ± 12 kg", author=logbook.people()[0].id, reason="cell 2 was out of zero")
        (reading,) = logbook.readings(question.subject)
        plan = plan_find(logbook, demo.CAPSTAN, on=ON).plan
    assert reading.is_settled and reading.net == 398.0 and not plan.blocked_by


def test_a_demo_that_stands_is_never_touched(project: Path) -> None:
    before = (project / "logbook.sqlite").read_bytes()
    with pytest.raises(ProjectExistsError):
        demo.make_demo(project.parent)
    assert (project / "logbook.sqlite").read_bytes() == before
    assert [p.name for p in project.parent.iterdir()] == [project.name]
