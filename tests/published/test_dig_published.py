"""The dig held against worked examples, closed forms and the relations as they were published."""

from __future__ import annotations

import math

import numpy as np
import pytest

from oakum.seabed.dig import (
    AirliftAsked,
    Epoch,
    Level,
    air_ratio,
    airlift,
    dug,
    frustum,
    grid_spread,
    mixture_kg_m3,
    mixture_lift_m,
    outline,
    prismoid,
    section_spread,
    simpson,
    trapezoid,
    trapezoid_weights,
)
from oakum.seabed.dig.airlift import efficiency

SECTIONS = (12.5, 16.0, 18.4, 21.0, 19.5, 17.0)
FT, GAL = 0.3048, 0.003785411784  # US customary, exact by definition
FT3 = FT**3


def liddell_ft3_per_gallon(lift_ft: float, submergence_ft: float) -> float:
    """Liddell 1922 in its own units: D = k l / (585 log10(1 + s/34)), k = 3 + l/700 (read in a restatement)."""
    return (3.0 + lift_ft / 700.0) * lift_ft / (585.0 * math.log10(1.0 + submergence_ft / 34.0))


def test_shoelace_of_five_corners() -> None:
    """own calculation: 29.23 m2 by hand."""
    corners = [(0.0, 0.0), (6.2, 0.4), (7.1, 3.9), (3.0, 5.2), (-0.5, 3.1)]
    assert outline(corners).area_m2 == pytest.approx(29.23, abs=5e-13)
    assert outline(corners[::-1]).area_m2 == pytest.approx(29.23, abs=5e-13)


def test_pit_that_tapers_is_21_by_the_prismoid_and_22_5_by_its_ends() -> None:
    """own calculation: 6 x 4 m to 3 x 2 m, 1.5 m deep; middle section 4.5 x 3 m, read half way, not averaged."""
    assert prismoid(24.0, 13.5, 6.0, 1.5) == pytest.approx(21.0, abs=1e-12)
    assert frustum(24.0, 6.0, 1.5) == pytest.approx(21.0, abs=1e-12)
    assert trapezoid((24.0, 6.0), 1.5) == pytest.approx(22.5, abs=1e-12)


def test_six_sections_by_trapezoid_and_by_simpson_with_a_trapezoid_at_the_end() -> None:
    """own calculation: 896.5 m3 and 905.17 m3 every 10 m."""
    assert trapezoid(SECTIONS, 10.0) == pytest.approx(896.5, abs=1e-9)
    assert simpson(SECTIONS, 10.0) == pytest.approx(905.17, abs=0.005)


def test_a_common_bias_of_5_cm_on_20_m2_is_1_m3_and_does_not_average_out() -> None:
    """own calculation: area times bias, for triangles, grid and sections alike."""
    where = outline([(0, 0), (5, 0), (5, 4), (0, 4)])
    places = [(x, y) for x in range(6) for y in range(5)]
    sets = [Epoch(tuple(Level(f"{x},{y}", x, y, z) for x, y in places), 1e-9) for z in (-12.0, -12.4)]
    by_triangles = dug(where, *sets, bias_sd_m=0.05)
    assert by_triangles.best_m3 == pytest.approx(8.0)
    assert by_triangles.volume is not None and by_triangles.volume.sd == pytest.approx(1.0, rel=1e-6)
    assert by_triangles.volume.drivers[0].label.startswith("what all levels share")
    assert by_triangles.bias_m3_per_cm == pytest.approx(0.2)
    grid = grid_spread(np.full((5, 6), 0.4), 1.0, sd_m=0.0, bias_sd_m=0.05)
    assert (grid.best, grid.sd) == (pytest.approx(8.0), pytest.approx(1.0))
    rows = section_spread(
        trapezoid_weights(6, 1.0), [1.6] * 6, area_sd_m2=0.0, widths_m=[4.0] * 6, bias_sd_m=0.05
    )
    assert (rows.best, rows.sd) == (pytest.approx(8.0), pytest.approx(1.0))


