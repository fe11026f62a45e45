"""Rolling a round body to its chocks."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from oakum.lift.turning import RollAnswer, Roller, TurningError, chock_holds_n, roll

G = 9.80665
GUN = Roller(0.25, np.random.default_rng(3).normal(400.0, 10.0, 900) * G, np.full(900, 0.02), 90.0)


def ask(gun: Roller = GUN, **other: float | None) -> RollAnswer:
    given: dict[str, float | None] = {
        "slope_deg": 5.0,
        "pull_height_m": 0.5,
        "bed_friction": 0.5,
        "line_wll_kg": 500.0,
        "chock_m": 0.12,
        "push_kg": 60.0,
    }
    return roll(gun, **{**given, **other})  # type: ignore[arg-type]


def test_rolling_with_everything_answered_meets_no_objection() -> None:
    found = ask()
    assert found.objections == ()
    assert found.distance_m == pytest.approx(np.pi * 0.5)
    assert found.largest_pull_kg.best == pytest.approx(
        400.0 * (0.25 * np.sin(np.radians(5.0)) + 0.02) / 0.5, rel=0.01
    )
    assert found.largest_hold_kg.best == 0.0
    assert any("Suction and breakout" in text for text in found.assumptions)


def test_a_lopsided_body_must_be_held_for_part_of_its_turn() -> None:
    found = ask(slope_deg=0.0)
    assert min(found.pull.best) < 0.0 < max(found.pull.best)
    assert found.largest_hold_kg.best == pytest.approx(found.largest_pull_kg.best, rel=1e-2)


def test_where_the_start_is_not_known_the_worst_is_taken_all_the_way() -> None:
    found = ask(replace(GUN, start_deg=None))
    assert found.pull.best[0] == found.pull.best[-1] == pytest.approx(max(ask().pull.best), rel=1e-3)


@pytest.mark.parametrize(
    ("other", "words"),
    [
        ({"line_wll_kg": 10.0}, "line that rolls it: "),
        ({"line_wll_kg": None}, "line that rolls it: not known"),
        ({"bed_friction": 0.01}, "friction under the edge: "),
        ({"bed_friction": None}, "friction under the edge: not known"),
        ({"push_kg": 5_000.0}, "chock: 5,000 kg needed"),
        ({"push_kg": None}, "not known what push it must hold"),
        ({"chock_m": None}, "no chock is named"),
    ],
)
def test_what_is_missing_or_too_weak_is_an_objection(other: dict[str, float | None], words: str) -> None:
    assert any(words in text for text in ask(**other).objections)


@pytest.mark.parametrize(
    ("other", "words"),
    [
        ({"slope_deg": 40.0}, "too steep to roll on"),
        ({"pull_height_m": 0.6}, "between the bed and the top of the body, 0.5 m; got 0.6 m"),
        ({"chock_m": 0.3}, "lower than the axle"),
    ],
)
def test_what_cannot_be_rolled_is_refused(other: dict[str, float], words: str) -> None:
    with pytest.raises(TurningError, match=words):
        ask(**other)


@pytest.mark.parametrize(
    ("other", "words"),
    [
        ({"radius_m": 0.0}, "radius of what rolls"),
        ({"weight_n": np.full(900, -1.0)}, "it floats"),
        ({"offset_m": np.full(900, 0.3)}, "must lie inside the cylinder"),
    ],
)
def test_a_roller_that_cannot_be_is_refused(other: dict[str, object], words: str) -> None:
    with pytest.raises(TurningError, match=words):
        replace(GUN, **other)  # type: ignore[arg-type]


def test_a_chock_does_not_hold_a_body_that_leans_beyond_it() -> None:
    steep = chock_holds_n(GUN, 0.002, -20.0, 0.25)
    assert np.all(steep < 0.0)
    assert any("chock: " in text for text in ask(chock_m=0.002, slope_deg=-20.0).objections)
