"""The demo: the invented wreck with its honest trouble, whole or not at all, never touched twice."""

from __future__ import annotations

from pathlib import Path

import pytest

from oakum.desk import demo
from oakum.desk.weigh import weigh_find
from oakum.record import Logbook, ProjectExistsError


@pytest.fixture(scope="module")
def project(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return demo.make_demo(tmp_path_factory.mktemp("demo"))


def test_the_capstan_weighs_with_its_reading_and_nothing_contradicts_it(project: Path) -> None:
    with Logbook.open(project, read_only=True) as logbook:
        report = weigh_find(logbook, demo.CAPSTAN).report
    assert report.conditioning is not None and report.conditioning.is_weighting
    assert 0.005 < report.conditioning.rank < 0.995
    assert report.conditioning.after_kg.sd < report.conditioning.before_kg.sd
    assert not report.objections
    assert not any("starting body" in question for question in report.open_questions)


def test_the_demo_holds_the_trouble_it_promises(project: Path) -> None:
    with Logbook.open(project, read_only=True) as logbook:
        (question,) = logbook.open_questions()
        assert {"61.4 ± 0.3 kg", "64.9 ± 0.3 kg"} == set(question.values)
        nails, lump, sherd = (logbook.find(n) for n in ("F.10", "TOL/26/019", "TOL/26/015"))
        assert nails.count == 40
        assert {child.title for child in lump.children} == {"buckle", "musket ball"}
        assert [joined.title for joined in sherd.joined] == ["jar sherd"]
        assert logbook.find("T-0022").samples[0].title == "slice for tree rings"
        assert logbook.check().ok


def test_a_demo_that_stands_is_never_touched(project: Path) -> None:
    before = (project / "logbook.sqlite").read_bytes()
    with pytest.raises(ProjectExistsError):
        demo.make_demo(project.parent)
    assert (project / "logbook.sqlite").read_bytes() == before
    assert [p.name for p in project.parent.iterdir()] == [project.name]
