"""What people type is read as SI with the text kept."""

from __future__ import annotations

import math

import pytest

from oakum.ground.quantities import Quantity, find_unit, read, show, units

LB = 0.45359237
FOOT = 0.3048


@pytest.mark.parametrize(
    ("text", "dimension", "value"),
    [
        ("1.2 m", "length", 1.2),
        ("1.2m", "length", 1.2),
        ("4 ft 3 1/2 in", "length", 4 * FOOT + 3.5 * 0.0254),
        ("4' 3 1/2\"", "length", 1.3081),
        ("4'-3 1/2\"", "length", 1.3081),
        ("4′ 3½″", "length", 1.3081),
        ("4 Feet 3 Inches", "length", 1.2954),
        ("¾in", "length", 0.01905),
        ("6-1/2 in.", "length", 0.1651),
        ("4 FEET 3 INS", "length", 1.2954),
        ("12 LBS", "mass", 12 * LB),
        ("1.2 m.", "length", 1.2),
        ("7 fathom 2 ft", "length", 7 * 1.8288 + 2 * FOOT),
        ("0.9 t", "mass", 900.0),
        ("2 long ton 3 cwt", "mass", (2 * 2240 + 3 * 112) * LB),
        ("2 short ton 3 cwt", "mass", (2 * 2000 + 3 * 100) * LB),
        ("2 Long Ton 3 Cwt 1 Qr 4 lb", "mass", (2 * 2240 + 3 * 112 + 28 + 4) * LB),
        ("3 long cwt 2 qr 14 lb", "mass", (3 * 112 + 2 * 28 + 14) * LB),
        ("3 short cwt 2 qr", "mass", (3 * 100 + 2 * 25) * LB),
        ("9 st 7 lb", "mass", 133 * LB),
        ("12 lb 4 oz", "mass", 12.25 * LB),
        ("1,5 m", "length", 1.5),
        ("0,234 kg", "mass", 0.234),
        ("1234,567 kg", "mass", 1234.567),
        ("1.234,5 kg", "mass", 1234.5),
        ("1,234.5 kg", "mass", 1234.5),
        ("1,234,567 kg", "mass", 1234567.0),
        ("1'234 kg", "mass", 1234.0),
        ("1\u2009234.5 kg", "mass", 1234.5),
        ("1\u202f234,5\u202fkg", "mass", 1234.5),
        ("1 234 567 kg", "mass", 1234567.0),
        ("1.234 kg", "mass", 1.234),
        ("+1.2e1 kg", "mass", 12.0),
        ("1027 kg/m³", "density", 1027.0),
        ("1.027 g/cm3", "density", 1027.0),
        ("64 lb/ft3", "density", 64 * LB / FOOT**3),
        ("250 cm³", "volume", 250e-6),
        ("12 l", "volume", 0.012),
        ("5 US gal", "volume", 5 * 3.785411784e-3),
        ("5 imp gal", "volume", 5 * 4.54609e-3),
        ("3 m²", "area", 3.0),
        ("250 kgf", "force", 250 * 9.80665),
        ("2.5 kN", "force", 2500.0),
        ("5 lbf", "force", 22.2411080763),
        ("12 kPa", "pressure", 12000.0),
        ("2.5 knots", "speed", 2.5 * 1852 / 3600),
        ("0.1 m/s", "speed", 0.1),
        ("6 m/min", "speed", 0.1),
        ("1 h 30 min", "time", 5400.0),
        ("90°", "angle", math.pi / 2),
        ("5° 30' 15\"", "angle", math.radians(5 + 30 / 60 + 15 / 3600)),
        ("−5 °C", "temperature", -5.0),
        ("50 °F", "temperature", 10.0),
        ("283.15 K", "temperature", 10.0),
        ("25 %", "fraction", 0.25),
        ("400 percent", "fraction", 4.0),
    ],
)
def test_a_value_is_read_as_si_with_its_text_kept(text: str, dimension: str, value: float) -> None:
    quantity = read(text, dimension)
    assert quantity.value == pytest.approx(value, rel=1e-12)
    assert (quantity.text, quantity.dimension) == (text, dimension)
    assert quantity.sd is quantity.low is quantity.high is quantity.mode is None
    assert quantity.estimate("x").is_exact


