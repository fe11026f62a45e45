"""The survey of the demo: what its story says is what the adjustment finds."""

from __future__ import annotations

from pathlib import Path

import pytest

from oakum.desk.demo.project import make_demo
from oakum.desk.demo.seabed import BENCH, MIRRORED, MISREAD
from oakum.desk.seabed.dig import dig_of
from oakum.desk.seabed.survey import SurveyAnswer, survey_of
from oakum.record import Logbook


@pytest.fixture(scope="module")
def survey(tmp_path_factory: pytest.TempPathFactory) -> SurveyAnswer:
    with Logbook.open(make_demo(tmp_path_factory.mktemp("demo")), read_only=True) as logbook:
        return survey_of(logbook)


def test_the_site_has_forty_marks_and_250_tapes(survey: SurveyAnswer) -> None:
    kinds = [row.kind for row in survey.solution.readings]
    assert len(survey.solution.marks) == 40 and kinds.count("tape") == 250
    assert kinds.count("depth") == 50 and survey.solution.mark(BENCH).held == "xyz"


def test_the_two_misread_tapes_are_the_suspects_with_their_causes(survey: SurveyAnswer) -> None:
    found = [
        (*survey.solution.reading(one.id).marks, one.text, one.causes[0].key) for one in survey.solution.suspects
    ]
    assert found == [(*MISREAD[0], "metre"), (*MISREAD[1], "digits")]
    assert all(one.locatable for one in survey.solution.suspects)
    assert survey.solution.whole.passed is False
    cleared = survey.solution.without_suspects
    assert cleared is not None and not cleared.suspects


def test_the_ring_that_hangs_on_four_tapes_has_a_mirror_twin(survey: SurveyAnswer) -> None:
    cleared = survey.solution.without_suspects
    assert cleared is not None and MIRRORED in {twin.mark for twin in survey.solution.twins}
    (twin,) = cleared.twins
    assert twin.mark == MIRRORED and 1.0 < twin.apart_m < 3.0


def test_the_longer_tape_is_found_out(survey: SurveyAnswer) -> None:
    cleared = survey.solution.without_suspects
    assert cleared is not None
    (scale,) = (one for one in cleared.further if one.what == "scale")
    assert scale.name == "tape 2" and abs(scale.value - 0.0006) < 2.0 * scale.sd


def test_the_dig_has_its_volumes_and_a_forecast(tmp_path: Path) -> None:
    with Logbook.open(make_demo(tmp_path), read_only=True) as logbook:
        dig = dig_of(logbook)
    assert [square.name for square in dig.squares] == ["E12", "E14"]
    volumes = [square.volume for square in dig.squares]
    assert all(v is not None and v.p5 < v.best < v.p95 for v in volumes)
    assert dig.season.forecast is not None and not dig.season.refused
