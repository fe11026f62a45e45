"""From a template and plain data to the bytes of an archival PDF.

Data reach the template as JSON only, never as template source, so no text can become markup. Fonts are those
of the package alone, the date is passed in: the same input gives the same bytes on every machine. The files
ask for PDF/A-2a (ISO 19005-2) and PDF/UA-1 (ISO 14289-1); the compiler refuses what it knows to break them,
which is no validation.
"""

from __future__ import annotations

import datetime
import json
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

from oakum.ground.errors import OakumError

_HERE = Path(__file__).parent
TEMPLATES = _HERE / "templates"
FONTS = _HERE / "fonts"


class SheetError(OakumError):
    """A sheet that cannot be set."""


@lru_cache(maxsize=1)
def _fonts() -> Any:
    import typst

    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(FONTS)])


def compile_pdf(template: str, data: Mapping[str, Any], *, date: datetime.date) -> bytes:
    """Set `templates/<template>.typ` with `data` (JSON values only) and return the PDF.

    `date` is printed and stands as the creation date, at noon UTC. Raises `SheetError` where the template
    refuses.
    """
    import typst

    noon = datetime.datetime.combine(date, datetime.time(12), tzinfo=datetime.UTC)
    day = {"year": date.year, "month": date.month, "day": date.day, "words": date_words(date)}
    compiler = typst.Compiler(
        str(TEMPLATES / f"{template}.typ"),
        root=str(TEMPLATES),
        font_paths=_fonts(),
        sys_inputs={"data": json.dumps({**data, "date": day}, ensure_ascii=False)},
    )
    try:
        made = compiler.compile(format="pdf", pdf_standards=["a-2a", "ua-1"], timestamp=int(noon.timestamp()))
    except typst.TypstError as error:
        raise SheetError(f"the sheet could not be set: {error.message}") from error
    if not isinstance(made, bytes):
        raise SheetError("the sheet came out in pieces; one file was expected")
    return made


def date_words(date: datetime.date) -> str:
    """Write a date so that no two habits of reading differ: 3 May 2026."""
    months = (
        "January", "February", "March", "April", "May", "June", "July", "August", "September", "October",
        "November", "December",
    )  # fmt: skip
    return f"{date.day} {months[date.month - 1]} {date.year}"
