"""A load-cell reading says whether the frame of the cradle hung there; with and without are never pooled."""

from __future__ import annotations

from pathlib import Path

import pytest

from oakum.desk.finds.entering import settle
from oakum.desk.finds.measures import reading_of
from oakum.desk.lifts.weigh import HOOK_LOAD, UNDER_WATER, cell_readings
from oakum.record import FactError, Logbook


def _entered(logbook: Logbook, find: str, text: str, frame: bool | None) -> str:
    body = reading_of(text, "mass", quantity=HOOK_LOAD, state=UNDER_WATER, frame=frame)
    return logbook.append("reading", find, body | {"covers": "alone"}, author="recorder").id


def test_what_is_said_of_the_frame_stays_with_the_reading(tmp_path: Path) -> None:
    with Logbook.create(tmp_path / "p.oakum", "P") as logbook:
        find = logbook.append("find.entered", None, {"title": "stone"}, author="recorder").subject
        for text, frame in (("600 ± 10 kg", None), ("605 ± 10 kg", False), ("700 ± 10 kg", True)):
            _entered(logbook, find, text, frame)
        read = {one.text: one.with_frame for one in cell_readings(logbook.find(find))}
        assert read == {"600 ± 10 kg": None, "605 ± 10 kg": False, "700 ± 10 kg": True}
        assert logbook.open_questions(find) == ()  # with and without its frame are two things, not two opinions
        logbook.rebuild()
        assert logbook.open_questions(find) == () and len(cell_readings(logbook.find(find))) == 3


@pytest.mark.parametrize("text", ["700 ± 5 kg", "702 ± 4 kg"])
def test_two_readings_of_the_find_in_its_frame_that_differ_are_an_open_question(
    tmp_path: Path, text: str
) -> None:
    with Logbook.create(tmp_path / "p.oakum", "P") as logbook:
        find = logbook.append("find.entered", None, {"title": "stone"}, author="recorder").subject
        ids = [_entered(logbook, find, read, True) for read in ("700 ± 5 kg", "800 ± 5 kg")]
        (question,) = logbook.open_questions(find)
        assert question.key == "reading:hook load:submerged, in its frame" and set(question.entries) == set(ids)
        anna = logbook.add_person("Anna Example", "director").id
        settle(logbook, question, text, author=anna, reason="the other hung on the bed")
        assert logbook.open_questions(find) == ()
        (one,) = cell_readings(logbook.find(find))
        assert one.with_frame is True and one.text == text


def test_the_frame_is_yes_or_no(tmp_path: Path) -> None:
    with Logbook.create(tmp_path / "p.oakum", "P") as logbook:
        find = logbook.append("find.entered", None, {"title": "stone"}, author="recorder").subject
        body = reading_of("600 kg", "mass", quantity=HOOK_LOAD, state=UNDER_WATER)
        with pytest.raises(FactError, match=r"frame.*true or false"):
            logbook.append("reading", find, body | {"frame": "perhaps"}, author="recorder")
