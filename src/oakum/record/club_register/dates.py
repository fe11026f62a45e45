"""Dates as registers write them, read only where one reading is possible.

``3/6/98`` may be the third of June or the sixth of March: the other dates of the same column decide, and where they
do not, the date is refused with what to write instead. Two-figure years are read as 1950 to 2049.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

Order = Literal["day first", "month first"]

SHORT_YEAR_PIVOT = 50

_MONTHS = {
    name: number
    for number, names in enumerate(
        (
            "january jan",
            "february feb",
            "march mar",
            "april apr",
            "may",
            "june jun",
            "july jul",
            "august aug",
            "september sept sep",
            "october oct",
            "november nov",
            "december dec",
        ),
        start=1,
    )
    for name in names.split()
}
_ISO = re.compile(r"(\d{4})(?:[-/.](\d{1,2})(?:[-/.](\d{1,2})(?:[T ]\d\d:\d\d(?::\d\d)?)?)?)?")
_FIGURES = re.compile(r"(\d{1,2})\s*([-/.])\s*(\d{1,2})\s*\2\s*(\d{4}|\d{2})")
_DAY_NAME = re.compile(r"(?:(\d{1,2})(?:st|nd|rd|th)?[\s\-./]+)?([a-z]+)\.?[\s\-./,]+(\d{4}|\d{2})")
_NAME_DAY = re.compile(r"([a-z]+)\.?\s+(\d{1,2})(?:st|nd|rd|th)?\s*,?\s+(\d{4})")


class DateError(ValueError):
    """A text that is no date, or could be two; a sentence that says what to write."""


@dataclass(frozen=True, slots=True)
class DateRead:
    """`iso` is YYYY, YYYY-MM or YYYY-MM-DD, as precise as it was written; `short_year` tells of two figures."""

    iso: str
    short_year: bool = False


def day_order(texts: Iterable[str]) -> Order | None:
    """Whether the dates of one column put the day or the month first; None if they do not tell or disagree."""
    orders: set[Order] = set()
    for text in texts:
        if (found := _FIGURES.fullmatch(text.strip())) and found[2] != ".":
            if int(found[1]) > 12 >= int(found[3]):
                orders.add("day first")
            elif int(found[3]) > 12 >= int(found[1]):
                orders.add("month first")
    return orders.pop() if len(orders) == 1 else None


def read_date(text: str, order: Order | None = None) -> DateRead:
    """The date written as `text`; `order` is what the column tells about dates such as 3/6/98.

    With dots between the figures (3.6.98) the day comes first. Raises `DateError`.
    """
    plain = " ".join(text.split()).lower()
    if found := _ISO.fullmatch(plain.upper()):
        return _checked(text, found[1], found[2], found[3])
    if found := _FIGURES.fullmatch(plain):
        first, second = int(found[1]), int(found[3])
        if found[2] == "." or first > 12:
            order = "day first"
        elif second > 12:
            order = "month first"
        elif order is None and first != second:
            raise DateError(
                f"{text!r} could be two dates, and the column does not tell whether the day or the month comes "
                "first; write it as year-month-day, such as 1998-06-03"
            )
        day, month = (second, first) if order == "month first" else (first, second)
        return _checked(text, found[4], str(month), str(day))
    if (found := _NAME_DAY.fullmatch(plain)) and found[1] in _MONTHS:
        return _checked(text, found[3], str(_MONTHS[found[1]]), found[2])
    if (found := _DAY_NAME.fullmatch(plain)) and found[2] in _MONTHS:
        return _checked(text, found[3], str(_MONTHS[found[2]]), found[1])
    raise DateError(f"{text!r} is no date; write it as year-month-day, such as 1998-06-03, or only the year")


def _checked(text: str, year: str, month: str | None, day: str | None) -> DateRead:
    short = len(year) == 2
    full = int(year) + ((1900 if int(year) >= SHORT_YEAR_PIVOT else 2000) if short else 0)
    try:
        date = dt.date(full, int(month or 1), int(day or 1))
    except ValueError as error:
        raise DateError(
            f"{text!r} is no day of the calendar; look it up and write it as year-month-day"
        ) from error
    iso = date.isoformat()
    return DateRead(iso if day else iso[:7] if month else iso[:4], short)
