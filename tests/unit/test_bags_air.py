"""Air for the bags: how much, from which cylinders, and never a diver's."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from oakum.lift.bags import (
    AirNeed,
    AirSupply,
    Bag,
    BagError,
    BagKind,
    BagSet,
    Column,
    Eye,
    air_need,
    compressibility,
)

SEA = Column(1027.0, 10.0)
KIND = BagKind("500", "500 kg", 0.5, None, 6.0)
SUPPLY = AirSupply(0.012, 200e5, 3, 50e5, "bags only", 0.1, 2)


def need(supply: AirSupply | None, depth: float = 14.0) -> AirNeed:
    bags = BagSet((Bag("A", KIND, None, "eye", None),), (Eye("eye", None),), depth, depth)
    return air_need(bags, np.array([0.4, 0.41, 0.42]), supply, SEA)


def test_needed_air_counts_every_fill_and_its_losses() -> None:
    found = need(SUPPLY)
    assert found.full_bar_m3 == pytest.approx(0.5 * (1.01325 + 14 * 1027 * 9.80665e-5))
    assert found.needed_bar_m3 == pytest.approx(found.full_bar_m3 * 2 / 0.9)
    assert found.likely_bar_m3.best == pytest.approx(1.01325 * found.likely_atm_m3.best)
    assert found.objections == ()
    assert found.cylinders_needed == 2


def test_reserve_stays_and_so_does_what_is_below_ambient() -> None:
    found = need(SUPPLY)
    assert found.reserve_bar_m3 == pytest.approx(0.6)
    assert found.below_ambient_bar_m3 == pytest.approx(0.012 * 2.4233, rel=1e-3)
    drained = need(replace(SUPPLY, reserve_pa=0.0))
    assert drained.given_bar_m3 is not None and found.given_bar_m3 is not None
    assert found.given_bar_m3 < drained.given_bar_m3 < 0.012 * 200.0 - 0.012 * 1.4


def test_real_air_costs_a_share_of_a_300_bar_cylinder() -> None:
    found = need(replace(SUPPLY, fill_pa=300e5, reserve_pa=0.0))
    assert found.lost_to_real_air == pytest.approx(0.10, abs=0.01)


def test_a_100_bar_cylinder_gains_nothing_from_the_table() -> None:
    assert float(compressibility(100e5)) < 1.0
    assert need(replace(SUPPLY, fill_pa=100e5, reserve_pa=0.0)).lost_to_real_air == pytest.approx(
        0.0, abs=1e-12
    )


def test_bags_deeper_than_their_air_allows() -> None:
    found = need(replace(SUPPLY, count=1))
    assert len(found.objections) == 1
    assert found.objections[0].startswith(
        "the bags are deeper than their air allows: full at 14 m they need 2,"
    )
    assert "bring 2 such cylinders" in found.objections[0]


def test_a_cylinder_below_the_pressure_of_the_water_gives_nothing() -> None:
    found = need(replace(SUPPLY, fill_pa=3e5, reserve_pa=0.0), depth=45.0)
    assert found.given_bar_m3 == 0.0 and found.cylinders_needed is None and found.lost_to_real_air is None
    assert "nothing comes out of them" in found.objections[0]


def test_a_breathing_supply_is_never_used() -> None:
    found = need(replace(SUPPLY, serves="a diver's breathing supply"))
    assert found.objections == (
        "the air for the bags comes from a diver's breathing supply: never fill a bag from it; "
        "bring cylinders for the bags alone",
    )


def test_what_is_not_known_is_an_objection_each() -> None:
    found = need(AirSupply(0.012, 200e5, 5, None, None))
    assert found.objections == (
        "not known whether the air for the bags is anybody's breathing supply",
        "not known what must stay in the cylinders",
        "not known how much air is lost in filling",
        "not known how often the bags are filled, the trial lift counted",
    )
    assert need(None).objections == ("not known where the air for the bags comes from",)
    assert need(None).at_hand_bar_m3 is None


@pytest.mark.parametrize(
    ("other", "words"),
    [
        ({"volume_m3": 0.0}, "water volume of a cylinder must be more than 0"),
        ({"fill_pa": 200e6}, "2,000 bar is beyond any diving cylinder; check the unit"),
        ({"fill_pa": -1.0}, "filling pressure of a cylinder must be more than 0"),
        ({"count": 0}, "at least 1, got 0"),
        ({"reserve_pa": -1.0}, "reserve pressure must be 0 Pa or more"),
        ({"reserve_pa": 200e5}, "reserve must be below the filling pressure"),
        ({"loss_share": 1.0}, "must lie between 0 and 1"),
        ({"fills": 0}, "filled at least once"),
    ],
)
def test_a_supply_that_cannot_be_is_refused(other: dict[str, float], words: str) -> None:
    with pytest.raises(BagError, match=words):
        replace(SUPPLY, **other)  # type: ignore[arg-type]
