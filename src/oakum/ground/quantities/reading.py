"""Read what a person typed as a quantity of one dimension."""

from __future__ import annotations

import math
import re
from fractions import Fraction

from oakum.ground.quantities.amount import Amount, read_amount
from oakum.ground.quantities.number import normal_text
from oakum.ground.quantities.quantity import DIMENSIONS, SI_UNITS, Quantity, QuantityError
from oakum.ground.quantities.units import Unit, article, find_unit

_LONGEST = 120
_PLUS_MINUS = re.compile(r"±|\+ ?/? ?-")
_RANGE = re.compile(r" ?\.\. ?| to ")
_VAGUE = re.compile(r"(?:[~≈<>≤≥]|(?:about|approx|approximately|circa|ca|c|over|under)\b)", re.IGNORECASE)
_NOT_FINITE = re.compile(r"[+-]?(?:nan|inf|infinity|∞)\b|∞", re.IGNORECASE)
_IN_BRACKETS = re.compile(r"\(([^()]*)\) ?(.*)")
_PERCENT_OF = re.compile(r"(.*\d) ?(%|‰)(.*)")
_MAY_BE_NEGATIVE = ("temperature", "angle")


def read(
    text: str,
    dimension: str,
    *,
    unit: str | None = None,
    notation: str | None = None,
    signed: bool = False,
) -> Quantity:
    """Return what was typed as a quantity in SI, or raise `QuantityError` saying what to write.

    `dimension` is one of `DIMENSIONS`. Understood are `1.2 m`, `4 ft 3 1/2 in`, `2 long ton 3 cwt`,
    `12.4 ± 0.3 kg` (one standard deviation; also `+-`, `+/-`, `± 5 %`), `40..60 mm` (anything between alike)
    and `20..40..100 mm` (likeliest in the middle). `unit` is the unit of a bare number, where the field says
    so; without it a bare number is refused. `notation="cwt-qr-lb"` also reads `5-2-14`. Lengths, masses and
    their like must not be negative unless `signed` (a place along an axis).
    """
    if dimension not in DIMENSIONS:
        raise QuantityError(f'"{dimension}" is not a dimension; one of {", ".join(DIMENSIONS)}')
    if notation not in (None, "cwt-qr-lb"):
        raise QuantityError(f'"{notation}" is not a notation known here; there is cwt-qr-lb')
    if len(text) > _LONGEST:
        raise QuantityError(f"a quantity is written in at most {_LONGEST} characters")
    clean = normal_text(text)
    _refuse_vague(clean, dimension)
    if found := _IN_BRACKETS.fullmatch(clean):
        clean = f"{found[1]} {found[2]}".strip()
    reader = _Reader(text, dimension, find_unit(unit, dimension) if unit else None, notation, signed)
    if _PLUS_MINUS.search(clean):
        return reader.plus_minus(clean)
    if ".." in clean or " to " in clean:
        return reader.range(clean)
    return reader.bare(clean)


def _refuse_vague(clean: str, dimension: str) -> None:
    if not clean:
        raise QuantityError(f"nothing was written; {article(dimension)} was asked")
    if _NOT_FINITE.match(clean):
        raise QuantityError(f'"{clean}" is not a number; leave the field empty if it is not known')
    if _VAGUE.match(clean):
        raise QuantityError(
            f'"{clean}": say how wide it is, as a range (30..50 mm) or with one '
            "standard deviation (40 ± 5 mm)"
        )


