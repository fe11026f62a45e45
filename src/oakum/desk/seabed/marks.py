"""Naming marks, saying that two spellings are one, and giving marks their known places."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from oakum.desk.seabed.facts import KeptThing, facts_of
from oakum.ground.errors import OakumError
from oakum.ground.quantities import QuantityError, read
from oakum.record import Draft, Entry, Logbook, decimal_text
from oakum.seabed.network.names import alike, natural


class MarkError(OakumError):
    """A mark cannot be named or held as asked; the text says why."""


@dataclass(frozen=True, slots=True)
class MarkLine:
    """One mark in the list: its name, other spellings, what it is, how many readings name it, what is held of it."""

    name: str
    also: tuple[str, ...]
    what: str
    find: str | None
    readings: int
    held: Mapping[str, str]
    subject: str | None


@dataclass(frozen=True, slots=True)
class TwoNames:
    """Spellings that may be one mark, each with the number of readings that use it."""

    names: tuple[tuple[str, int], ...]

    def words(self) -> str:
        """The question."""
        said = ", ".join(f"{name} ({count})" for name, count in self.names)
        return f"{len(self.names)} names for one mark? {said} readings"


def mark_lines(logbook: Logbook) -> tuple[MarkLine, ...]:
    """Return every mark that is named or read, in the order people count."""
    facts = facts_of(logbook)
    uses = Counter(name for one in facts.readings for name in one.marks)
    named = {mark.name: mark for mark in facts.marks}
    lines = []
    for name in sorted({*uses, *named}, key=natural):
        mark = named.get(name)
        fields = mark.fields if mark is not None else {}
        held = {key: str(fields[key]) for key in ("x", "y", "z", "sd", "sd_z", "source") if key in fields}
        lines.append(
            MarkLine(
                name,
                mark.also if mark is not None else (),
                str(fields.get("what") or ""),
                fields.get("find"),
                uses[name],
                held,
                mark.subject if mark is not None else None,
            )
        )
    return tuple(lines)


def two_names(logbook: Logbook) -> tuple[TwoNames, ...]:
    """Return the spellings that may be one mark. They are one only when a person says so."""
    counts = {line.name: line.readings for line in mark_lines(logbook)}
    return tuple(TwoNames(tuple((name, counts[name]) for name in group)) for group in alike(counts))


def name_mark(
    logbook: Logbook,
    name: str,
    *,
    author: str,
    also: Sequence[str] = (),
    what: str = "",
    find: str = "",
    reason: str = "",
) -> Entry:
    """Name a mark, or say more of one: other spellings that are the same mark, what it is, its find.

    Spellings named before stay. Raises `MarkError` where a spelling is another mark with a place of its own.
    """
    more = {"what": what or "find", "find": logbook.find(find).id} if find else {"what": what} if what else {}
    return logbook.append_many(naming_drafts(logbook, name, also, more, author=author, reason=reason))[-1]


def naming_drafts(
    logbook: Logbook,
    name: str,
    also: Sequence[str],
    more: Mapping[str, str],
    *,
    author: str,
    reason: str = "",
) -> list[Draft]:
    """The entries by which a mark gets its name and other spellings; one named before under those is struck out."""
    name = " ".join(name.split())
    if not name:
        raise MarkError("A mark needs a name, as on its label.")
    kept = mark_called(logbook, name)
    body: dict[str, Any] = {"name": kept.name if kept is not None else name, **more}
    others = {" ".join(other.split()) for other in also} - {"", name, body["name"]}
    spelt = dict.fromkeys((*(kept.also if kept is not None else ()), *sorted(others, key=natural)))
    if spelt:
        body["also"] = list(spelt)
    drafts = []
    taken = [mark_called(logbook, other) for other in sorted(others)]
    for other in {mark.subject: mark for mark in taken if mark is not None}.values():
        if kept is not None and other.subject == kept.subject:
            continue
        if _holds(other):
            raise MarkError(f"{other.name} is a mark with a place of its own; strike out one of the two places first.")
        ids = tuple(entry.id for entry in other.history if entry.kind == "mark.named")
        drafts.append(Draft("struck", other.subject, {"reason": f"it is the mark {body['name']}"}, author, ids))
    if kept is None:
        return [*drafts, Draft("mark.named", None, body, author)]
    over = tuple(entry.id for entry in kept.history if entry.kind == "mark.named")
    said = {"reason": reason.strip() or "more is known of the mark"}
    return [*drafts, Draft("mark.named", kept.subject, body | said, author, over)]


def hold_mark(
    logbook: Logbook, name: str, typed: Mapping[str, str], *, author: str, reason: str = ""
) -> Entry:
    """Take the place of a mark as known. `typed` has any of x, y, z, sd, sd_z (lengths as typed) and source.

    Without an sd the place is held fast. A mark that was not named yet is named. A place that was given before is
    replaced, with a reason.
    """
    body: dict[str, Any] = {}
    for key in ("x", "y", "z", "sd", "sd_z"):
        text = typed.get(key, "").strip()
        if text:
            body[key] = metres_of(key, text, signed=key in "xyz")
    if not any(axis in body for axis in "xyz"):
        raise MarkError("Give at least one of x, y and z, in metres of the site.")
    if source := typed.get("source", "").strip():
        body["source"] = source
    mark = mark_called(logbook, name)
    subject = mark.subject if mark is not None else name_mark(logbook, name, author=author).subject
    earlier = tuple(e.id for e in mark.history if e.kind == "site.held") if mark is not None else ()
    if earlier:
        if not reason.strip():
            raise MarkError(f"{name} has a place already; say why it changes.")
        body = dict.fromkeys(("x", "y", "z", "sd", "sd_z", "source")) | body | {"reason": reason.strip()}
    return logbook.append_many([Draft("site.held", subject, body, author, earlier)])[0]


def mark_called(logbook: Logbook, name: str) -> KeptThing | None:
    """Return the mark that goes by this name or spelling, None where nobody named it."""
    wanted = " ".join(name.split())
    return next((m for m in facts_of(logbook).marks if wanted == m.name or wanted in m.also), None)


def _holds(mark: KeptThing) -> bool:
    return any(mark.fields.get(axis) is not None for axis in "xyz")


def metres_of(what: str, text: str, *, signed: bool) -> str:
    """Return a typed length in metres as decimal text; `what` names it in the sentence of a `MarkError`."""
    try:
        return decimal_text(round(read(text, "length", unit="m", signed=signed).value, 6))
    except QuantityError as error:
        raise MarkError(f"{what}: {error}.") from error
