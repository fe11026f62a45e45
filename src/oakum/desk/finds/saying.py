"""Saying something about fields of a subject, over what stands there: the rule of corrections in one place."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from oakum.desk.finds.entering import FieldErrors
from oakum.record import Entry, Head, Logbook


def say(
    logbook: Logbook,
    kind: str,
    subject: str,
    heads: Mapping[str, tuple[Head, ...]],
    fields: Mapping[str, Any],
    *,
    author: str,
    reason: str = "",
) -> Entry | None:
    """Enter these fields over all current heads of theirs. None where nothing changes.

    The first value of a field needs no reason; a change does, or `FieldErrors` asks for it.
    """
    held = [head for field in fields for head in heads.get(field, ())]
    changed = [
        field
        for field, value in fields.items()
        if any(head.value != value for head in heads.get(field, ()))
        or (value is not None and not heads.get(field))
    ]
    if not changed:
        return None
    body: dict[str, Any] = dict(fields)
    if any(head.value is not None for field in changed for head in heads.get(field, ())):
        if not reason.strip():
            raise FieldErrors(
                {"reason": "say why the old value no longer holds; it stays in the logbook beside the new one"}
            )
        body["reason"] = reason.strip()
    elif held:
        body["reason"] = reason.strip() or "now known"
    over = tuple(dict.fromkeys(head.entry.id for head in held))
    return logbook.append(kind, subject, body, author=author, over=over)
