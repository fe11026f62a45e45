"""Waterlogged wood against handbook figures and a table worked by hand."""

from __future__ import annotations

import numpy as np
import pytest

from oakum.ground.estimate import Draws, normal, spread_of
from oakum.ground.materials import (
    basic_from_umax,
    saturated_density,
    submerged_density,
    times_air_dry,
    umax_from_basic,
)

SEA = 1027.0


@pytest.mark.parametrize(
    ("basic", "saturated", "submerged", "share", "of_own_dry", "of_handbook_dry"),
    [
        (560.0, 1203.6, 176.6, 0.147, 1.92, 1.67),
        (400.0, 1153.1, 126.1, 0.109, 2.57, 1.60),
        (200.0, 1090.1, 63.1, 0.058, 4.87, 1.51),
        (120.0, 1064.8, 37.8, 0.036, 7.92, 1.48),
    ],
)
def test_the_rule_of_thumb_half_as_much_again_and_nearly_weightless(
    basic: float, saturated: float, submerged: float, share: float, of_own_dry: float, of_handbook_dry: float
) -> None:
    """The rule "waterlogged weighs half as much again, and nearly nothing under water" (practice, no source).

    Own calculation: it holds only for degraded wood against handbook dry oak (720 kg/m3) of the same volume.
    Against the wood's own dry mass it is 1.9 to 8, so it must not be used for a hook load.
    """
    assert saturated_density(basic, SEA) == pytest.approx(saturated, abs=0.05)
    assert submerged_density(basic, SEA) == pytest.approx(submerged, abs=0.05)
    assert submerged_density(basic, SEA) / saturated_density(basic, SEA) == pytest.approx(share, abs=5e-4)
    assert times_air_dry(basic, SEA) == pytest.approx(of_own_dry, abs=0.005)
    assert saturated_density(basic, SEA) / 720.0 == pytest.approx(of_handbook_dry, abs=0.005)


def test_half_as_much_again_would_need_very_heavy_wood() -> None:
    """Own calculation: basic density 753 kg/m3, denser than any sound European oak."""
    assert times_air_dry(753.0, SEA) == pytest.approx(1.5, abs=0.005)


@pytest.mark.parametrize(("gravity", "percent"), [(0.30, 267.0), (0.90, 44.0)])
def test_greatest_water_content_of_sound_wood(gravity: float, percent: float) -> None:
    """USDA Wood Handbook, chapter 4: from 267 % at specific gravity 0.30 to 44 % at 0.90 (memory, verify)."""
    assert umax_from_basic(1000.0 * gravity) == pytest.approx(percent, abs=0.5)


@pytest.mark.parametrize("basic", [300.0, 450.0, 560.0, 800.0])
def test_the_handbook_formula_with_its_own_cell_wall(basic: float) -> None:
    """USDA Wood Handbook, chapter 4: 100 (1.54 - G) / (1.54 G) (memory, verify)."""
    gravity = basic / 1000.0
    handbook = 100.0 * (1.54 - gravity) / (1.54 * gravity)
    assert umax_from_basic(basic, cell_wall=1540.0) == pytest.approx(handbook, rel=1e-12)


@pytest.mark.parametrize(("umax", "basic"), [(185.0, 397.4), (400.0, 214.3), (250.0, 315.8)])
def test_basic_density_from_the_greatest_water_content(umax: float, basic: float) -> None:
    """Own calculation by hand from the definitions (Heritage Science 8:83, 2020, table 2: read)."""
    assert basic_from_umax(umax) == pytest.approx(basic, abs=0.05)


def test_from_fresh_to_sea_water_wood_loses_a_twentieth_of_its_submerged_weight() -> None:
    """Own calculation: sound oak 186.7 -> 176.6 kg a cubic metre, 5.4 %; cast iron only 0.4 %."""
    fresh, sea = submerged_density(560.0, 1000.0), submerged_density(560.0, SEA)
    assert (fresh, sea) == pytest.approx((186.7, 176.6), abs=0.05)
    assert 1.0 - sea / fresh == pytest.approx(0.054, abs=5e-4)


def test_an_oak_log_with_its_spread() -> None:
    """Own calculation by first-order propagation: 302.5 kg u 16.1 in air, 44.4 kg u 5.27 under water."""
    d = Draws(200_000, np.random.default_rng(11))
    diameter, length = d.of(normal(0.40, 0.01, "diameter")), d.of(normal(2.00, 0.02, "length"))
    basic = d.of(normal(560.0, 60.0, "basic density of oak"))
    volume = np.pi * diameter**2 * length / 4.0
    air = spread_of(volume * saturated_density(basic, SEA), "kg", inputs=d.inputs)
    under = spread_of(volume * submerged_density(basic, SEA), "kg", inputs=d.inputs)
    assert (air.mean, air.sd) == pytest.approx((302.5, 16.1), rel=0.01)
    assert (under.mean, under.sd) == pytest.approx((44.4, 5.27), rel=0.01)
    assert air.drivers[0].label == "diameter"
    assert under.drivers[0].label == "basic density of oak"
