"""Running through many seas from the page: what is typed, found again while it runs, stopped."""

from __future__ import annotations

import time
from html import unescape
from typing import Any

import pytest

from oakum.desk.lifts.plan import PlanAnswer
from oakum.web.pages import plan_seas


class _NoPool:
    """Stands where processes would be begun."""

    def __enter__(self) -> _NoPool:
        return self

    def __exit__(self, *_: object) -> None:
        pass


@pytest.fixture
def slow(monkeypatch: pytest.MonkeyPatch) -> list[dict[str, Any]]:
    """Let the seas take for ever; return what was asked."""
    asked: list[dict[str, Any]] = []

    def run(answer: PlanAnswer, **more: Any) -> None:
        asked.append(more)
        for i in range(4000):
            more["progress"](i / 4000, "seas run through")
            time.sleep(0.01)
        raise AssertionError("it was not stopped")

    monkeypatch.setattr(plan_seas, "run_seas", run)
    monkeypatch.setattr(plan_seas, "process_pool", _NoPool)
    return asked


def test_work_under_way_is_found_on_its_page_not_begun_twice_and_can_be_stopped(
    client: Any, site: Any, slow: list[dict[str, Any]]
) -> None:
    here = f"/lifts/{site.find('T-0001')}/plan/seas"
    job = str(client.post(here, data={"members": "1,200", "seed": "5"}).url)
    assert "/jobs/" in job and "Stop this work" in client.get(job).text
    again = client.get(here).text
    assert "Stop this work" in again and "Run through them" not in again
    assert str(client.post(here, data={"members": "40", "seed": "5"}).url) == job
    client.post(f"{job}/stop")
    for _ in range(300):
        card = unescape(client.get(f"{job}/card").text)
        if "Stopped." in card:
            break
        time.sleep(0.02)
    assert "Nothing of it is kept" in card and "Stop this work" not in card
    assert "Run through them" in client.get(here).text
    assert [(a["members"], a["seed"]) for a in slow] == [(1200, 5)]


@pytest.mark.parametrize(
    ("sent", "expected"),
    [
        ({"members": "3", "seed": "5"}, "a whole number from 20 to 10,000"),
        ({"members": "many", "seed": "5"}, "a whole number from 20 to 10,000"),
        ({"members": "40", "seed": "-1"}, "The seed: a whole number from 0"),
        ({}, "How many seas"),
    ],
)
def test_what_cannot_be_run_is_said_beside_its_field_and_kept_as_typed(
    client: Any, site: Any, slow: list[dict[str, Any]], sent: dict[str, str], expected: str
) -> None:
    answer = client.post(f"/lifts/{site.find('T-0001')}/plan/seas", data=sent)
    assert answer.status_code == 422 and expected in unescape(answer.text)
    for value in sent.values():
        assert f'value="{value}"' in answer.text
    assert slow == []


def test_a_work_that_is_not_known_cannot_be_stopped(client: Any) -> None:
    assert client.post("/jobs/none/stop").status_code == 404