@pytest.mark.parametrize(
    ("text", "dimension", "value", "sd"),
    [
        ("12.4 ± 0.3 kg", "mass", 12.4, 0.3),
        ("12.4 +- 0.3 kg", "mass", 12.4, 0.3),
        ("12.4 +/- 0.3 kg", "mass", 12.4, 0.3),
        ("12.4±0.3kg", "mass", 12.4, 0.3),
        ("(12.4 ± 0.3) kg", "mass", 12.4, 0.3),
        ("12.4 kg ± 300 g", "mass", 12.4, 0.3),
        ("12,4 ± 0,3 kg", "mass", 12.4, 0.3),
        ("12.4 kg ± 0.3", "mass", 12.4, 0.3),
        ("12.4 ± 5 % kg", "mass", 12.4, 0.62),
        ("12.4 kg ±5%", "mass", 12.4, 0.62),
        ("4 ft 3 ± 1/2 in", "length", 1.2954, 0.0127),
        ("4 ft 3 in ± 1 cm", "length", 1.2954, 0.01),
        ("20 ± 5 %", "fraction", 0.20, 0.05),
        ("10 ± 0.5 °C", "temperature", 10.0, 0.5),
        ("50 ± 9 °F", "temperature", 10.0, 5.0),
        ("-1 ± 2 °C", "temperature", -1.0, 2.0),
    ],
)
def test_plus_minus_is_one_standard_deviation(text: str, dimension: str, value: float, sd: float) -> None:
    quantity = read(text, dimension)
    assert (quantity.value, quantity.sd) == pytest.approx((value, sd), rel=1e-12)
    estimate = quantity.estimate("tape")
    assert (estimate.kind, estimate.label) == ("normal", "tape")
    assert (estimate.mean, estimate.sd) == pytest.approx((value, sd))


@pytest.mark.parametrize(
    "text", ["40..60 mm", "40 mm..60 mm", "40 mm .. 6 cm", "40 to 60 mm", "40…60 mm", "4..6 cm"]
)
def test_two_dots_are_a_range_with_nothing_likelier(text: str) -> None:
    quantity = read(text, "length")
    assert (quantity.low, quantity.value, quantity.high) == pytest.approx((0.04, 0.05, 0.06), rel=1e-12)
    assert quantity.mode is None
    assert quantity.estimate("crust").kind == "uniform"


def test_three_numbers_are_lowest_likeliest_highest() -> None:
    quantity = read("20..40..100 mm", "length")
    assert (quantity.low, quantity.mode, quantity.high) == pytest.approx((0.02, 0.04, 0.1), rel=1e-12)
    estimate = quantity.estimate("crust")
    assert (estimate.kind, estimate.best) == ("triangular", pytest.approx(0.04))
    assert read("4 ft..4 ft 6 in..5 ft", "length").mode == pytest.approx(4.5 * FOOT)


@pytest.mark.parametrize("text", ["5-2-14", "5 - 2 - 14"])
def test_hundredweight_quarter_pound_is_read_only_when_told_so(text: str) -> None:
    quantity = read(text, "mass", notation="cwt-qr-lb")
    assert quantity.value == pytest.approx(630 * LB, rel=1e-14)
    assert quantity.unit == "long cwt"
    with_spread = read(f"{text} ± 2 lb", "mass", notation="cwt-qr-lb")
    assert with_spread.sd == pytest.approx(2 * LB)
    assert read("285 kg", "mass", notation="cwt-qr-lb").value == 285.0


def test_a_bare_number_is_read_where_the_field_says_its_unit() -> None:
    assert read("12", "length", unit="mm").value == 0.012
    assert read("12 ± 2", "length", unit="mm").sd == 0.002
    assert read("10..12", "length", unit="mm").high == 0.012
    assert read("3 ft", "length", unit="mm").value == pytest.approx(3 * FOOT)


def test_a_place_along_an_axis_may_be_negative() -> None:
    assert read("-0.3 m", "length", signed=True).value == -0.3
    assert read("-0.1 ± 0.2 m", "length", signed=True).sd == 0.2
    assert read("-20..30 mm", "length", signed=True).low == -0.02


def test_zero_is_a_quantity() -> None:
    assert read("0 m", "length").value == 0.0
    assert read("0..20 mm", "length").low == 0.0


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (1.3081, "ft", "4.29167 ft"),
        (900.0, "t", "0.9 t"),
        (1027.0, "kg/m3", "1027 kg/m³"),
        (math.pi / 2, "deg", "90°"),
        (10.0, "degC", "10 °C"),
        (-0.3, "m", "-0.3 m"),
        (0.0, "m", "0 m"),
        (0.25, "%", "25 %"),
        (12345678.0, "kg", "12345700 kg"),
    ],
)
def test_show_writes_si_in_a_chosen_unit(value: float, unit: str, text: str) -> None:
    assert show(value, unit) == text


def test_show_sets_thousands_apart_only_for_people() -> None:
    assert show(1710.0, "kg", grouped=True) == "1,710 kg"
    assert show(1710.0, "kg") == "1710 kg"
    assert show(1714.0, "kg", digits=2) == "1700 kg"


def test_quantities_cannot_be_changed_by_accident() -> None:
    quantity = read("1.2 m", "length")
    with pytest.raises(AttributeError):
        quantity.value = 3.0  # type: ignore[misc]
    assert isinstance(quantity, Quantity)


def test_every_unit_has_a_source_and_a_mark_and_no_two_of_one_dimension_are_written_alike() -> None:
    marks = {"read", "memory, verify", "practice, no source", "own calculation"}
    seen: set[tuple[str, str]] = set()
    for unit in units():
        assert unit.source, unit.symbol
        assert unit.mark in marks, unit.symbol
        assert unit.factor > 0, unit.symbol
        for written in {unit.symbol, *unit.aliases, *unit.names}:
            assert (written, unit.dimension) not in seen, written
            seen.add((written, unit.dimension))
            assert find_unit(written, unit.dimension) is unit
