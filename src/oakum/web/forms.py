"""What a form sent: text as typed, files, and what was wrong with which field."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Annotated

from fastapi import Depends, Request
from starlette.datastructures import UploadFile
from starlette.exceptions import HTTPException

MOST_FIELDS = 5_000
MOST_FILES = 40
LONGEST_FIELD = 1_000_000


@dataclass(frozen=True, slots=True)
class Upload:
    """One file that came with a form."""

    name: str
    data: bytes


@dataclass(slots=True)
class Form:
    """A form on its way in or back out; `typed` is never tidied, so that a person finds their own words.

    `partly` tells that some of what was sent is kept although something was wrong.
    """

    typed: dict[str, list[str]] = field(default_factory=dict)
    files: dict[str, list[Upload]] = field(default_factory=dict)
    errors: dict[str, str] = field(default_factory=dict)
    partly: bool = False

    @classmethod
    def of(cls, values: Mapping[str, str | None]) -> Form:
        """Make a form to be filled in, with these values standing in it."""
        return cls({name: [value] for name, value in values.items() if value is not None})

    def text(self, name: str) -> str:
        """Return what was typed into a field, as typed; empty where nothing was."""
        values = self.typed.get(name)
        return values[-1] if values else ""

    def value(self, name: str) -> str | None:
        """Return what was typed without the blanks around it, or None for an empty field: not known."""
        return self.text(name).strip() or None

    def every(self, name: str) -> Sequence[str]:
        """Return all values of a field that may come several times, such as ticks."""
        return tuple(self.typed.get(name, ()))

    def uploads(self, name: str) -> Sequence[Upload]:
        """Return the files of a field; a browser's empty file field counts as none."""
        return tuple(self.files.get(name, ()))

    def need(self, name: str, sentence: str) -> str:
        """Return the value of a field that may not stay empty; note the sentence where it did."""
        value = self.value(name)
        if value is None:
            self.wrong(name, sentence)
        return value or ""

    def wrong(self, name: str, sentence: str) -> None:
        """Note what was wrong with a field (the first remark stays); name "" is the form as a whole."""
        self.errors.setdefault(name, sentence)

    def listed(self) -> list[tuple[str, str]]:
        """Return all remarks in the order they were found; who writes stands last on every form."""
        return sorted(self.errors.items(), key=lambda item: item[0] == "author")

    @property
    def good(self) -> bool:
        """Whether nothing was wrong so far."""
        return not self.errors


async def read_form(request: Request) -> Form:
    """Read the form of a request; 400 with a sentence where it cannot be read."""
    form = Form()
    try:
        sent = await request.form(max_files=MOST_FILES, max_fields=MOST_FIELDS, max_part_size=LONGEST_FIELD)
    except HTTPException as error:
        raise HTTPException(400, "The form could not be read. Go back, and send it again.") from error
    for name, value in sent.multi_items():
        if isinstance(value, UploadFile):
            if value.filename:
                form.files.setdefault(name, []).append(Upload(value.filename, await value.read()))
        else:
            form.typed.setdefault(name, []).append(value.replace("\r\n", "\n"))
    await sent.close()
    return form


SentForm = Annotated[Form, Depends(read_form)]