def test_liddell_at_10_ft_lift_and_30_ft_submergence() -> None:
    """read (restated, unit conversion recomputed): 0.1876 ft3 a gallon = 1.403 m3/m3; rounded SI form 1.40."""
    own = liddell_ft3_per_gallon(10.0, 30.0)
    assert own == pytest.approx(0.1876, abs=5e-5)
    assert own * FT3 / GAL == pytest.approx(1.403, abs=5e-4)
    assert air_ratio(10.0 * FT, 30.0 * FT, 34.0 * FT) == pytest.approx(1.40, abs=0.005)


def test_si_form_follows_the_published_one_within_two_parts_in_a_thousand() -> None:
    """own calculation over the range of a dig, with the same atmosphere of 34 ft."""
    for lift in (1.0, 10.0, 40.0):
        for depth in (10.0, 30.0, 100.0):
            published = liddell_ft3_per_gallon(lift, depth) * FT3 / GAL
            assert air_ratio(lift * FT, depth * FT, 34.0 * FT) == pytest.approx(published, rel=2e-3)


def test_relation_equals_isothermal_compression_at_one_third() -> None:
    """own calculation: rho g l per volume of water over p0 ln(1 + s/h0) a volume of free air times Va/Vw."""
    lift, depth, h0 = 3.0, 15.0, 10.08
    work = lift / (h0 * math.log(1.0 + depth / h0) * air_ratio(lift, depth, h0))
    assert work == pytest.approx(efficiency(lift), rel=1e-12) and work == pytest.approx(1 / 3, abs=0.01)


def test_airlift_in_15_m_of_sea_water_with_a_tenth_of_solids() -> None:
    """own calculation: rho_m 1187.5, l' 2.878 m, ratio 0.944, 2.00 m3/min and 21 m3/h in place at 150 mm and 2 m/s."""
    mixture = mixture_kg_m3(0.10, 1025.0)
    lift = mixture_lift_m(0.5, 15.0, mixture, 1025.0)
    ratio = air_ratio(lift, 15.0, 10.08)
    assert mixture == pytest.approx(1187.5)
    assert lift == pytest.approx(2.878, abs=5e-4)
    assert ratio == pytest.approx(0.944, abs=5e-4)
    flow = 0.25 * math.pi * 0.15**2 * 2.0
    assert 60.0 * flow * ratio == pytest.approx(2.00, abs=5e-3)
    assert 3600.0 * flow * 0.10 / 0.6 == pytest.approx(21.0, abs=0.3)
    sized = airlift(AirliftAsked(0.15, 15.0, 0.5))
    air, pressure, spoil = sized.figures
    assert air.low < 2.00 < air.high and spoil.low < 21.0 < spoil.high
    # hydrostatic at 15 m of 1025 kg/m3 is 1.508 bar; 0.3 to 0.7 bar of losses on top
    assert (pressure.low, pressure.high) == (pytest.approx(1.81, abs=5e-3), pytest.approx(2.21, abs=5e-3))
    assert not sized.objections and any("buoyant missile" in words for words in sized.cautions)


def test_forecast_bounds_are_where_the_t_band_meets_the_rest() -> None:
    """own calculation: Student's t for 3 dives at 90 % two-sided is 2.920 (table value, memory, verify)."""
    from oakum.seabed.dig import Work, band_m3, forecast, rate_of

    rate = rate_of([Work("1", 2.0, 0.20), Work("2", 3.0, 0.33), Work("3", 2.5, 0.20)], "buckets")
    noise = math.sqrt(sum((v - rate.m3_per_hour * h) ** 2 / h for h, v in ((2, 0.2), (3, 0.33), (2.5, 0.2))) / 2)
    assert rate.m3_per_hour == pytest.approx(0.73 / 7.5) and rate.noise == pytest.approx(noise)
    low, best, _ = band_m3(rate, 10.0)
    assert (best - low) / (noise * math.sqrt(10.0 * (1 + 10.0 / 7.5))) == pytest.approx(2.920, abs=5e-4)
    ahead = forecast(rate, 3.0)
    assert ahead.high_h is not None and ahead.low_h < ahead.best_h < ahead.high_h
    assert band_m3(rate, ahead.high_h)[0] == pytest.approx(3.0) and band_m3(rate, ahead.low_h)[2] == pytest.approx(3.0)
