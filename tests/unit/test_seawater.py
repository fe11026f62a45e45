"""The water an object lies in: ranges, spread and words."""

from __future__ import annotations

import numpy as np
import pytest

from oakum.ground.errors import OakumError
from oakum.ground.estimate import Draws, exact, normal, uniform
from oakum.ground.seawater import Water, WaterError, density_kg_m3


@pytest.mark.parametrize(
    ("salinity", "temperature", "depth", "said"),
    [
        (-0.1, 10.0, 20.0, "salinity"),
        (42.5, 10.0, 20.0, "salinity"),
        (35.0, -2.5, 20.0, "temperature"),
        (35.0, 283.15, 20.0, "temperature"),
        (35.0, 10.0, -1.0, "depth"),
        (35.0, 10.0, 201.0, "depth"),
        (float("nan"), 10.0, 20.0, "salinity"),
        (5.0, -1.5, 0.0, "ice"),
    ],
)
def test_water_that_cannot_be_is_refused(
    salinity: float, temperature: float, depth: float, said: str
) -> None:
    with pytest.raises(WaterError, match=said):
        density_kg_m3(salinity, temperature, depth, 50.0, -4.0)
    assert issubclass(WaterError, OakumError)


@pytest.mark.parametrize(("latitude", "longitude"), [(91.0, 0.0), (50.0, 400.0), (50.0, None), (None, 4.0)])
def test_a_place_that_cannot_be_is_refused(latitude: float | None, longitude: float | None) -> None:
    with pytest.raises(WaterError, match=r"latitude|longitude"):
        density_kg_m3(35.0, 10.0, 20.0, latitude, longitude)


def test_arrays_broadcast() -> None:
    rho = density_kg_m3(np.array([0.0, 35.0]), 10.0, np.array([[0.0], [14.0]]), 50.0, -4.0)
    assert isinstance(rho, np.ndarray) and rho.shape == (2, 2)
    assert rho[0, 1] == density_kg_m3(35.0, 10.0, 0.0, 50.0, -4.0)


def test_without_a_place_the_density_is_a_little_less_certain() -> None:
    placed, unplaced = Water.sea(35.0, 10.0, 14.0, 50.0, -4.0), Water.sea(35.0, 10.0, 14.0)
    assert placed.density_kg_m3.is_exact
    assert unplaced.density_kg_m3.sd == pytest.approx(0.05)
    assert unplaced.density_kg_m3.mean == pytest.approx(placed.density_kg_m3.mean, abs=0.01)
    assert "position not given" in unplaced.words()
    baltic = Water.sea(7.0, 5.0, 20.0, 58.0, 20.0).density_kg_m3.mean
    assert Water.sea(7.0, 5.0, 20.0).density_kg_m3.mean == pytest.approx(baltic, abs=0.06)


def test_spread_of_salinity_and_temperature_is_carried_over() -> None:
    water = Water.sea(normal(34.5, 0.5, "salinity"), uniform(9.0, 13.0, "temperature"), 14.0, 50.0, -4.0)
    d = Draws(20_000, np.random.default_rng(2))
    drawn = density_kg_m3(
        d.of(normal(34.5, 0.5, "salinity")), d.of(uniform(9.0, 13.0, "temperature")), 14.0, 50.0, -4.0
    )
    assert water.density_kg_m3.mean == pytest.approx(np.mean(drawn), abs=0.02)
    assert water.density_kg_m3.sd == pytest.approx(np.std(drawn), rel=0.03)
    assert water.density_kg_m3.label == "density of the water"
    assert "34.5 ± 0.5" in water.words() and "±" in water.words().split(":")[1]


def test_fresh_and_measured_water_say_what_they_are() -> None:
    fresh = Water.fresh(10.0)
    assert (fresh.kind, fresh.density_kg_m3.is_exact) == ("fresh", True)
    assert fresh.words() == "fresh water, 10 °C (TEOS-10): 999.7 kg/m³"
    assert Water.fresh(normal(10.0, 3.0, "t")).density_kg_m3.sd == pytest.approx(0.26, abs=0.03)
    measured = Water.measured(normal(1024.0, 1.0, "hydrometer"))
    assert measured.density_kg_m3.label == "density of the water"
    assert measured.words() == "water, density measured: 1,024.0 ± 1.0 kg/m³"
    assert Water.measured(exact(1024.0)).density_kg_m3.is_exact


def test_spreads_that_leave_the_ranges_are_refused() -> None:
    with pytest.raises(WaterError, match="salinity"):
        Water.sea(normal(41.0, 1.0, "s"), 10.0, 14.0)
    with pytest.raises(WaterError, match="density must lie between 990 and 1060"):
        Water.measured(exact(1.025))
    with pytest.raises(WaterError, match="depth"):
        Water.sea(35.0, 10.0, 500.0)
