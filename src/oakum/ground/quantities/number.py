"""Numbers as people write them, where only one reading is possible."""

from __future__ import annotations

import re
from fractions import Fraction

from oakum.ground.quantities.quantity import QuantityError

_VULGAR = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5",
    "⅘": "4/5", "⅙": "1/6", "⅚": "5/6", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
_LETTERS = str.maketrans(
    {
        **dict.fromkeys("\u2009\u00a0\u2007\u202f", "\u202f"),
        **dict.fromkeys("\u2212\u2012\u2013\u2010\u2011", "-"),
        **dict.fromkeys("’‘′ʹ", "'"),
        **dict.fromkeys("”“″ʺ", '"'),
        "⁄": "/",
        "²": "2",
        "³": "3",
        "µ": "μ",
        "…": "..",
        "\t": " ",
        "º": "°",
    }
)
_GROUPED = re.compile(r"\d{1,3}(?:(['\u202f ])\d{3})(?:\1\d{3})*")
_FRACTION = re.compile(r"(?:(\d+) +)?(\d+) ?/ ?(\d+)")
_DECIMAL = re.compile(r"(\d*)(?:[.,](\d+))?(?:[eE]([+-]?\d{1,2}))?")
NUMBER = re.compile(
    r"(?:\d+ +)?\d+ ?/ ?\d+(?![\d.,])"  # 3 1/2, 1/2
    r"|\d{1,3}(?:\u202f\d{3})+(?:[.,]\d+)?(?!\d)"
    r"|\d{1,3}(?: \d{3})+(?:[.,]\d+)?(?![\d/]| ?/)"
    r"|\d{1,3}(?:'\d{3})+(?:[.,]\d+)?(?!\d| ?(?:\"|in\b|inch))"
    r"|\d[\d.,]*(?:[eE][+-]?\d{1,2}(?!\d))?|[.,]\d+"
)
_SPACES = "'\u202f "


def normal_text(text: str) -> str:
    """Return the text with one spelling for each dash, quote, space, fraction and superscript."""
    out = text.translate(_LETTERS).strip(" \n\r\u202f")
    for sign, written in _VULGAR.items():
        out = out.replace(sign, f" {written} ")
    out = re.sub(r"'-(?=\d)", "' ", out)  # 4'-3"
    out = re.sub(r"(?<![\d/.,-])(\d+)-(?=\d+ ?/ ?\d)", r"\1 ", out)  # 6-1/2 in
    out = re.sub(r"(?<=[A-Za-z])\.$", "", out)
    out = re.sub("(?<!\\d)\u202f|\u202f(?!\\d)", " ", out)
    return re.sub(" +", " ", out).strip()


def read_number(text: str) -> Fraction:
    """Return an unsigned number exactly.

    Decimal point or comma, thousands set apart by thin space, apostrophe, point or comma, and fractions
    such as `3 1/2`. A comma before exactly three figures is refused, because `1,234` may be 1.234 or 1234.
    """
    number = text.strip(" \u202f")
    if found := _FRACTION.fullmatch(number):
        whole, over, under = found.groups()
        if int(under) == 0:
            raise QuantityError(f'"{number}" divides by zero')
        if whole and int(over) >= int(under):
            raise QuantityError(f'"{number}": the fraction after a whole number must be less than one')
        return int(whole or 0) + Fraction(int(over), int(under))
    for space in _SPACES:
        if space in number:
            if not _GROUPED.match(number):
                raise QuantityError(f'"{number}" is not a number')
            number = number.replace(space, "")
            return _decimal(number)
    return _decimal(_without_marks(number))


def _without_marks(number: str) -> str:
    """Take thousands marks out where point and comma make clear which is which."""
    marks = [c for c in number if c in ".,"]
    if not marks:
        return number
    last = marks[-1]
    other = "," if last == "." else "."
    if len(marks) == 1:
        before, after = number.split(last)
        if last == "," and re.fullmatch(r"[1-9]\d{0,2}", before) and re.fullmatch(r"\d{3}", after):
            raise QuantityError(
                f'"{number}" could be {before}.{after} or {before}{after}: write one of these two'
            )
        return number
    if len(set(marks)) == 1:  # 1.234.567
        if re.fullmatch(rf"[1-9]\d{{0,2}}(?:\{last}\d{{3}})+", number):
            return number.replace(last, "")
    elif marks.count(last) == 1 and re.match(rf"[1-9]\d{{0,2}}(?:\{other}\d{{3}})+\{last}\d", number):
        return number.replace(other, "")
    raise QuantityError(f'"{number}" is not a number: write for instance 1234.5')


def _decimal(number: str) -> Fraction:
    found = _DECIMAL.fullmatch(number)
    if not found or not (found[1] or found[2]) or len(number) > 40:
        raise QuantityError(f'"{number}" is not a number: write for instance 1234.5')
    return Fraction(f"{found[1] or '0'}.{found[2] or '0'}e{found[3] or '0'}")
