"""One bag fails: each in turn, what the load and the rest do."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from oakum.lift.bags import (
    Bag,
    BagKind,
    BagLoad,
    BagSet,
    Column,
    CrownLine,
    Eye,
    balance_m3,
    failed_bags,
    terminal_m_s,
)

SEA = Column(1027.0, 10.0)
KIND = BagKind("200", "200 kg", 0.2, None, 0.0)
LINE = CrownLine(10.0, 14.0)
SET = BagSet(
    tuple(Bag(name, KIND, None, "eye", LINE, (x, 0.0)) for name, x in (("A", -1.0), ("B", 0.0), ("C", 1.0))),
    (Eye("eye", None),),
    12.0,
    12.0,
    2.0,
)


def load(kg: float, n: int = 400) -> BagLoad:
    drawn = np.full(n, kg)
    return BagLoad(drawn, drawn * 3.0, True, None, np.zeros((n, 2)))


def test_the_load_sinks_and_comes_down_as_fast_as_the_loss_of_lift_drives_it() -> None:
    carried = load(590.0)
    cases = failed_bags(carried, SET, SEA, 1.01 * balance_m3(carried, SET, SEA), 1.0)
    assert [c.name for c in cases] == ["A", "B", "C"]
    first = cases[0]
    assert (first.sinks, first.hangs, first.rises) == (1.0, 0.0, 0.0)
    assert first.rest_kg.best == pytest.approx(2 * 0.2 * 1027.0 - 590.0, rel=0.01)
    assert first.bed_speed_m_s is not None and first.fall_s is not None
    worst = float(terminal_m_s(590.0 * 9.80665, 1.0, 1027.0))
    assert 1.0 < first.bed_speed_m_s.best < worst
    assert first.fall_s.best > 10.0 / worst
    assert "the load sinks in all cases, reaching the bed at" in first.words


def test_a_hook_behind_takes_twice_what_the_bag_carried() -> None:
    carried = load(590.0)
    bags = replace(SET, hook_wll_kg=1_000.0)
    case = failed_bags(carried, bags, SEA, 1.01 * balance_m3(carried, bags, SEA), 1.0)[1]
    assert (case.sinks, case.hangs) == (0.0, 1.0)
    assert case.hook_kg is not None
    assert case.hook_kg.best == pytest.approx(-2.0 * case.rest_kg.best)
    assert case.bed_speed_m_s is None
    assert "hangs on the hook's line in all cases" in case.words


def test_with_one_bag_too_many_the_rest_goes_on_rising() -> None:
    carried = load(300.0)
    brim = np.full(400, 0.6)
    case = failed_bags(carried, SET, SEA, brim, 1.0)[2]
    assert (case.sinks, case.rises) == (0.0, 1.0)
    assert "goes on rising in all cases" in case.words


def test_the_rest_pulls_from_beside_the_hanging_point() -> None:
    carried = load(600.0)
    cases = failed_bags(carried, SET, SEA, 1.01 * balance_m3(carried, SET, SEA), None)
    assert cases[0].offset_m is not None and cases[1].offset_m is not None
    assert cases[0].offset_m.best == pytest.approx(0.5, abs=0.01)
    assert cases[1].offset_m.best == pytest.approx(0.0, abs=0.01)
    assert "so the load turns" in cases[0].words and "so the load turns" not in cases[1].words
    assert cases[0].bed_speed_m_s is None


def test_places_that_are_not_known_give_no_offset() -> None:
    bags = replace(SET, bags=tuple(replace(b, at_m=None) for b in SET.bags))
    carried = load(600.0)
    assert failed_bags(carried, bags, SEA, balance_m3(carried, bags, SEA) * 1.01, 1.0)[0].offset_m is None


def test_a_bag_come_free_is_stopped_by_its_crown_line_only() -> None:
    carried = load(590.0)
    air = 1.01 * balance_m3(carried, SET, SEA)
    held = failed_bags(carried, SET, SEA, air, 1.0)[0]
    assert held.held_by_crown and "its crown line turns it over" in held.words
    assert held.freed_kg == pytest.approx(0.2 * 1025.5, rel=1e-3)
    loose = replace(SET, bags=tuple(replace(b, crown=None) for b in SET.bags))
    assert "nothing stops it before the surface" in failed_bags(carried, loose, SEA, air, 1.0)[0].words
    tied = replace(SET, bags=tuple(replace(b, crown=replace(LINE, to_the_load=True)) for b in SET.bags))
    assert not failed_bags(carried, tied, SEA, air, 1.0)[0].held_by_crown


def test_the_only_bag_failing_drops_everything() -> None:
    bags = replace(SET, bags=(replace(SET.bags[0], kind=replace(KIND, volume_m3=0.7)),))
    carried = load(600.0)
    case = failed_bags(carried, bags, SEA, 1.01 * balance_m3(carried, bags, SEA), 1.2)[0]
    assert case.rest_kg.best == pytest.approx(-600.0)
    assert case.offset_m is None
    assert case.bed_speed_m_s is not None
    assert case.bed_speed_m_s.best == pytest.approx(
        float(terminal_m_s(600.0 * 9.80665, 1.2, 1027.0)), rel=0.02
    )


def test_draws_the_bags_do_not_lift_are_left_out() -> None:
    assert failed_bags(load(700.0), SET, SEA, np.full(400, 0.6), 1.0) == ()
