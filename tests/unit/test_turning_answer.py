"""The answer of one turning: what is objected to, held, slid and thrown."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from oakum.lift.turning import (
    BagPull,
    HandPull,
    LinePull,
    Pull,
    Section,
    TurnAnswer,
    TurningError,
    friction_needed,
    turn,
    turn_over,
)

G = 9.80665
WIDTH, HEIGHT = 2.0, 0.5
OUTLINE = ((0.0, 0.0), (WIDTH, 0.0), (WIDTH, HEIGHT), (0.0, HEIGHT))


def body(kg: float = 600.0, sd: float = 20.0, n: int = 3_000) -> Section:
    rng = np.random.default_rng(7)
    hanging = np.column_stack([rng.normal(1.0, 0.02, n), rng.normal(0.25, 0.01, n)])
    return Section(OUTLINE, 0, rng.normal(kg, sd, n) * G, hanging)


BAG = BagPull((WIDTH, 0.0), 340.0)
LINE = LinePull((WIDTH, HEIGHT), (-3.0, 6.0), 1_000.0, 1_000.0, False)
BACK = LinePull((WIDTH, HEIGHT), (6.0, 0.0), 500.0, 500.0, False)


def ask(
    pull: Pull = LINE, hold: Pull | None = BACK, friction: float | None = 0.9, **other: float
) -> TurnAnswer:
    return turn_over(body(), pull, hold=hold, bed_friction=friction, **other)


def test_a_turning_with_everything_answered_meets_no_objection() -> None:
    found = ask()
    assert found.verdict == "no objection found under these assumptions"
    assert found.lands and found.to_deg == pytest.approx(90.0)
    assert found.balance_deg.best == pytest.approx(np.degrees(np.arctan(4.0)), abs=0.2)
    assert found.goes_by_itself == 1.0
    assert found.slides_at_deg is None
    assert found.thrown_j is None
    assert found.open_questions == ()
    assert any("Suction and breakout at the bed are not included" in a for a in found.assumptions)


def test_the_band_holds_the_median_and_the_sign_changes_at_the_balance() -> None:
    curve = ask().force
    assert all(low <= best <= high for low, best, high in zip(curve.p5, curve.best, curve.p95, strict=True))
    assert curve.best[0] > 0.0 > curve.best[-1]
    assert curve.marks[0][1] == "goes by itself"
    assert curve.marks[0][0] == pytest.approx(76.0, abs=0.5)


def test_the_anchor_bears_what_the_line_pulls() -> None:
    found = ask()
    assert found.anchor_sideways is not None and found.anchor_upright is not None
    pull = np.hypot(found.anchor_sideways.best[0], found.anchor_upright.best[0])
    assert pull == pytest.approx(found.force.best[0], rel=1e-3)
    assert found.anchor_sideways.best[0] > 0.0 > found.anchor_upright.best[0]


def test_a_bag_that_keeps_pulling_throws_it_over() -> None:
    found = ask(BAG, None)
    assert "the bag still pulls when it is past its balance at about 76° and throws it over" in found.verdict
    assert "nothing is named that holds it" in found.verdict
    assert found.thrown_j is not None and found.thrown_j.best > 0.0
    assert found.anchor_sideways is None
    assert any("gains about a tenth of its lift" in a for a in found.assumptions)


def test_what_holds_must_hold_against_the_bag_too() -> None:
    with_bag, without = ask(BAG, BACK), ask(LINE, BACK)
    assert "throws it over" not in with_bag.verdict
    assert with_bag.largest_hold_kg.best > without.largest_hold_kg.best


def test_a_bag_too_small_or_too_large() -> None:
    assert "pulling bag: " in ask(replace(BAG, lift_kg=250.0)).verdict
    assert "pulling bag: not known what it bears" in ask(replace(BAG, lift_kg=None)).verdict
    assert "carries it away instead of turning it" in ask(replace(BAG, lift_kg=700.0)).verdict


def test_hands_have_a_limit() -> None:
    assert "pulling hands: " in ask(HandPull((WIDTH, HEIGHT), 4, 20.0)).verdict
    assert "pulling hands: not known what it bears" in ask(HandPull((WIDTH, HEIGHT), None, 20.0)).verdict


def test_lines_and_anchors_that_are_too_weak_or_not_known() -> None:
    assert "pulling winch line: " in ask(replace(LINE, wll_kg=100.0)).verdict
    assert "anchor of the pulling winch line: not known" in ask(replace(LINE, holding_kg=None)).verdict
    assert "holding winch line: " in ask(hold=replace(BACK, wll_kg=10.0)).verdict


def test_an_anchor_with_a_block_is_counted_for_twice_the_pull() -> None:
    plain, block = ask(), ask(replace(LINE, through_block=True))
    unknown = ask(replace(LINE, through_block=None))
    demand = [next(c.demand for c in a.checks if c.key == "pull-anchor") for a in (plain, block, unknown)]
    assert demand[1] == demand[2] == pytest.approx(2.0 * demand[0])
    assert "not known whether the line that pulls it turns at a block" in unknown.open_questions[0]


def test_friction_not_known_or_too_little() -> None:
    assert "friction under the edge: not known" in ask(friction=None).verdict
    slides = ask(friction=0.05)
    assert "friction under the edge: " in slides.verdict
    assert slides.slides_at_deg is not None


def test_a_body_that_is_set_down_before_the_angle_meant() -> None:
    assert "comes down on its next side at 90°, before the 120°" in ask(to_deg=120.0).verdict


def test_a_turning_that_stops_before_the_balance_needs_no_hold() -> None:
    found = ask(hold=None, to_deg=45.0)
    assert found.verdict == "no objection found under these assumptions"
    assert found.goes_by_itself == 0.0 and not found.lands
    assert found.force.marks == ()
    assert found.largest_hold_kg.best == 0.0


def test_a_line_that_loses_its_arm_on_the_way_is_an_objection() -> None:
    found = ask(LinePull((WIDTH, 0.0), (1.0, 1.5), 1e5, 1e5, False), None)
    assert "the pull no longer turns it" in found.verdict
    assert found.to_deg < 76.0


def test_a_pull_that_lifts_the_edge_off() -> None:
    found = ask(LinePull((0.3, HEIGHT), (0.3, 9.0), 1e5, 1e5, False), BACK)
    assert "lifts the edge off the bed" in found.verdict
    lifted = turn(body(), BagPull((0.3, HEIGHT), None), np.array([0.0]))
    assert np.all(np.isinf(friction_needed(lifted)))


def test_a_body_beyond_its_balance_goes_at_once() -> None:
    heavy = replace(body(), hanging_m=np.array([-0.2, 0.4]))
    found = turn_over(heavy, LINE, hold=BACK, bed_friction=0.9)
    assert found.balance_deg.best < 0.0
    assert found.largest_pull_kg.best == 0.0 and found.largest_hold_kg.best > 0.0
    assert found.work_j.best == 0.0


def test_draws_made_likelier_by_a_reading_count_more() -> None:
    wide = body(600.0, 80.0)
    known = replace(wide, weights=np.exp(-0.5 * ((wide.weight_n / G - 650.0) / 5.0) ** 2))
    pulls = [turn_over(b, LINE, hold=BACK, bed_friction=0.9).largest_pull_kg for b in (wide, known)]
    assert pulls[1].best > pulls[0].best
    assert pulls[1].sd < 0.5 * pulls[0].sd


@pytest.mark.parametrize(
    ("pull", "hold", "words"),
    [
        (BagPull((0.0, 0.0), 300.0), BACK, "a pull at the edge it turns on turns nothing"),
        (BagPull((3.0, 0.0), 300.0), BACK, "pulling bag is made fast 1.00 m outside the body"),
        (LINE, replace(BACK, at_m=(2.0, 1.5)), "holding winch line is made fast 1.00 m outside the body"),
        (replace(LINE, anchor_m=(6.0, -1.0)), BACK, "presses it onto the edge or turns it back"),
        (LINE, replace(BACK, anchor_m=(-6.0, 0.0)), "does not hold it back at"),
        (replace(LINE, anchor_m=(WIDTH, HEIGHT)), BACK, "turns right onto the anchor"),
    ],
)
def test_pulls_that_cannot_be_are_refused(pull: Pull, hold: Pull, words: str) -> None:
    with pytest.raises(TurningError, match=words):
        ask(pull, hold)


def test_an_angle_that_turns_nothing_is_refused() -> None:
    with pytest.raises(TurningError, match="angle above 0°, got -5°"):
        ask(to_deg=-5.0)


@pytest.mark.parametrize(
    ("other", "words"),
    [
        ({"outline": OUTLINE[:2]}, "at least three points"),
        ({"outline": ((0.0, 0.0), (1.0, 0.0), (2.0, 0.0))}, "encloses nothing"),
        ({"edge": 7}, "one of the 4 points of the outline, counted from 0; got 7"),
        ({"edge": 3}, "turns on a point 0.50 m over its lowest one"),
        ({"edge": 1}, "on the far side of this edge too"),
        ({"weight_n": np.full(3_000, -1.0)}, "the body floats"),
        ({"hanging_m": np.zeros((5, 2))}, "one hanging point a draw"),
    ],
)
def test_a_section_that_cannot_be_is_refused(other: dict[str, object], words: str) -> None:
    with pytest.raises(TurningError, match=words):
        replace(body(), **other)  # type: ignore[arg-type]
