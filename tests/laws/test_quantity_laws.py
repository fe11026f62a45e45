"""Laws of quantities: what is shown can be read again, and the way of writing does not change the value."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oakum.ground.quantities import QuantityError, Unit, read, show, units

plain_units = [u for u in units() if u.symbol != "1"]
sizes = st.decimals("0.001", "99999", places=3).filter(lambda d: d > 0)


@given(st.sampled_from(plain_units), sizes)
def test_what_is_shown_is_read_back(unit: Unit, number: object) -> None:
    value = read(f"{number} {unit.symbol}", unit.dimension).value
    again = read(show(value, unit.symbol, digits=12), unit.dimension).value
    assert again == pytest.approx(value, rel=1e-9, abs=1e-9 if unit.dimension == "temperature" else 0.0)


@given(st.sampled_from([u for u in plain_units if not u.offset]), sizes, st.integers(1, 90))
def test_the_spread_scales_with_the_value(unit: Unit, number: object, percent: int) -> None:
    relative = read(f"{number} {unit.symbol}", unit.dimension).value * percent / 100
    if unit.dimension in ("fraction", "temperature"):
        return
    quantity = read(f"{number} {unit.symbol} ± {percent} %", unit.dimension)
    assert quantity.sd == pytest.approx(relative, rel=1e-9)


@given(st.integers(0, 500), st.integers(0, 3), st.integers(0, 27))
def test_hundredweight_quarter_pound_is_the_same_either_way(cwt: int, qr: int, lb: int) -> None:
    short = read(f"{cwt}-{qr}-{lb}", "mass", notation="cwt-qr-lb").value
    assert short == read(f"{cwt} long cwt {qr} qr {lb} lb", "mass").value
    assert short == pytest.approx((112 * cwt + 28 * qr + lb) * 0.45359237, rel=1e-14)


@given(st.integers(0, 40), st.integers(0, 11), st.sampled_from(["", " 1/2", " 3/4", "½", " 7/8"]))
def test_feet_and_inches_are_the_same_with_words_or_marks(feet: int, inches: int, part: str) -> None:
    words = read(f"{feet} ft {inches}{part} in", "length").value
    assert words == read(f"{feet}' {inches}{part}\"", "length").value
    assert feet * 0.3048 - 1e-9 <= words < (feet + 1) * 0.3048


@given(sizes)
def test_decimal_comma_and_point_agree_or_the_comma_is_refused(number: object) -> None:
    text = f"{number}".rstrip("0").rstrip(".")
    with_comma = text.replace(".", ",")
    try:
        assert read(f"{with_comma} kg", "mass").value == read(f"{text} kg", "mass").value
    except QuantityError as refused:
        assert "could be" in str(refused)
        assert len(text.split(".")[1]) == 3


@given(st.text(max_size=40), st.sampled_from(["length", "mass", "fraction", "angle"]))
def test_any_text_gives_a_quantity_or_a_sentence(text: str, dimension: str) -> None:
    try:
        quantity = read(text, dimension)
    except QuantityError as refused:
        assert len(str(refused)) > 10
    else:
        assert quantity.text == text


@given(st.text(alphabet="0123456789.,'/-± mkgftlb½²\u2009e%", max_size=24))
def test_text_made_of_numbers_and_units_never_breaks_the_reader(text: str) -> None:
    for dimension in ("length", "mass"):
        try:
            quantity = read(text, dimension, unit="kg" if dimension == "mass" else "m")
        except QuantityError:
            continue
        assert quantity.value >= 0.0
