"""Bags, sets and depths that cannot be are refused with a sentence."""

from __future__ import annotations

from dataclasses import replace

import pytest

from oakum.lift.bags import Bag, BagError, BagKind, BagSet, Column, Eye, absolute_pa, propose

KIND = BagKind("500", "500 kg", 0.5, 500.0, 6.0)
ONE = Bag("A", KIND, None, "eye", None)
SET = BagSet((ONE,), (Eye("eye", None),), 12.0, 14.0)


@pytest.mark.parametrize(
    ("other", "words"),
    [
        ({"volume_m3": None, "tag_lift_kg": None}, "give its full volume or the lift on its tag"),
        ({"volume_m3": -0.5}, "full volume must be more than 0 m³; got -0.5"),
        ({"volume_m3": float("nan")}, "full volume must be more than 0"),
        ({"tag_lift_kg": 0.0}, "lift on the tag must be more than 0"),
        ({"submerged_kg": -1.0}, "weight of the empty bag must be 0 kg or more"),
        ({"submerged_kg": 600.0}, "weighs 600 kg empty and lifts 500 kg: check the units"),
        ({"air_height_m": 0.0}, "height of its air must be more than 0"),
        ({"valve_area_m2": -1.0}, "opening of its valve must be 0"),
    ],
)
def test_a_kind_that_cannot_be(other: dict[str, float], words: str) -> None:
    with pytest.raises(BagError, match=words):
        replace(KIND, **other)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("other", "words"),
    [
        ({"bags": ()}, "needs at least one bag"),
        ({"bags": (ONE, ONE)}, 'two bags are called "A"'),
        ({"bags": (replace(ONE, eye="ring"),)}, 'pulls at the eye "ring", which is not in the list'),
        ({"depth_m": 0.0}, "depth of the bags must be more than 0"),
        ({"bed_depth_m": 11.0}, "bed depth is the greater one"),
        ({"pause_depth_m": 12.0}, "between the surface and the start at 12 m; got 12 m"),
        ({"pause_depth_m": -1.0}, "between the surface and the start"),
        ({"taken_at": "a buoy"}, "taken over by one of: hook below the surface"),
        ({"rise_m_s": 0.0}, "rate of rise must be more than 0"),
        ({"drag_area_m2": -1.0}, "drag area must be more than 0"),
    ],
)
def test_a_set_that_cannot_be(other: dict[str, object], words: str) -> None:
    with pytest.raises(BagError, match=words):
        replace(SET, **other)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ((1.027, 10.0), "density of the water must lie between 990 and 1,060 kg/m³; got 1.027 kg/m³"),
        ((1027.0, 283.0), "temperature of the water must lie between"),
        ((1027.0, 10.0, 1013.0), "air pressure must lie between"),
    ],
)
def test_a_column_that_cannot_be(values: tuple[float, ...], words: str) -> None:
    with pytest.raises(BagError, match=words):
        Column(*values)


@pytest.mark.parametrize("depth", [-0.1, 250.0, float("nan")])
def test_a_depth_no_bag_works_at(depth: float) -> None:
    with pytest.raises(BagError, match="between 0 and 200 m"):
        absolute_pa([5.0, depth], Column(1027.0, 10.0))


def test_a_choice_of_nothing_or_too_much() -> None:
    sea = Column(1027.0, 10.0)
    with pytest.raises(BagError, match="at least one kind"):
        propose([], 500.0, 12.0, sea)
    with pytest.raises(BagError, match="at most 8 kinds and 8 bags"):
        propose([KIND], 500.0, 12.0, sea, most_bags=9)
    with pytest.raises(BagError, match="weight under water must be more than 0"):
        propose([KIND], -1.0, 12.0, sea)
