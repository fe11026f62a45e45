"""The whole answer for a set of bags: what it objects to, and what it does not."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from oakum.lift.bags import (
    AirSupply,
    Bag,
    BagAnswer,
    BagError,
    BagKind,
    BagLoad,
    BagSet,
    Column,
    CrownLine,
    Eye,
    answer,
)

SEA = Column(1027.0, 10.0)
BIG = BagKind("500", "500 kg", 0.487, 500.0, 6.0, True, 1.2, 2e-3, None, False)
MIDDLE = BagKind("100", "100 kg", 0.0974, 100.0, 2.0, True, 0.7, 1e-3, None, False)
SMALL = BagKind("50", "50 kg", 0.0487, 50.0, 1.0, True, 0.5, 1e-3, None, False)
LINE = CrownLine(12.5, 14.0, wll_kg=1_000.0, holding_kg=1_000.0)
SUPPLY = AirSupply(0.012, 200e5, 3, 50e5, "bags only", 0.1, 2)


def bag(name: str, kind: BagKind, x: float, **other: object) -> Bag:
    return replace(Bag(name, kind, 1_000.0, "ring", LINE, (x, 0.0)), **other)  # type: ignore[arg-type]


SET = BagSet(
    (bag("A", BIG, 0.0), bag("B", MIDDLE, 0.4), bag("C", SMALL, -0.4)),
    (Eye("ring", 2_000.0),),
    12.0,
    12.0,
    3.0,
    0.1,
    "hook below the surface",
    1.2,
    1_500.0,
)


def load(kg: float = 590.0, sd: float = 2.0, n: int = 2_000) -> BagLoad:
    drawn = np.random.default_rng(4).normal(kg, sd, n)
    return BagLoad(drawn, drawn + 1_400.0, True, None, np.zeros((n, 2)))


def ask(bags: BagSet = SET, supply: AirSupply | None = SUPPLY, carried: BagLoad | None = None) -> BagAnswer:
    return answer(carried or load(), bags, SEA, supply)


def changed(**other: object) -> BagSet:
    return replace(SET, bags=tuple(replace(b, **other) for b in SET.bags))  # type: ignore[arg-type]


def of_kind(**other: object) -> BagSet:
    return replace(SET, bags=tuple(replace(b, kind=replace(b.kind, **other)) for b in SET.bags))  # type: ignore[arg-type]


def test_a_set_with_everything_answered_meets_no_objection() -> None:
    found = ask()
    assert found.verdict == "no objection found under these assumptions"
    assert found.lifts == 1.0
    assert 0.05 < found.excess.best < 0.10
    assert found.open_questions == ()
    assert found.lift_full_kg == pytest.approx(found.lift_counted_kg, rel=2e-3)
    assert len(found.failed) == 3
    assert "safe" not in " ".join((*found.cautions, *found.assumptions, found.verdict)).split()


@pytest.mark.parametrize(
    ("bags", "words"),
    [
        (changed(crown=None), 'bags "A", "B", "C": no line from the crown to an anchor on the bed'),
        (changed(crown=replace(LINE, to_the_load=True)), "ends at the load"),
        (changed(crown=replace(LINE, length_m=None)), "length of its crown line is not known"),
        (changed(crown=replace(LINE, length_m=14.0)), "must be shorter than the depth of its anchor"),
        (changed(crown=replace(LINE, length_m=30.0)), "reaches the surface from 14 m"),
        (changed(crown=replace(LINE, anchor_depth_m=None)), "anchor is not known"),
        (changed(crown=replace(LINE, length_m=8.0)), "before the load is at the pause"),
        (changed(crown=replace(LINE, holding_kg=100.0)), "may have to bear 625 kg, it bears 100 kg"),
        (changed(crown=replace(LINE, wll_kg=None)), 'crown line of bag "A": capacity not known'),
        (changed(strop_wll_kg=600.0), 'the strop of bag "A" may have to bear 625 kg, its tag says 600 kg'),
        (changed(strop_wll_kg=None), 'strop of bag "B": capacity not known'),
        (replace(SET, eyes=(Eye("ring", 800.0),)), 'the eye "ring" may have to bear 813 kg'),
        (replace(SET, eyes=(Eye("ring", None),)), 'eye "ring": capacity not known'),
        (of_kind(shared_crown=True), "share one pin or strap at the crown: if it fails, both are gone"),
        (of_kind(shared_crown=None), "not known whether main rigging and crown line share"),
        (of_kind(is_open=False), "not known whether it has a relief valve"),
        (of_kind(is_open=False, relief_valve=False), "it bursts on the way up"),
        (of_kind(valve_area_m2=1e-6), "rise more slowly or take a bag with a larger valve"),
        (of_kind(air_height_m=None), 'dump valve of bag "B": capacity not known'),
        (replace(SET, rise_m_s=None), "not known how fast it may rise"),
        (replace(SET, taken_at="open bags at the surface"), "open bags at the surface spill in waves"),
        (replace(SET, taken_at="closed bags at the surface"), '"A", "B", "C" are open bags'),
        (replace(SET, taken_at=None), "not known who takes the load over"),
        (replace(SET, hook_wll_kg=None), "the WLL of its line is not known"),
        (replace(SET, hook_wll_kg=600.0), "the hook's line takes"),
        (replace(SET, pause_depth_m=None), "no depth is given at which the rise pauses"),
        (replace(SET, pause_depth_m=0.0), "it must pause below it"),
    ],
)
def test_every_way_of_rigging_it_wrongly_is_an_objection(bags: BagSet, words: str) -> None:
    found = ask(bags)
    assert words in found.verdict
    assert found.verdict.startswith("objection: ")


def test_more_than_a_tenth_of_excess_is_an_objection_and_other_bags_are_proposed() -> None:
    found = ask(carried=load(540.0))
    assert "with all bags full the excess lift is 18 % of the likely weight, more than 10 %" in found.verdict
    assert found.instead and all(p.number >= 1 for p in found.instead)
    assert found.instead[0].objection is None


def test_too_little_lift_is_an_objection() -> None:
    found = ask(carried=load(660.0))
    assert "the bags are counted on for" in found.verdict
    assert found.lifts < 0.05
    assert found.failed == ()
    assert any("weigh it under water first" in q for q in found.open_questions)


def test_a_weight_known_badly_is_an_open_question() -> None:
    found = ask(carried=load(590.0, 40.0))
    assert any("so light that full bags have more than 10 % excess" in q for q in found.open_questions)
    assert any("the bags lift the load only" in q for q in found.open_questions)


def test_a_bag_that_holds_more_than_its_tag_lifts_more_and_is_counted_for_less() -> None:
    found = ask(of_kind(tag_lift_kg=40.0))
    assert found.lift_counted_kg < 120.0 < found.lift_full_kg
    assert any("holds 1150 % more than its tag says" in q for q in found.open_questions)


def test_an_unmeasured_bag_is_asked_about() -> None:
    assert any("fill it once and measure" in q for q in ask(of_kind(volume_m3=None)).open_questions)
    assert any("no lift on its tag" in q for q in ask(of_kind(tag_lift_kg=None)).open_questions)
    closed = ask(of_kind(is_open=False, relief_valve=True))
    assert any("relief valve lets out as much" in q for q in closed.open_questions)


def test_without_a_drag_area_no_speed_is_given() -> None:
    found = ask(replace(SET, drag_area_m2=None))
    assert found.just_lifting is None and found.all_full is None
    assert any("drag area" in q for q in found.open_questions)


def test_the_curve_is_nothing_at_the_start_and_turns_over_there() -> None:
    """A and B hold the load, C stays empty: above the depth at which B is full the excess stays as it is."""
    found = ask(carried=load(560.0, 0.01))
    curve = found.neutral
    here = int(np.argmin(np.abs(np.array(curve.x) - 12.0)))
    assert curve.best[here] == pytest.approx(0.0, abs=0.01)
    assert curve.marks == ((12.0, "in balance here only"),)
    assert found.one_bag.best[0] > curve.best[0] > 0.0
    assert max(curve.best) == pytest.approx(1026.0 * (0.487 + 0.0974) - 569.0, abs=1.0)


def test_the_curve_goes_down_below_the_start() -> None:
    deep = ask(replace(SET, bed_depth_m=20.0))
    assert deep.neutral.best[-1] == pytest.approx(deep.one_bag.best[-1], rel=0.02)
    assert deep.neutral.best[-1] < -100.0


def test_full_bags_rise_faster_than_bags_that_just_lift() -> None:
    found = ask(carried=load(570.0))
    assert found.just_lifting is not None and found.all_full is not None
    gentle, wild = found.just_lifting, found.all_full
    assert gentle.greatest_m_s is not None and wild.greatest_m_s is not None
    assert gentle.greatest_m_s.best < wild.greatest_m_s.best <= wild.terminal_m_s.best * 1.01
    assert gentle.time_s is not None and wild.time_s is not None and gentle.time_s.best > wild.time_s.best
    assert gentle.speed is not None and gentle.speed.x[0] == 3.0 and gentle.speed.x[-1] == 12.0
    assert gentle.speed.best[-1] == 0.0
    assert 3.0 < gentle.full_at_m.best < 12.0 and wild.full_at_m.best == 12.0


def test_a_reading_narrows_the_answer_through_the_weights_of_the_draws() -> None:
    wide = load(590.0, 40.0)
    known = replace(wide, weights=np.exp(-0.5 * ((wide.submerged_kg - 590.0) / 2.0) ** 2))
    found = ask(carried=known)
    assert found.submerged_kg.sd == pytest.approx(2.0, rel=0.3)
    assert found.verdict == "no objection found under these assumptions"
    assert found.open_questions == ()


def test_a_load_that_floats_needs_no_bag() -> None:
    with pytest.raises(BagError, match="it floats and needs no bag"):
        ask(carried=load(-5.0))


def test_a_closed_set_at_the_surface_needs_no_hook() -> None:
    bags = replace(
        of_kind(is_open=False, relief_valve=True), taken_at="closed bags at the surface", hook_wll_kg=None
    )
    assert ask(bags).verdict == "no objection found under these assumptions"


def test_assumptions_name_the_air_pressure_and_missing_added_mass() -> None:
    found = answer(replace(load(), added_known=False), SET, Column(1027.0, 10.0, 99_000.0), SUPPLY)
    assert any("990 hPa" in a for a in found.assumptions)
    assert any("No added mass" in a for a in found.assumptions)
    assert any("the standard atmosphere" in a for a in ask().assumptions)
