"""One amount as typed: a number and a unit, or several from the greatest unit to the smallest."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction

from oakum.ground.quantities.number import NUMBER, read_number
from oakum.ground.quantities.quantity import QuantityError
from oakum.ground.quantities.units import TWO_MEANINGS, Unit, article, find_unit

_HYPHENS = re.compile(r"\d+ ?- ?\d+ ?- ?\d+")
_FROM_TO = re.compile(r"([\d.,]+) ?- ?([\d.,]+)(?=[^\d-]|$)")
_CWT_QR_LB = re.compile(r"(\d{1,6}) ?- ?(\d{1,3}) ?- ?(\d{1,3})")
_OF_A_SYSTEM = {"cwt": "cwt", "cwts": "cwt", "hundredweight": "cwt", "hundredweights": "cwt"}
_OF_A_SYSTEM |= {"qr": "qr", "qrs": "qr", "quarter": "qr", "quarters": "qr"}


@dataclass(frozen=True, slots=True)
class Term:
    """A number, with its unit where one was written."""

    number: Fraction
    unit: Unit | None


@dataclass(frozen=True, slots=True)
class Amount:
    """A signed sum of terms."""

    text: str
    negative: bool
    terms: tuple[Term, ...]

    @property
    def has_unit(self) -> bool:
        """True where the last number has its unit, and with it all of them."""
        return self.terms[-1].unit is not None

    @property
    def only_unit(self) -> Unit | None:
        """The unit, where there is exactly one."""
        return self.terms[0].unit if len(self.terms) == 1 else None

    def filled(self, unit: Unit) -> Amount:
        """Give the last number this unit, where it has none."""
        if self.has_unit:
            return self
        return replace(self, terms=(*self.terms[:-1], replace(self.terms[-1], unit=unit)))

    def si(self, dimension: str, *, difference: bool = False) -> Fraction:
        """Return the SI value exactly; a `difference` leaves a temperature's zero point out."""
        total, before = Fraction(0), None
        for term in self.terms:
            unit = term.unit
            if unit is None:
                raise QuantityError(f'"{self.text}": the last number has no unit; write it after the number')
            if unit.dimension != dimension:
                raise QuantityError(
                    f'"{self.text}" is {article(unit.dimension)}; {article(dimension)} was asked'
                )
            if before is not None:
                self._check_follows(before, term, unit)
            total += term.number * unit.factor
            before = term
        if self.negative:
            total = -total
        first = self.terms[0].unit
        return total if difference or first is None else total + first.offset

    def _check_follows(self, before: Term, term: Term, unit: Unit) -> None:
        greater = before.unit
        if greater is None or unit.factor >= greater.factor or unit.dimension == "temperature":
            raise QuantityError(f'"{self.text}": write the greatest unit first, and each unit once')
        if before.number.denominator != 1:
            raise QuantityError(f'"{self.text}": only the last number may have a fraction')
        if term.number * unit.factor >= greater.factor:
            raise QuantityError(
                f'"{self.text}": {term.number} {unit.symbol} is a whole {greater.symbol} or more; '
                "check the text"
            )


def read_amount(text: str, dimension: str, notation: str | None) -> Amount:
    """Return the amount written as `text`, already in one spelling."""
    body = text.strip()
    negative = body.startswith("-")
    rest = body[1:].strip() if body[:1] in ("-", "+") else body
    if not rest:
        raise QuantityError("a number is missing: write for instance 12.4 ± 0.3 kg or 20..40..100 mm")
    if notation == "cwt-qr-lb" and (found := _CWT_QR_LB.fullmatch(rest)):
        return Amount(body, negative, _cwt_qr_lb(rest, *(int(g) for g in found.groups())))
    _refuse_hyphens(rest)
    terms: list[Term] = []
    system = ""
    while rest:
        found_number = NUMBER.match(rest)
        if not found_number:
            raise QuantityError(f'"{body}": expected a number before "{rest}", as in 1.2 m')
        number = read_number(found_number[0])
        rest = rest[found_number.end() :].strip()
        unit, rest = _take_unit(rest, dimension, system)
        if unit is not None and unit.symbol.split(" ")[0] in ("long", "short"):
            system = unit.symbol.split(" ")[0]
        terms.append(Term(number, unit))
        if unit is None and rest:
            raise QuantityError(f'"{body}" is not one number with a unit')
    return Amount(body, negative, tuple(terms))


def _take_unit(rest: str, dimension: str, system: str) -> tuple[Unit | None, str]:
    """Take the unit at the start of `rest`: all of it, or what stands before the next number."""
    if not rest:
        return None, ""
    piece = re.match(r"[^\d]*", rest)
    first = piece[0].strip() if piece else ""
    if first == rest:
        return _unit(rest, dimension, system), ""
    try:
        return _unit(rest, dimension, system), ""
    except QuantityError as whole:
        if not first:
            return None, rest
        try:
            unit = _unit(first, dimension, system)
        except QuantityError as error:
            raise (error if first.casefold() in TWO_MEANINGS else whole) from None
        return unit, rest[len(first) :].strip()


def _unit(text: str, dimension: str, system: str) -> Unit:
    kind = _OF_A_SYSTEM.get(text.casefold())
    return find_unit(f"{system} {kind}" if system and kind else text, dimension)


def _refuse_hyphens(rest: str) -> None:
    if _HYPHENS.match(rest):
        cwt, qr, lb = re.split(r" ?- ?", rest, maxsplit=2)
        raise QuantityError(
            f'"{rest}" reads like hundredweight-quarter-pound: write {cwt} long cwt {qr} qr {lb} lb'
        )
    if found := _FROM_TO.match(rest):
        raise QuantityError(f'"{rest}": write a range with two dots, {found[1]}..{found[2]}')


def _cwt_qr_lb(text: str, cwt: int, qr: int, lb: int) -> tuple[Term, ...]:
    if qr > 3:
        raise QuantityError(f'"{text}": quarters go from 0 to 3, four are a hundredweight; got {qr}')
    if lb > 27:
        raise QuantityError(f'"{text}": pounds go from 0 to 27, 28 are a quarter; got {lb}')
    pairs = ((cwt, "long cwt"), (qr, "long qr"), (lb, "lb"))
    return tuple(Term(Fraction(number), find_unit(symbol)) for number, symbol in pairs)