class _Reader:
    """One text on its way to a quantity."""

    def __init__(
        self, text: str, dimension: str, unit: Unit | None, notation: str | None, signed: bool
    ) -> None:
        self.text = text
        self.dimension = dimension
        self.unit = unit
        self.notation = notation
        self.signed = signed or dimension in _MAY_BE_NEGATIVE

    def bare(self, clean: str) -> Quantity:
        amount = self._with_default(self._amount(clean))
        return self._quantity(amount, self._si(amount))

    def plus_minus(self, clean: str) -> Quantity:
        parts = _PLUS_MINUS.split(clean)
        if len(parts) != 2:
            raise QuantityError(f'"{self.text}": write ± once, as in 12.4 ± 0.3 kg')
        found = _PERCENT_OF.fullmatch(parts[1].strip())
        if found and self.dimension == "temperature":
            raise QuantityError(f'"{self.text}": write the spread of a temperature in degrees')
        if found and self.dimension != "fraction":
            middle = self._with_default(self._amount(f"{parts[0]} {found[3]}"))
            value = self._si(middle)
            sd = abs(value) * read_amount(f"{found[1]} {found[2]}", "fraction", None).si("fraction")
        else:
            middle, spread = self._amount(parts[0]), self._amount(parts[1])
            if found and middle.has_unit:
                raise QuantityError(
                    f'"{self.text}" could be a share of the value or percentage points: '
                    f"write {parts[0].rstrip(' %')} ± {parts[1].strip()} for points"
                )
            middle, spread = self._same_unit(middle, spread)
            value, sd = self._si(middle), spread.si(self.dimension, difference=True)
        if sd <= 0:
            raise QuantityError(f'"{self.text}": what stands after ± must be greater than zero')
        if not self.signed and sd >= value:
            raise QuantityError(
                f'"{self.text}": the spread is as large as the value; write a range, '
                "lowest..highest or lowest..likeliest..highest"
            )
        return self._quantity(middle, value, sd=sd)

    def range(self, clean: str) -> Quantity:
        if "..." in clean:
            raise QuantityError(f'"{self.text}": write a range with two dots, 40..60 mm')
        parts = _RANGE.split(clean)
        if len(parts) not in (2, 3):
            raise QuantityError(f'"{self.text}": write lowest..highest or lowest..likeliest..highest')
        amounts = [self._amount(part) for part in parts]
        last = self._with_default(amounts[-1], known=any(a.has_unit for a in amounts))
        filled = [*(self._like(a, last) for a in amounts[:-1]), last]
        values = [self._si(a) for a in filled]
        if values != sorted(values):
            raise QuantityError(f'"{self.text}": a range is written from the smallest to the greatest')
        if values[0] == values[-1]:
            raise QuantityError(f'"{self.text}": both ends are the same; write the value alone')
        mode = values[1] if len(values) == 3 else None
        middle = (values[0] + values[-1]) / 2 if mode is None else mode
        return self._quantity(last, middle, low=values[0], high=values[-1], mode=mode)

    def _amount(self, part: str) -> Amount:
        return read_amount(part, self.dimension, self.notation)

    def _si(self, amount: Amount) -> Fraction:
        value = amount.si(self.dimension)
        if value < 0 and not self.signed:
            raise QuantityError(f'"{self.text}": {article(self.dimension)} must not be negative here')
        return value

    def _with_default(self, amount: Amount, known: bool = False) -> Amount:
        if amount.has_unit or known or len(amount.terms) > 1:
            return amount
        if self.unit is None:
            raise QuantityError(
                f'"{self.text}" has no unit: write for instance {amount.text} {_common(self.dimension)}'
            )
        return amount.filled(self.unit)

    def _like(self, amount: Amount, other: Amount) -> Amount:
        if amount.has_unit:
            return amount
        if other.only_unit is None:
            raise QuantityError(f'"{self.text}": write the unit at each number')
        return amount.filled(other.only_unit)

    def _same_unit(self, middle: Amount, spread: Amount) -> tuple[Amount, Amount]:
        if not spread.has_unit:
            spread = self._like(self._with_default(spread, known=middle.has_unit), middle)
        return self._like(middle, spread), spread

    def _quantity(
        self,
        amount: Amount,
        value: Fraction,
        *,
        sd: Fraction | None = None,
        low: Fraction | None = None,
        high: Fraction | None = None,
        mode: Fraction | None = None,
    ) -> Quantity:
        first = amount.terms[0].unit
        return Quantity(
            text=self.text,
            dimension=self.dimension,
            value=_float(value),
            sd=None if sd is None else _float(sd),
            low=None if low is None else _float(low),
            high=None if high is None else _float(high),
            mode=None if mode is None else _float(mode),
            unit=first.symbol if first else SI_UNITS[self.dimension],
        )


def _float(value: Fraction) -> float:
    try:
        number = float(value)
    except OverflowError:
        number = math.inf
    if not math.isfinite(number):
        raise QuantityError("the number is too great to compute with")
    return number


def _common(dimension: str) -> str:
    common = {"fraction": "%", "angle": "°", "density": "kg/m³", "time": "h"}
    return common.get(dimension, SI_UNITS[dimension])
