"""What cannot be meant, or can be meant in two ways, is refused with what to write instead."""

from __future__ import annotations

import pytest

from oakum.ground.errors import OakumError
from oakum.ground.quantities import QuantityError, read, show


def refusal(text: str, dimension: str, **how: str) -> str:
    with pytest.raises(QuantityError) as caught:
        read(text, dimension, **how)  # type: ignore[arg-type]
    return str(caught.value)


@pytest.mark.parametrize(
    ("text", "dimension", "said"),
    [
        ("2 ton", "mass", ("long ton", "short ton", "t (1000 kg)")),
        ("2 tons", "mass", ("long ton", "short ton")),
        ("2 Ton", "mass", ("long ton",)),
        ("3 cwt", "mass", ("long cwt (112 lb)", "short cwt (100 lb)")),
        ("3 hundredweight", "mass", ("long cwt", "short cwt")),
        ("2 qr", "mass", ("long qr", "short qr")),
        ("5 t 3 cwt", "mass", ("long cwt", "short cwt")),
        ("2 gallon", "volume", ("imp gal", "US gal")),
        ("2 pints", "volume", ("imp pt", "US pt")),
        ("2 miles", "length", ("nmi", "statute mile")),
        ("3 tonf", "force", ("tf", "kN")),
        ("5 M", "length", ("m for metres", "nmi")),
        ("5 T", "mass", ("long ton",)),
        ("1,234 kg", "mass", ("1.234", "1234")),
        ("1,500 ± 50 kg", "mass", ("1.500", "1500")),
        ("5-2-14", "mass", ("5 long cwt 2 qr 14 lb",)),
        ("40-60 mm", "length", ("40..60",)),
        ("40–60 mm", "length", ("40..60",)),
        ("40...60 mm", "length", ("two dots",)),
        ("20 % ± 5 %", "fraction", ("20 ± 5 %", "points")),
        ("10 ± 5 % °C", "temperature", ("degrees",)),
    ],
)
def test_two_readings_are_refused_with_what_to_write(
    text: str, dimension: str, said: tuple[str, ...]
) -> None:
    message = refusal(text, dimension)
    assert all(word in message for word in said), message


@pytest.mark.parametrize(
    ("text", "dimension", "said"),
    [
        ("3 kg", "length", ("mass", "length")),
        ("3 m", "density", ("length", "density")),
        ("3 kg", "force", ("mass", "force")),
        ("3 kg ± 2 cm", "mass", ("length", "mass")),
        ("4 ft 3 lb", "length", ("mass", "length")),
    ],
)
def test_a_wrong_dimension_names_both(text: str, dimension: str, said: tuple[str, ...]) -> None:
    message = refusal(text, dimension)
    assert all(word in message for word in said), message


@pytest.mark.parametrize(
    ("text", "dimension", "said"),
    [
        ("", "length", "nothing was written"),
        ("  ", "length", "nothing was written"),
        ("12", "length", "no unit"),
        ("0.25", "fraction", "%"),
        ("1.2 m 3", "length", "no unit"),
        ("40 mm..60", "length", "no unit"),
        ("4..5 ft 2 in", "length", "unit at each number"),
        ("abc", "length", "expected a number"),
        ("m", "length", "expected a number"),
        ("5 foo", "mass", "not a unit"),
        ("5 mPa", "pressure", "not a unit"),
        ("5 kg/m4", "density", "not a unit"),
        ("1.2.3 m", "length", "not a number"),
        ("1,2,3 m", "length", "not a number"),
        ("12,34.567 m", "length", "not a number"),
        ("5/0 m", "length", "zero"),
        ("3 5/4 in", "length", "less than one"),
        ("-3 kg", "mass", "negative"),
        ("-1 m", "length", "negative"),
        ("-3..5 kg", "mass", "negative"),
        ("60..40 mm", "length", "smallest to the greatest"),
        ("20..120..100 mm", "length", "smallest to the greatest"),
        ("40..40 mm", "length", "the same"),
        ("40.. mm", "length", "expected a number"),
        ("..60 mm", "length", "missing"),
        ("1..2..3..4 mm", "length", "lowest..highest"),
        ("5 ± 0 kg", "mass", "greater than zero"),
        ("5 ± -1 kg", "mass", "greater than zero"),
        ("5 ± 1 ± 2 kg", "mass", "once"),
        ("5 ± kg", "mass", "expected a number"),
        ("5 ± 5 kg", "mass", "range"),
        ("5 ± 6 kg", "mass", "range"),
        ("5 kg ± 120 %", "mass", "range"),
        ("nan kg", "mass", "not a number"),
        ("inf kg", "mass", "not a number"),
        ("-Infinity", "mass", "not a number"),
        ("∞ kg", "mass", "not a number"),
        ("about 40 mm", "length", "range"),
        ("c. 40 mm", "length", "range"),
        ("~40 mm", "length", "range"),
        (">40 mm", "length", "range"),
        ("4 ft 15 in", "length", "whole ft"),
        ("4.5 ft 3 in", "length", "fraction"),
        ("3 in 4 ft", "length", "greatest unit first"),
        ("4 ft 3 ft", "length", "greatest unit first"),
        ("1 °C 3 °C", "temperature", "once"),
        ("1.2 x 3 m", "length", "not a unit"),
        ("1e999 kg", "mass", "not a unit"),
        ("9" * 41 + " kg", "mass", "not a number"),
        ("1" * 121, "mass", "characters"),
    ],
)
def test_what_cannot_be_meant_is_refused_with_a_sentence(text: str, dimension: str, said: str) -> None:
    message = refusal(text, dimension)
    assert said in message, message
    assert "Traceback" not in message


@pytest.mark.parametrize(
    ("text", "said"),
    [("5-4-0", "quarters go from 0 to 3"), ("5-2-28", "pounds go from 0 to 27"), ("5-2", "5..2")],
)
def test_hundredweight_quarter_pound_keeps_its_ranges(text: str, said: str) -> None:
    assert said in refusal(text, "mass", notation="cwt-qr-lb")


def test_wrong_use_by_a_program_is_refused_too() -> None:
    assert "dimension" in refusal("1 m", "colour")
    assert "notation" in refusal("1 kg", "mass", notation="roman")
    with pytest.raises(QuantityError):
        show(float("nan"), "kg")
    with pytest.raises(QuantityError):
        show(1.0, "kg", digits=0)
    with pytest.raises(QuantityError):
        show(1.0, "ton")


def test_the_error_belongs_to_the_family_that_is_shown_to_people() -> None:
    assert issubclass(QuantityError, OakumError)
    assert issubclass(QuantityError, ValueError)
