"""A reading from four typed fields, in the order of the sheet; each wrong field is named with what to write."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from oakum.desk.seabed.proposals import ProposedReading, Remark
from oakum.ground.quantities import QuantityError, read
from oakum.record import decimal_text


@dataclass(frozen=True, slots=True)
class TypedField:
    """One of the four fields: its key, its words, what to write, and the keyboard a phone shows."""

    key: str
    label: str
    hint: str
    keyboard: str = "text"


_FROM = TypedField("from", "From", "The mark the tape starts at, as A1.")
_TO = TypedField("to", "To", "The other mark.")
_MARK = TypedField("mark", "Mark", "As on its label.")
_LINE = TypedField("line", "Baseline", "Both its ends, as A1-A4.")
_TAPE = TypedField("with", "Tape", "Which tape, as T1; or its ±, as ± 0.03.")

TYPED_FIELDS: Mapping[str, tuple[TypedField, ...]] = {
    "tape": (_FROM, _TO, TypedField("value", "Reading", "As 12.34; other units as 40 ft 6 in.", "decimal"), _TAPE),
    "depth": (
        _MARK,
        TypedField("value", "Depth", "As 13.2; other units as 43 ft.", "decimal"),
        TypedField("time", "Time", "As 10:42.", "numeric"),
        TypedField("with", "Gauge", "Which gauge, as G1; or its ±."),
    ),
    "level": (
        _FROM,
        _TO,
        TypedField("value", "Rise", "How far the second is above the first; below with a minus.", "text"),
        TypedField("with", "±", "One standard deviation, as 0.01.", "decimal"),
    ),
    "bearing": (
        _FROM,
        _TO,
        TypedField("value", "Bearing", "Degrees of the compass, clockwise from its north.", "decimal"),
        TypedField("with", "Compass", "Which compass; or its ±."),
    ),
    "offset": (
        _MARK,
        _LINE,
        TypedField("along", "Along", "From the first end.", "decimal"),
        TypedField("left", "To the left", "To the right with a minus.", "text"),
    ),
    "tie": (
        _MARK,
        _LINE,
        TypedField("at", "Tape starts at", "Along the baseline, from its first end.", "decimal"),
        TypedField("value", "Reading", "The tape, as 12.34.", "decimal"),
    ),
    "fix": (
        _MARK,
        TypedField("x", "Site east", "Metres of the site grid.", "text"),
        TypedField("y", "Site north", "Metres of the site grid.", "text"),
        TypedField("with", "±", "One standard deviation, as 2 m.", "decimal"),
    ),
}
"""The four fields of each kind of reading, in the order of the sheet; the entry page follows it."""

WHAT_WORDS = {
    "tape": "tape",
    "depth": "depth",
    "level": "level difference",
    "bearing": "bearing",
    "offset": "baseline offset",
    "tie": "two-tape fix, one leg",
    "fix": "position fix",
}
_TIME = re.compile(r"(\d{1,2})[:.h](\d{2})")
_SPREAD = re.compile(r"\s*(?:±|\+/?-)\s*(.+)|\s*(\d*[.,]?\d+\s*(?:m|cm|mm|in)?)\s*")
LONGEST_TAPE_M = 200.0
DEEPEST_M = 120.0
LONGEST_NAME = 100


@dataclass(frozen=True, slots=True)
class Slate:
    """What holds for every reading of a sheet: the day, the dive, who read it, and from what it was typed."""

    day: str = ""
    zone: str = "Z"
    dive: str = ""
    seen_by: str = ""
    seen_from: str = "slate"
    instrument: str = ""

    def seen(self, time: str = "") -> dict[str, str] | None:
        """When and by whom it was read; None where day or reader is not known."""
        if not self.day or not self.seen_by:
            return None
        at = f"{self.day}T{time}" if time else self.day
        return {
            "at": at,
            "zone": self.zone,
            "precision": "minute" if time else "day",
            "by": self.seen_by,
            "from": self.seen_from,
        }


def proposed(
    what: str, typed: Mapping[str, str], slate: Slate, *, row: int = 1, text: str = "", units: str = "m"
) -> ProposedReading:
    """Read the four fields of one reading. Nothing is refused by an error: what is wrong is said in `faults`.

    `text` is the whole as written where it was one line; `units` the unit of bare lengths.
    """
    reader = _Reader(what, typed, units)
    marks = reader.marks()
    body: dict[str, Any] = {"what": what, "marks": list(marks)}
    body |= reader.numbers()
    instrument, sd = reader.instrument()
    if sd is not None:
        body["sd"] = sd
    if (instrument or slate.instrument) and what in ("tape", "depth", "bearing", "tie"):
        body["instrument"] = instrument or slate.instrument
    if slate.dive.strip():
        body["dive"] = slate.dive.strip()
    if note := typed.get("note", "").strip():
        body["note"] = note
    time = reader.time()
    written = text.strip() or reader.written()
    body["text"] = written
    seen = slate.seen(time)
    notes: tuple[str, ...] = ()
    if time and seen is None:
        notes = ("the time is kept only with a day and a reader; fill both in above",)
    faults = tuple(Remark(field, words) for field, words in reader.wrong.items())
    return ProposedReading(row, written, what, marks, {} if faults else body, seen, faults, notes=notes)


class _Reader:
    """The fields of one reading, read one by one; `wrong` keeps the first fault of each."""

    def __init__(self, what: str, typed: Mapping[str, str], units: str) -> None:
        self.what = what
        self.typed = {key: value.strip() for key, value in typed.items()}
        self.units = units
        self.wrong: dict[str, str] = {}

    def marks(self) -> tuple[str, ...]:
        """The marks named, in the order the logbook keeps them."""
        keys = ("from", "to") if self.what in ("tape", "level", "bearing") else ("mark",)
        names = [self._name(key) for key in keys]
        if self.what in ("offset", "tie"):
            names += self._line()
        for at, name in enumerate(names):
            if name and name in names[:at] and not self.wrong:
                self.wrong[keys[-1] if len(keys) > 1 else "line"] = (
                    f"{name} twice: a {WHAT_WORDS[self.what]} runs between different marks; which is the other one?"
                )
        return tuple(names)

    def _name(self, key: str) -> str:
        name = " ".join(self.typed.get(key, "").split())
        if not name:
            self.wrong[key] = "No mark: write its name as on the label."
        elif len(name) > LONGEST_NAME:
            self.wrong[key] = f"A name of {len(name)} characters; write at most {LONGEST_NAME}."
        return name

    def _line(self) -> list[str]:
        parts = [p.strip() for p in re.split(r"\s+to\s+|\s+|[-–/>]+", self.typed.get("line", "")) if p.strip()]
        if len(parts) != 2:
            self.wrong["line"] = "Write both ends of the baseline, as A1-A4."
            return ["", ""]
        return parts

    def numbers(self) -> dict[str, str]:
        """The numbers as decimal text in SI by name, the unit with a value, and the spread where one is written."""
        found: dict[str, str] = {}
        if self.what == "fix":
            for axis in ("x", "y"):
                self._take(found, axis, axis, signed=True)
            if self.typed.get("z"):
                self._take(found, "z", "z", signed=True)
        elif self.what == "offset":
            self._take(found, "along", "along", signed=True, needed=not self.typed.get("left"))
            self._take(found, "left", "left", signed=True, needed=not self.typed.get("along"))
        elif self.what == "bearing":
            self._bearing(found)
        else:
            if self.what == "tie":
                self._take(found, "at", "at")
            self._take(found, "value", "value", signed=self.what in ("level", "depth"))
            found["unit"] = "m"
            self._in_range(found)
        return found

    def _take(
        self, found: dict[str, str], name: str, key: str, *, signed: bool = False, needed: bool = True
    ) -> None:
        written = self.typed.get(key, "")
        if not written:
            if needed:
                self.wrong[key] = "Nothing is written; write the number as on the slate, or leave the reading out."
            return
        try:
            quantity = read(written, "length", unit=self.units, signed=signed)
        except QuantityError as error:
            self.wrong[key] = f"{error}."
            return
        if quantity.low is not None:
            self.wrong[key] = f'"{written}" is a range; write what was read, with its ± where it is known.'
            return
        found[name] = decimal_text(round(quantity.value, 6))
        if quantity.sd is not None:
            found["sd"] = decimal_text(quantity.sd)

    def _bearing(self, found: dict[str, str]) -> None:
        written = self.typed.get("value", "")
        try:
            quantity = read(written, "angle", unit="deg")
        except QuantityError as error:
            self.wrong["value"] = f"{error}."
            return
        degrees = math.degrees(quantity.value)
        if not 0.0 <= degrees <= 360.0:
            self.wrong["value"] = f"A bearing of {degrees:g}°: a compass shows 0 to 360."
        found |= {"value": decimal_text(round(degrees, 9)), "unit": "deg"}
        if quantity.sd is not None:
            found["sd"] = decimal_text(round(math.degrees(quantity.sd), 9))

    def _in_range(self, found: Mapping[str, str]) -> None:
        if "value" not in found:
            return
        value = float(found["value"])
        if self.what in ("tape", "tie") and value <= 0.0:
            self.wrong["value"] = f"A length of {value:g} m: a tape reads more than 0."
        elif self.what in ("tape", "tie") and value > LONGEST_TAPE_M:
            self.wrong["value"] = (
                f"A length of {value:g} m: no tape is that long. Is a decimal point missing, or a unit (mm, ft)?"
            )
        elif self.what == "depth" and value < 0.0:
            self.wrong["value"] = (
                f"A depth of {value:g} m lies above the surface; depths are positive down. Write it without the minus."
            )
        elif self.what == "depth" and value > DEEPEST_M:
            self.wrong["value"] = (
                f"A depth of {value:g} m is deeper than divers survey. Is a decimal point missing, or a unit (ft)?"
            )

    def instrument(self) -> tuple[str, str | None]:
        """The instrument, and the spread where that is what stands in its field."""
        written = self.typed.get("with", "")
        if not written:
            return "", None
        found = _SPREAD.fullmatch(written)
        only_spread = self.what in ("level", "fix")
        if found is None and not only_spread:
            return written, None
        amount = (found[1] or found[2]) if found else written
        if found and found[2] and not only_spread:
            return written, None  # a tape called 2
        try:
            if self.what == "bearing":
                return "", decimal_text(round(math.degrees(read(amount, "angle", unit="deg").value), 9))
            spread = read(amount, "length", unit="m").value
        except QuantityError as error:
            self.wrong["with"] = f"{error}."
            return "", None
        if spread <= 0.0:
            self.wrong["with"] = "A standard deviation is more than nothing; leave the field empty if not known."
            return "", None
        return "", decimal_text(round(spread, 9))

    def time(self) -> str:
        """The time of day as HH:MM, "" where none is written."""
        written = self.typed.get("time", "")
        if not written:
            return ""
        found = _TIME.fullmatch(written) or re.fullmatch(r"(\d{2})(\d{2})", written)
        if found is None or int(found[1]) > 23 or int(found[2]) > 59:
            self.wrong["time"] = f'"{written}" is no time of day; write it as 10:42.'
            return ""
        return f"{int(found[1]):02d}:{found[2]}"

    def written(self) -> str:
        """The numbers as they were typed, with the unit a bare one has."""
        keys = {"fix": ("x", "y", "z"), "offset": ("along", "left"), "tie": ("at", "value")}.get(
            self.what, ("value",)
        )
        unit = "°" if self.what == "bearing" else f" {self.units}"
        typed = [self.typed.get(key, "") for key in keys]
        return ", ".join(_with_unit(text, unit) for text in typed if text) or "nothing"


def _with_unit(text: str, unit: str) -> str:
    return text if re.search(r"[^\d.,\s±+/-]", text) else f"{text}{unit}"


def typed_of(what: str, marks: Sequence[str], body: Mapping[str, Any]) -> dict[str, str]:
    """The four fields as somebody would have typed a reading that is kept, to stand in a form that corrects it."""

    def number(name: str) -> str:
        return "" if body.get(name) is None else f"{float(body[name]):.6g}"

    typed = {"value": number("value"), "with": str(body.get("instrument") or "")}
    if what in ("tape", "level", "bearing"):
        typed |= {"from": marks[0], "to": marks[1]}
    else:
        typed["mark"] = marks[0]
    if what in ("offset", "tie"):
        typed |= {"line": f"{marks[1]} to {marks[2]}", "along": number("along"), "left": number("left")}
        typed["at"] = number("at")
    if what == "fix":
        typed |= {axis: number(axis) for axis in ("x", "y", "z")}
    if not typed["with"] and body.get("sd") is not None:
        typed["with"] = f"± {float(body['sd']):.6g}"
    return typed
