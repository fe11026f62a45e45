"""The intake slip: goes with a find from the diver's hands into the tank, A5, for waterproof film.

Black only, words of at least 14 points, values of at least 20, boxes at least 12 mm high. The number in words
is larger than its code; the code is a QR symbol of level H with its quiet zone, printed twice, so that one
scratch does not lose it. Its content is the number alone.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, fields
from typing import Any

from oakum.draw import svg
from oakum.report.pdf import SheetError, compile_pdf

MODULE_MM = 1.0
QUIET_MODULES = 4
_POINTS_PER_MM = 72 / 25.4
_MOST_CHARACTERS = 24


@dataclass(frozen=True, slots=True)
class IntakeSlip:
    """What is already known when the slip is printed; an empty field is a box to write in."""

    number: str = ""
    what: str = ""
    count: str = ""
    seen: str = ""
    where: str = ""
    by: str = ""
    container: str = ""
    water: str = ""


INTAKE_SLIP_FIELDS: tuple[tuple[str, str], ...] = (
    ("number", "number"),
    ("what", "what it is"),
    ("count", "how many"),
    ("seen", "seen when (date, time)"),
    ("where", "seen where"),
    ("by", "by"),
    ("container", "container"),
    ("water", "water (sea, fresh)"),
    ("label_checked", "label checked"),
)
"""The boxes in the order they are filled in, which is also the order of the entry page: key and words."""


def intake_slip_pdf(slips: Iterable[str | IntakeSlip], *, date: datetime.date, demo: bool = False) -> bytes:
    """Return one A5 page a slip; a bare text is a number with every other field empty, "" an empty slip.

    `date` is that of the print. Raises `SheetError` where there is no slip or a number is too long.
    """
    filled = [IntakeSlip(number=slip) if isinstance(slip, str) else slip for slip in slips]
    if not filled:
        raise SheetError("no slip to print: give at least one find number, or an empty one for a blank slip")
    data = {
        "slips": [_slip_data(slip) for slip in filled],
        "demo": "Invented: practice only." if demo else "",
    }
    return compile_pdf("intake_slip", data, date=date)


def code_svg(number: str) -> str:
    """Draw the QR symbol of a number (level H, modules of 1 mm) with a quiet zone of four modules."""
    matrix = _matrix(number)
    side = len(matrix) + 2 * QUIET_MODULES
    module = MODULE_MM * _POINTS_PER_MM
    cells = "".join(
        f"M{column + QUIET_MODULES} {row + QUIET_MODULES}h1v1h-1z"
        for row, line in enumerate(matrix)
        for column, dark in enumerate(line)
        if dark
    )
    return svg.document(
        side * module,
        side * module,
        svg.element("rect", width=side * module, height=side * module, fill="#ffffff"),
        svg.element("path", d=cells, fill="#000000", transform=f"scale({module:.5f})"),
        title=f"Code of {number}",
        description=f"QR symbol that holds the number {number}.",
        key=f"code-{number}",
    )


def _matrix(number: str) -> Sequence[Sequence[int]]:
    import segno

    return tuple(tuple(line) for line in segno.make(number, error="h", micro=False, boost_error=False).matrix)


def code_side_mm(number: str) -> float:
    """Return the side of the symbol with its quiet zone, mm."""
    return (len(_matrix(number)) + 2 * QUIET_MODULES) * MODULE_MM


def _slip_data(slip: IntakeSlip) -> dict[str, Any]:
    number = slip.number.strip()
    if len(number) > _MOST_CHARACTERS:
        raise SheetError(
            f"the number {number!r} is longer than {_MOST_CHARACTERS} characters; print it by hand"
        )
    values = {f.name: getattr(slip, f.name) for f in fields(slip)}
    code = None
    if number:
        side = code_side_mm(number)
        code = {
            "svg": code_svg(number),
            "width": side * _POINTS_PER_MM,
            "alt": f"QR symbol of the number {number}",
        }
    return {
        "number": number,
        "number_pt": max(20.0, min(46.0, 235.0 / (0.66 * max(len(number), 1)))),
        "code": code,
        "boxes": {key: {"label": label, "value": values.get(key, "")} for key, label in INTAKE_SLIP_FIELDS},
    }
