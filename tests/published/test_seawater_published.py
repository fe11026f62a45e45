"""Density of sea water against the check values of TEOS-10.

Sources: the documentation pages of the GSW toolbox, gsw_rho, gsw_p_from_z, gsw_CT_from_t and gsw_SA_from_SP
(teos-10.org/pubs/gsw/html): values `read` as quoted by public code and by the R package's manual.
"""

from __future__ import annotations

import gsw
import numpy as np
import pytest

from oakum.ground.seawater import Water, density_kg_m3

SP = np.array([34.5487, 34.7275, 34.8605, 34.6810, 34.5680, 34.5600])  # memory, verify; first value read
SA = np.array([34.7118, 34.8915, 35.0256, 34.8472, 34.7366, 34.7324])  # read
T = np.array([28.7856, 28.4329, 22.8103, 10.2600, 6.8863, 4.4036])  # read
CT = np.array([28.8099, 28.4392, 22.7862, 10.2262, 6.8272, 4.3236])  # read
P = np.array([10.0, 50.0, 125.0, 250.0, 600.0, 1000.0])  # read
RHO = np.array(
    [
        1021.839935738108,
        1022.262457966867,
        1024.427195413316,
        1027.790152759127,
        1029.837779000189,
        1032.002453224572,
    ]
)  # read
LATITUDE, LONGITUDE = 4.0, 188.0


def test_the_installed_library_gives_the_published_densities() -> None:
    assert np.allclose(gsw.rho(SA, CT, P), RHO, rtol=0, atol=1e-6)


def test_the_whole_chain_from_instrument_readings_gives_the_published_densities() -> None:
    """Salinity as shown by the instrument, temperature in place and depth, to within 1e-3 kg/m3.

    Only the first three casts are shallow enough for the range of this program (0 to 200 m).
    """
    depth = -gsw.z_from_p(P, LATITUDE)
    rho = density_kg_m3(SP[:3], T[:3], depth[:3], LATITUDE, LONGITUDE)
    assert np.allclose(rho, RHO[:3], rtol=0, atol=1e-3)


def test_pressure_salinity_and_temperature_steps_give_the_published_values() -> None:
    published_p = [10.055726724518, 50.283543374874, 125.731858435610]  # read; z -10, -50, -125 m
    assert np.allclose(gsw.p_from_z(-P[:3], LATITUDE), published_p, rtol=0, atol=1e-9)
    published_ct = [28.809919826700281, 28.439227816091140, 22.786176893078498]  # read
    assert np.allclose(gsw.CT_from_t(SA[:3], T[:3], P[:3]), published_ct, rtol=0, atol=1e-9)
    # 34.711778344814114 read; later editions of the anomaly atlas differ in the fifth decimal place.
    assert gsw.SA_from_SP(34.5487, 10.0, LONGITUDE, LATITUDE) == pytest.approx(34.711778344814114, abs=5e-5)


@pytest.mark.parametrize(
    ("salinity", "temperature", "depth", "latitude", "longitude", "rho"),
    [
        (35.0, 10.0, 20.0, 50.0, -4.0, 1027.046),  # own calculation with gsw 3.6.23
        (7.0, 5.0, 20.0, 58.0, 20.0, 1005.684),  # own calculation: the Baltic's own branch
        (38.5, 18.0, 30.0, 38.0, 15.0, 1028.090),  # own calculation
    ],
)
def test_waters_of_three_seas(
    salinity: float, temperature: float, depth: float, latitude: float, longitude: float, rho: float
) -> None:
    assert density_kg_m3(salinity, temperature, depth, latitude, longitude) == pytest.approx(rho, abs=1e-3)


@pytest.mark.parametrize(
    ("temperature", "rho"),
    [(0.0, 999.8426), (4.0, 999.9750), (10.0, 999.7027), (20.0, 998.2071), (30.0, 995.6502)],
)
def test_fresh_water_agrees_with_the_international_tables(temperature: float, rho: float) -> None:
    """Air-free water at 1 atm, ITS-90: the table printed in the CRC Handbook (memory, verify)."""
    assert Water.fresh(temperature).density_kg_m3.best == pytest.approx(rho, abs=2e-3)


def test_standard_sea_water_agrees_with_the_older_international_equation() -> None:
    """EOS-80 check value: S 35, 5 degC, surface -> 1027.67547 kg/m3 (UNESCO TP 44, 1983; memory, verify).

    EOS-80 and TEOS-10 differ by a few g/m3, and 0.02 kg/m3 covers both.
    """
    assert density_kg_m3(35.0, 5.0, 0.0) == pytest.approx(1027.67547, abs=0.02)


def test_depth_adds_five_grams_a_metre() -> None:
    """Own calculation: 0.0045 to 0.005 kg/m3 a metre, so depth hardly matters for a lift."""
    deep, shallow = density_kg_m3(35.0, 10.0, 100.0, 50.0, -4.0), density_kg_m3(35.0, 10.0, 0.0, 50.0, -4.0)
    assert 0.0044 < (deep - shallow) / 100.0 < 0.0050
