"""What the parts of a vessel file share while they are read: its CSVs, and questions for a person."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from oakum.lift.body.cursor import Cursor
from oakum.lift.vessel.errors import VesselError


@dataclass(slots=True)
class VesselReading:
    """The CSVs that came with the text, by name, and the questions the reading leaves."""

    files: Mapping[str, bytes]
    questions: list[str] = field(default_factory=list)

    def table(self, cursor: Cursor, what: str) -> tuple[str, str] | None:
        """Return name and text of the CSV that the key `file` names; None, with the problem noted, without it."""
        name = cursor.text("file", needed=f'the CSV with the {what}, such as file = "{what}.csv"')
        if not name:
            return None
        if "/" in name or "\\" in name:
            cursor.problem(
                "file", f'"{name}" is a path: give the name of the file alone, and the file with it'
            )
            return None
        data = self.files.get(name)
        if data is None:
            here = ", ".join(f'"{n}"' for n in self.files) or "none"
            cursor.problem(
                "file", f'"{name}" did not come with the text; give it as well (files here: {here})'
            )
            return None
        try:
            return name, table_text(data, name)
        except VesselError as error:
            cursor.problem("file", str(error))
            return None


def table_text(data: bytes, name: str) -> str:
    """Return the text of a CSV, as UTF-8 or as older spreadsheets write it. `VesselError` for what is no text."""
    if data.startswith((b"PK\x03\x04", b"\xd0\xcf\x11\xe0")):
        raise VesselError(f"{name} is a workbook; save the sheet as CSV and give that")
    wide = data.startswith((b"\xff\xfe", b"\xfe\xff"))
    for encoding in ("utf-16",) if wide else ("utf-8-sig", "cp1252"):
        try:
            text = data.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\x00" not in text:
            return text
    raise VesselError(f"{name} is no text; a CSV was expected: one row a line, cells between commas")
