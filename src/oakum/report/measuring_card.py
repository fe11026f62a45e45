"""The measuring card: a sketch with lettered measures and boxes to write in, for waterproof film.

Black only, words of at least 14 points, letters and values of at least 20, boxes at least 12 mm high. The
entry page asks for the same fields in the same order, `MEASURING_CARD_FIELDS`.
"""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from oakum.draw.sketches import WIDTH, letters, sketch, sketched_kinds
from oakum.lift.body.shapes import SHAPES
from oakum.report.pdf import SheetError, compile_pdf

PAPERS = {"a4": WIDTH, "a5": 366.0}
"""Papers a card is printed on, and the width of its sketch there, points."""


@dataclass(frozen=True, slots=True)
class CardField:
    """One box of the card: its key, its words, the group it stands in, and the letter of a measure."""

    key: str
    label: str
    group: str  # "seen" | "measure" | "stuff" | "cell" | "note"
    letter: str = ""


_SEEN = (
    CardField("number", "number", "seen"),
    CardField("part", "which part", "seen"),
    CardField("seen", "when (date, time)", "seen"),
    CardField("by", "measured by", "seen"),
    CardField("instrument", "with (tape, calliper)", "seen"),
)
_STUFF = (
    CardField("material", "made of", "stuff"),
    CardField("condition", "how sound", "stuff"),
    CardField("coat", "crust: thin, likely, thick", "stuff"),
    CardField("fill", "what is inside", "stuff"),
)
_CELL = (
    CardField("cell_reading", "load cell, hanging free", "cell"),
    CardField("cell_sd", "\u00b1 (swing of the needle)", "cell"),
    CardField("cell_rigging", "gear below the cell", "cell"),
)
_NOTE = (CardField("note", "anything else", "note"),)
_HOLES = (
    CardField("holes", "holes: how many, how wide", "measure"),
    CardField("hole_places", "how far from the middle", "measure"),
)


def _measures(kind: str) -> tuple[CardField, ...]:
    fields = []
    for key, letter in letters(kind).items():
        words = key.replace("_", " ")
        fields.append(
            CardField(key, f"{words} (or girth)" if key.endswith("diameter") else words, "measure", letter)
        )
    return tuple(fields) + (_HOLES if kind == "holed disc" else ())


MEASURING_CARD_FIELDS: Mapping[str, tuple[CardField, ...]] = {
    kind: _SEEN + _measures(kind) + _STUFF + _CELL + _NOTE for kind in SHAPES
}
"""The boxes of each kind of solid in the order they are filled in; the entry page follows it."""


def measuring_card_pdf(
    kind: str, *, date: datetime.date, number: str = "", paper: str = "a4", demo: bool = False
) -> bytes:
    """Return a measuring card for a kind of solid, `number` already written in if it is given.

    `date` is that of the print. Raises `SheetError` for a kind not measured by tape or an unknown paper.
    """
    if kind not in MEASURING_CARD_FIELDS or kind not in sketched_kinds():
        kinds = ", ".join(MEASURING_CARD_FIELDS)
        raise SheetError(f"there is no measuring card for {kind!r}; take one of: {kinds}")
    if paper not in PAPERS:
        raise SheetError(f"cards are printed on {' or '.join(PAPERS)}, not {paper!r}")
    return compile_pdf("measuring_card", _card_data(kind, number, paper, demo), date=date)


def _card_data(kind: str, number: str, paper: str, demo: bool) -> dict[str, Any]:
    width = PAPERS[paper]
    groups: dict[str, list[dict[str, str]]] = {}
    for field in MEASURING_CARD_FIELDS[kind]:
        value = number if field.key == "number" else ""
        groups.setdefault(field.group, []).append(
            {"label": field.label, "letter": field.letter, "value": value}
        )
    return {
        "kind": kind,
        "number": number,
        "paper": paper,
        "demo": "Invented: practice only." if demo else "",
        "sketch": {
            "svg": sketch(kind, printed_width=width),
            "width": width,
            "alt": f"Where to measure a {kind}",
        },
        "groups": groups,
    }
