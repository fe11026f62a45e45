"""The units people may write, from the table beside this file."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from importlib import resources

from oakum.ground.quantities.quantity import QuantityError

_WHICH_TON = "write t (1000 kg), long ton (2240 lb) or short ton (2000 lb)"
_WHICH_CWT = "write long cwt (112 lb) or short cwt (100 lb)"
_WHICH_QR = "write long qr (28 lb) or short qr (25 lb)"
_WHICH_GALLON = "write imp gal (4.546 l), US gal (3.785 l) or litres"
_WHICH_PINT = "write imp pt (0.568 l), US pt (0.473 l) or litres"
_WHICH_MILE = "write nmi (1852 m) or statute mile (1609 m)"
_WHICH_FLUID = "write ml, or oz if a mass is meant"
TWO_MEANINGS: dict[str, str] = {
    **dict.fromkeys(("ton", "tons", "t.", "tn"), _WHICH_TON),
    **dict.fromkeys(("cwt", "cwts", "hundredweight", "hundredweights"), _WHICH_CWT),
    **dict.fromkeys(("qr", "qrs", "quarter", "quarters"), _WHICH_QR),
    **dict.fromkeys(("gal", "gals", "gallon", "gallons"), _WHICH_GALLON),
    **dict.fromkeys(("pt", "pts", "pint", "pints"), _WHICH_PINT),
    **dict.fromkeys(("mile", "miles", "mi"), _WHICH_MILE),
    **dict.fromkeys(("fl oz", "fluid ounce", "fluid ounces"), _WHICH_FLUID),
    **dict.fromkeys(("tonf", "ton-force", "ton force"), "write tf (1000 kgf), kN or lbf"),
    "m": "write m for metres or nmi for sea miles",
    "t": _WHICH_TON,
    **dict.fromkeys(("cable", "cables"), "write m or fathom"),
    **dict.fromkeys(("psf", "ksi"), "write psi or kPa"),
}


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit: SI value = number * factor + offset (the offset for temperatures, in degrees Celsius)."""

    symbol: str
    aliases: tuple[str, ...]
    names: tuple[str, ...]
    dimension: str
    factor: Fraction
    offset: Fraction
    source: str
    mark: str


@cache
def units() -> tuple[Unit, ...]:
    """Return every unit of the table, in its order."""
    text = resources.files(__package__).joinpath("units.csv").read_text(encoding="utf-8")
    return tuple(
        Unit(
            symbol=row["symbol"],
            aliases=tuple(a for a in row["aliases"].split("|") if a),
            names=tuple(n for n in row["names"].split("|") if n),
            dimension=row["dimension"],
            factor=Fraction(row["factor"]),
            offset=Fraction(row["offset"] or "0"),
            source=row["source"],
            mark=row["mark"],
        )
        for row in csv.DictReader(text.splitlines())
    )


@cache
def _index() -> dict[str, tuple[Unit, ...]]:
    found: dict[str, tuple[Unit, ...]] = {}
    for unit in units():
        for key in {unit.symbol, *unit.aliases, *unit.names, *(n.casefold() for n in unit.names)}:
            found[key] = (*found.get(key, ()), unit)
    return found


@cache
def spellings() -> tuple[str, ...]:
    """Return every way to write a unit, longest first."""
    return tuple(sorted(_index(), key=lambda s: (-len(s), s)))


def find_unit(text: str, dimension: str | None = None) -> Unit:
    """Return the unit written as `text`, of this dimension where several are written alike.

    Symbols are taken letter by letter (mPa is not MPa); whole words in any case. A unit with two meanings
    is refused with what to write instead.
    """
    name = " ".join(text.split())
    index = _index()
    folded = name.casefold()
    a_word = (len(name) > 3 and "/" not in name) or (len(name) == 3 and name.isupper())
    found = index.get(name) or (index.get(folded) if a_word else None)
    found = found or index.get(_symbol_of_two_words(name, index), ())
    if found:
        return next((u for u in found if u.dimension == dimension), found[0])
    if folded in TWO_MEANINGS:
        raise QuantityError(f'"{name}" has more than one meaning: {TWO_MEANINGS[folded]}')
    raise QuantityError(f'"{name}" is not a unit known here{_hint(dimension)}')


def _symbol_of_two_words(name: str, index: dict[str, tuple[Unit, ...]]) -> str:
    """Find "Long Cwt" as "long cwt": two-word symbols have no capitals that matter, but US and UK."""
    folded = name.casefold()
    return next((key for key in index if " " in key and key.casefold() == folded), "")


def _hint(dimension: str | None) -> str:
    some = [u.symbol for u in units() if u.dimension == dimension and u.symbol != "1"]
    if dimension is None or not some:
        return ""
    return f"; for {article(dimension)} write for instance {', '.join(some[:6])}"


def article(dimension: str) -> str:
    """Return the dimension with its article."""
    if dimension in ("time", "pressure"):
        return f"a {dimension}"
    return f"{'an' if dimension[0] in 'aeiou' else 'a'} {dimension}"
