"""The units table against pint, scipy.constants and the exact definitions.

Definitions: yard and pound agreement of 1959 (0.9144 m, 0.45359237 kg), SI Brochure, standard gravity
9.80665 m/s2 (memory, verify, confirmed here by two independent libraries).
"""

from __future__ import annotations

import pint
import pytest
from scipy import constants

from oakum.ground.quantities import QuantityError, find_unit, read, units

REGISTRY = pint.UnitRegistry()
SI = {
    "length": "m", "mass": "kg", "density": "kg/m**3", "force": "N", "pressure": "Pa", "time": "s",
    "angle": "rad", "volume": "m**3", "area": "m**2", "speed": "m/s", "fraction": "",
}  # fmt: skip
# What this table calls a unit -> how pint 0.25 writes the same unit. Its traps: "ton" is the short ton, "cwt"
# and "hundredweight" are 100 lb, "fathom" is the US survey fathom (2 ppm longer), a "pint" or "gallon" is
# that of the US, and a "quarter" is 28 lb; so those are written out here.
PINT = {
    "in": "inch", "ft": "foot", "yd": "yard", "fathom": "6 * foot", "nmi": "nautical_mile",
    "statute mile": "mile", "g": "gram", "t": "metric_ton", "lb": "pound", "oz": "ounce",
    "troy oz": "troy_ounce", "st": "stone", "long qr": "quarter", "short qr": "25 * pound",
    "long cwt": "long_hundredweight", "short cwt": "hundredweight", "long ton": "long_ton",
    "short ton": "short_ton", "kg/m3": "kg/m**3", "g/cm3": "g/cm**3", "t/m3": "metric_ton/m**3",
    "kg/l": "kg/liter", "g/l": "g/liter", "lb/ft3": "pound/foot**3", "kgf": "kilogram_force",
    "tf": "1000 * kilogram_force", "lbf": "pound_force", "N/mm2": "N/mm**2", "mbar": "millibar",
    "dbar": "decibar", "atm": "atmosphere", "s": "second", "min": "minute", "h": "hour", "d": "day",
    "year": "365.25 * day", "deg": "degree", "arcmin": "arcminute", "arcsec": "arcsecond", "gon": "grade",
    "m3": "m**3", "dm3": "dm**3", "cm3": "cm**3", "mm3": "mm**3", "ft3": "foot**3", "in3": "inch**3",
    "imp gal": "imperial_gallon", "US gal": "gallon", "imp pt": "imperial_pint", "US pt": "pint",
    "m2": "m**2", "cm2": "cm**2", "mm2": "mm**2", "ft2": "foot**2", "in2": "inch**2", "m/min": "m/minute",
    "km/h": "km/hour", "kn": "knot", "%": "percent", "1": "", "‰": "0.001",
}  # fmt: skip


@pytest.mark.parametrize("unit", [u for u in units() if u.dimension != "temperature"], ids=lambda u: u.symbol)
def test_every_factor_agrees_with_pint(unit) -> None:  # type: ignore[no-untyped-def]
    name = PINT.get(unit.symbol, unit.symbol)
    theirs = REGISTRY.Quantity(1, "") if not name else REGISTRY.Quantity(name)
    assert float(unit.factor) == pytest.approx(theirs.to(SI[unit.dimension]).magnitude, rel=1e-12)


@pytest.mark.parametrize(("symbol", "theirs"), [("degC", "degC"), ("K", "kelvin"), ("degF", "degF")])
@pytest.mark.parametrize("number", [-1.5, 0.0, 12.3, 38.0])
def test_every_temperature_agrees_with_pint(symbol: str, theirs: str, number: float) -> None:
    celsius = REGISTRY.Quantity(number, theirs).to("degC").magnitude
    assert read(f"{number} {symbol}", "temperature").value == pytest.approx(celsius, abs=1e-9)


@pytest.mark.parametrize(
    ("symbol", "value"),
    [
        ("in", constants.inch),
        ("ft", constants.foot),
        ("yd", constants.yard),
        ("nmi", constants.nautical_mile),
        ("statute mile", constants.mile),
        ("lb", constants.pound),
        ("oz", constants.ounce),
        ("st", constants.stone),
        ("troy oz", constants.troy_ounce),
        ("long ton", constants.long_ton),
        ("short ton", constants.short_ton),
        ("t", constants.metric_ton),
        ("kgf", constants.kilogram_force),
        ("lbf", constants.pound_force),
        ("bar", constants.bar),
        ("atm", constants.atm),
        ("psi", constants.psi),
        ("deg", constants.degree),
        ("arcmin", constants.arcmin),
        ("arcsec", constants.arcsec),
        ("min", constants.minute),
        ("h", constants.hour),
        ("d", constants.day),
        ("week", constants.week),
        ("year", constants.Julian_year),
        ("l", constants.liter),
        ("US gal", constants.gallon),
        ("imp gal", constants.gallon_imp),
        ("km/h", constants.kmh),
        ("kn", constants.knot),
    ],
)
def test_factors_agree_with_scipy(symbol: str, value: float) -> None:
    assert float(find_unit(symbol).factor) == pytest.approx(value, rel=1e-14)


@pytest.mark.parametrize(
    ("text", "kilograms"),
    [
        ("1 lb", 0.45359237),
        ("1 st", 6.35029318),
        ("1 long qr", 12.70058636),
        ("1 long cwt", 50.80234544),
        ("1 long ton", 1016.0469088),
        ("1 short ton", 907.18474),
    ],
)
def test_avoirdupois_to_the_last_figure(text: str, kilograms: float) -> None:
    """Exact by definition: 0.45359237 kg times 1, 14, 28, 112, 2240, 2000 (own calculation)."""
    assert read(text, "mass").value == kilograms


def test_a_weight_cut_in_a_bell_as_three_numbers() -> None:
    """5-2-14 is 5 x 112 + 2 x 28 + 14 = 630 lb = 285.763 kg (own calculation)."""
    assert read("5-2-14", "mass", notation="cwt-qr-lb").value == pytest.approx(285.763, abs=5e-4)


def test_fathom_is_two_international_yards_and_not_the_survey_fathom() -> None:
    assert read("1 fathom", "length").value == 1.8288
    survey = REGISTRY.Quantity(1, "fathom").to("m").magnitude
    assert survey == pytest.approx(1.8288, rel=3e-6)


@pytest.mark.parametrize("text", ["1 ton", "1 cwt", "1 hundredweight"])
def test_what_a_general_library_reads_as_american_is_refused_here(text: str) -> None:
    assert REGISTRY.Quantity(text).to("pound").magnitude in (pytest.approx(2000.0), pytest.approx(100.0))
    with pytest.raises(QuantityError, match="more than one meaning"):
        read(text, "mass")
