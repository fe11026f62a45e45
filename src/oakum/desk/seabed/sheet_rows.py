"""One row of the club's spreadsheet as readings: a tape, a depth, a level or a bearing, or several of them."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from oakum.desk.seabed.proposals import ProposedReading, Remark
from oakum.desk.seabed.sheet_columns import LENGTHS, is_length_unit
from oakum.desk.seabed.typed import Slate, proposed
from oakum.ground.quantities import QuantityError, read
from oakum.record.club_register.dates import DateError, Order, read_date
from oakum.record.sheets.cells import is_not_known
from oakum.record.sheets.columns import Column
from oakum.record.sheets.rows import Cell, Row

_WHAT = {"length": "tape", "depth": "depth", "level": "level", "bearing": "bearing"}
_SAME_M = 0.02


class RowReader:
    """Reads rows of one sheet. `strangers` gathers readers who are not registered."""

    def __init__(
        self,
        sheet: str,
        columns: Sequence[Column],
        slate: Slate,
        unit: str,
        order: Order | None,
        people: Mapping[str, str],
    ) -> None:
        self.sheet = sheet
        self.columns = columns
        self.slate = slate
        self.unit = unit
        self.order = order
        self.people = people
        self.strangers: set[str] = set()

    def read(self, row: Row) -> tuple[list[ProposedReading], str]:
        """The readings of a row, and why it is left out where it has none."""
        cells: dict[str, list[tuple[Cell, Column]]] = {}
        faults: list[Remark] = []
        for column in self.columns:
            cell = row.cells[column.index]
            if cell.problem:
                faults.append(Remark("", _sentence(cell.problem)))
            elif not cell.is_blank and not is_not_known(cell.text):
                cells.setdefault(str(column.field), []).append((cell, column))
        kinds = [field for field in _WHAT if field in cells]
        if not kinds and not faults:
            return [], self._why_left_out(cells)
        found = [self._reading(row, field, cells) for field in kinds]
        found = found or [ProposedReading(row.number, _text(cells), "tape", (), {})]
        found = [replace(one, faults=(*faults, *one.faults)) if faults else one for one in found]
        if len(found) > 1:
            found = [replace(one, part=chr(97 + at)) for at, one in enumerate(found)]
        return found, ""

    def _why_left_out(self, cells: Mapping[str, list[tuple[Cell, Column]]]) -> str:
        marks = [cells[f][0][0].text for f in ("from", "to", "mark") if f in cells]
        if marks:
            return f"{'–'.join(marks)} has no reading"
        return _text(cells)[:60]

    def _reading(
        self, row: Row, field: str, cells: Mapping[str, list[tuple[Cell, Column]]]
    ) -> ProposedReading:
        what = _WHAT[field]
        typed, doubts, faults = self._marks(what, cells)
        value, wrong = self._value(field, cells)
        if wrong:
            faults.append(Remark("value", wrong))
        typed["value"] = value
        for name in ("with", "note"):
            typed[name] = "; ".join(cell.text for cell, _ in cells.get(name, ()))
        spread = self._spread(cells) if what != "bearing" else ""
        if spread:
            typed["value"] = f"{value} ± {spread}"
        slate, said = self._slate(cells)
        notes = [*said]
        typed["time"], time_wrong = _time(cells)
        if time_wrong:
            notes.append(time_wrong)
        one = proposed(what, typed, slate, row=row.number, text=value)
        if typed["time"] and what != "depth":
            one = replace(one, seen=slate.seen(typed["time"]) or one.seen)
        body = {**one.body, "imported_from": f"{self.sheet}, row {row.number}"} if one.body else {}
        if faults:
            return replace(one, body={}, faults=tuple(faults), doubts=tuple(doubts))
        return replace(one, body=body, doubts=tuple(doubts), notes=(*one.notes, *notes))

    def _marks(
        self, what: str, cells: Mapping[str, list[tuple[Cell, Column]]]
    ) -> tuple[dict[str, str], list[Remark], list[Remark]]:
        """The names of the marks, doubts about them, and what keeps the row out."""
        doubts: list[Remark] = []
        faults: list[Remark] = []
        typed: dict[str, str] = {}
        for field in ("from", "to", "mark"):
            if field in cells:
                cell = cells[field][0][0]
                typed[field] = cell.text
                if cell.kind == "date":
                    words = f"Cell {cell.address} holds a date ({cell.text}) where a mark is expected; "
                    doubts.append(Remark(field, words + "spreadsheets turn names such as 1-3 into dates."))
        if what == "depth" and "mark" not in typed:
            if "from" in typed and "to" in typed:
                words = "A depth stands beside two marks; of which is it? Give it a row with its mark alone."
                faults.append(Remark("mark", words))
            typed["mark"] = typed.get("from") or typed.get("to") or ""
        if what != "depth" and "mark" in typed:
            typed.setdefault("from" if "to" in typed else "to", typed["mark"])
        return typed, doubts, faults

    def _value(
        self, field: str, cells: Mapping[str, list[tuple[Cell, Column]]]
    ) -> tuple[str, str]:
        """The number as text with its unit, and what is wrong with it."""
        texts = [self._with_unit(field, cell, column, cells) for cell, column in cells[field]]
        if len(texts) == 1 or field not in LENGTHS:
            return texts[0]
        good: list[tuple[str, float]] = []
        for text, wrong in texts:
            if wrong:
                return text, wrong
            try:
                good.append((text, read(text, "length", signed=True).value))
            except QuantityError as error:
                return text, f"{error}."
        values = [value for _, value in good]
        if max(values) - min(values) > _SAME_M:
            both = " and ".join(text if " m" in text else f"{text} ({value:.2f} m)" for text, value in good)
            return good[0][0], f"It says {both}, which are not the same; which one is right?"
        return good[0][0], ""

    def _with_unit(
        self, field: str, cell: Cell, column: Column, cells: Mapping[str, list[tuple[Cell, Column]]]
    ) -> tuple[str, str]:
        text = cell.text
        if field == "bearing" or re.search(r"[^\d.,\s+-]", text):
            return text, ""
        unit = column.unit
        if unit is None and "unit" in cells:
            unit = cells["unit"][0][0].text
            if not is_length_unit(unit):
                return text, f'The unit "{unit}" is no unit of length; write m or ft.'
        unit = unit or self.unit
        if not unit:
            return text, f"{text} has no unit: neither the column nor the cell says whether these are metres or feet."
        return f"{text} {unit}", ""

    def _spread(self, cells: Mapping[str, list[tuple[Cell, Column]]]) -> str:
        if "sd" not in cells:
            return ""
        cell, column = cells["sd"][0]
        text = cell.text.lstrip("±+-/ ")
        return text if re.search(r"[^\d.,\s]", text) else f"{text} {column.unit or self.unit or 'm'}"

    def _slate(self, cells: Mapping[str, list[tuple[Cell, Column]]]) -> tuple[Slate, list[str]]:
        """What the row itself says of day, dive and reader, over what holds for the sheet."""
        said: list[str] = []
        slate = self.slate
        if "date" in cells:
            cell = cells["date"][0][0]
            try:
                day = read_date(cell.text[:10] if cell.kind == "date" else cell.text, self.order).iso
                slate = replace(slate, day=day if len(day) == 10 else slate.day)
            except DateError as error:
                said.append(_sentence(f"the day is left out: {error}"))
        if "dive" in cells:
            slate = replace(slate, dive=cells["dive"][0][0].text)
        if "diver" in cells:
            name = cells["diver"][0][0].text.casefold()
            who = self.people.get(name) or self.people.get(name.removesuffix("s"))
            if who is None:
                self.strangers.add(name)
            slate = replace(slate, seen_by=who or "diver")
        elif slate.day and not slate.seen_by:
            slate = replace(slate, seen_by="diver")
        return slate, said


def _time(cells: Mapping[str, list[tuple[Cell, Column]]]) -> tuple[str, str]:
    """The time of day, and what is said where it cannot be read: the reading is kept without it."""
    if "time" not in cells:
        return "", ""
    text = cells["time"][0][0].text
    found = re.search(r"(?<!\d)([01]?\d|2[0-3])[:.h]([0-5]\d)", text)
    if found is None:
        return "", f'The time "{text}" is left out: write it as 10:42.'
    return f"{int(found[1]):02d}:{found[2]}", ""


def _text(cells: Mapping[str, list[tuple[Cell, Column]]]) -> str:
    return "; ".join(cell.text for held in cells.values() for cell, _ in held) or "blank"


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:] + ("" if text.endswith(".") else ".")
