"""The table of materials, the user's own rows, and waterlogged wood."""

from __future__ import annotations

import numpy as np
import pytest

from oakum.ground.errors import OakumError
from oakum.ground.estimate import Draws
from oakum.ground.materials import (
    MARKS,
    MaterialError,
    basic_from_umax,
    cell_wall,
    materials,
    oak_class,
    saturated_density,
    submerged_density,
    times_air_dry,
    umax_from_basic,
    with_own,
)

OWN = {
    "name": "Tolmarren crust",
    "kind": "concretion",
    "source": "three pieces weighed",
    "best": "2450",
    "sd": "80",
}


def test_every_row_has_a_spread_a_source_and_a_mark() -> None:
    table = materials()
    assert len(table) > 50
    for name, material in table.items():
        assert material.name == name
        assert material.source and material.mark in MARKS, name
        assert material.density_kg_m3.sd > 0.0, name
        assert name in material.density_kg_m3.label
        low, high = material.density_kg_m3.quantile(0.001), material.density_kg_m3.quantile(0.999)
        assert 20.0 < low < high < 11_500.0, name


def test_the_kinds_a_wreck_needs_are_there() -> None:
    kinds = {m.kind for m in materials().values()}
    assert kinds >= {
        "wood", "iron", "copper alloy", "lead", "stone", "ceramic", "glass", "concretion", "sediment",
        "modern timber", "modern steel", "water",
    }  # fmt: skip
    assert all(m.is_wood == (m.kind == "wood") for m in materials().values())
    assert materials()["cast iron"].density_kg_m3.mean == 7200.0


def test_sound_wood_is_lighter_than_the_cell_wall_and_sinks_when_saturated() -> None:
    for material in materials().values():
        if material.is_wood:
            assert 100.0 < material.density_kg_m3.best < 1450.0
            assert submerged_density(material.density_kg_m3.best, 1027.0) > 0.0


def test_all_parts_of_one_material_share_one_draw() -> None:
    draws = Draws(100, np.random.default_rng(1))
    assert draws.of(materials()["oak"].density_kg_m3) is draws.of(materials()["oak"].density_kg_m3)


def test_own_rows_lie_on_top_of_the_table_and_leave_it_as_it_was() -> None:
    table = with_own(
        [OWN, {**OWN, "name": "concretion", "low": "2,2 g/cm3", "high": "2700", "best": "", "sd": ""}]
    )
    assert table["Tolmarren crust"].density_kg_m3.sd == 80.0
    assert table["Tolmarren crust"].mark == "measured"
    assert table["concretion"].density_kg_m3.quantile(0.0) == pytest.approx(2200.0)
    assert materials()["concretion"].density_kg_m3.quantile(0.0) == 1800.0
    assert table["oak"] == materials()["oak"]


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"source": " "}, "write the source"),
        ({"name": ""}, "write the name"),
        ({"kind": ""}, "write the kind"),
        ({"sd": ""}, "a spread is due"),
        ({"sd": "0"}, "greater than zero"),
        ({"sd": "900"}, "reaches below zero"),
        ({"best": "2,450"}, "could be"),
        ({"best": "heavy"}, "expected a number"),
        ({"best": "2.45", "sd": "0.1"}, "g/cm3"),
        ({"kind": "wood"}, "basic density"),
        ({"mark": "certain"}, "must be one of"),
        ({"colour": "red"}, "no such column: colour"),
        ({"best": "", "sd": "", "low": "2900", "high": "1800"}, "smaller to the greater"),
    ],
)
def test_an_own_row_that_will_not_do_is_refused_by_number(change: dict[str, str], said: str) -> None:
    with pytest.raises(MaterialError, match=f"own material 2.*{said}"):
        with_own([{**OWN, "name": "another"}, {**OWN, **change}])
    assert issubclass(MaterialError, OakumError)


def test_an_own_row_given_twice_is_refused() -> None:
    with pytest.raises(MaterialError, match="given twice"):
        with_own([OWN, OWN])


def test_wood_takes_arrays_of_draws() -> None:
    basic = np.array([120.0, 200.0, 560.0])
    sat = saturated_density(basic, 1027.0)
    assert np.allclose(sat - 1027.0, submerged_density(basic, 1027.0))
    assert np.allclose(basic_from_umax(umax_from_basic(basic)), basic)
    assert np.all(np.diff(times_air_dry(basic, 1027.0)) < 0.0)


def test_the_cell_wall_spread_covers_the_literature() -> None:
    wall = cell_wall()
    assert (wall.quantile(0.0), wall.best, wall.quantile(1.0)) == (1460.0, 1500.0, 1530.0)
    assert saturated_density(560.0, 1027.0, wall.quantile(0.0)) < saturated_density(560.0, 1027.0, 1530.0)


@pytest.mark.parametrize(
    ("umax", "name"), [(110.0, "III"), (185.0, "III"), (186.0, "II"), (400.0, "II"), (600.0, "I")]
)
def test_oak_is_classed_by_its_greatest_water_content(umax: float, name: str) -> None:
    assert oak_class(umax).name == name


def test_the_degraded_oaks_of_the_table_are_the_classes_by_water_content() -> None:
    table = materials()
    assert table["degraded oak"].density_kg_m3.quantile(0.0) == pytest.approx(basic_from_umax(400.0), abs=1.0)
    assert table["degraded oak"].density_kg_m3.quantile(1.0) == pytest.approx(basic_from_umax(185.0), abs=1.0)
    assert table["badly degraded oak"].density_kg_m3.quantile(0.0) == pytest.approx(
        basic_from_umax(930.0), abs=1.0
    )


def test_wood_that_cannot_be_is_refused() -> None:
    with pytest.raises(MaterialError, match="20 and 2000 %"):
        basic_from_umax(1.5)
    with pytest.raises(MaterialError, match="oven-dry mass over the wet volume"):
        saturated_density(1600.0, 1027.0)
    with pytest.raises(MaterialError, match="oven-dry mass over the wet volume"):
        submerged_density(np.array([500.0, 0.0]), 1027.0)
    with pytest.raises(MaterialError, match="density of water"):
        saturated_density(560.0, 1.027)
    with pytest.raises(MaterialError, match="air-dry"):
        times_air_dry(560.0, 1027.0, moisture=12.0)
