"""Naming marks, saying that two spellings are one, and what is held as known: places, north, water, instruments."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from oakum.desk.seabed.entering import site_draft
from oakum.desk.seabed.facts import KeptThing, facts_of
from oakum.ground.errors import OakumError
from oakum.ground.quantities import QuantityError, read
from oakum.record import Draft, Entry, Logbook, decimal_text
from oakum.record.log.kinds_seabed import SITE
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
    kept = _mark(logbook, name)
    body: dict[str, Any] = {"name": kept.name if kept is not None else name, **more}
    others = {" ".join(other.split()) for other in also} - {"", name, body["name"]}
    spelt = dict.fromkeys((*(kept.also if kept is not None else ()), *sorted(others, key=natural)))
    if spelt:
        body["also"] = list(spelt)
    drafts = []
    taken = [_mark(logbook, other) for other in sorted(others)]
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
            body[key] = _metres(key, text, signed=key in "xyz")
    if not any(axis in body for axis in "xyz"):
        raise MarkError("Give at least one of x, y and z, in metres of the site.")
    if source := typed.get("source", "").strip():
        body["source"] = source
    mark = _mark(logbook, name)
    subject = mark.subject if mark is not None else name_mark(logbook, name, author=author).subject
    earlier = tuple(e.id for e in mark.history if e.kind == "site.held") if mark is not None else ()
    if earlier:
        if not reason.strip():
            raise MarkError(f"{name} has a place already; say why it changes.")
        body = dict.fromkeys(("x", "y", "z", "sd", "sd_z", "source")) | body | {"reason": reason.strip()}
    return logbook.append_many([Draft("site.held", subject, body, author, earlier)])[0]


def set_north(
    logbook: Logbook, declination_deg: str, *, author: str, turn_deg: str = "", source: str = "", reason: str = ""
) -> Entry:
    """Say what is added to a compass bearing: the declination, east positive, and the turn from true to site north."""
    body: dict[str, Any] = {"declination": _degrees("declination", declination_deg)}
    if turn_deg.strip():
        body["turn"] = _degrees("turn", turn_deg)
    if source.strip():
        body["source"] = source.strip()
    earlier = tuple(entry.id for entry in logbook.entries(SITE, kind="site.north"))
    if earlier:
        if not reason.strip():
            raise MarkError("The north of the site is given already; say why it changes.")
        body["reason"] = reason.strip()
    return _about_site(logbook, Draft("site.north", SITE, body, author, earlier))


def set_bench(logbook: Logbook, mark: str, *, author: str) -> Entry:
    """Say that a mark is read with the gauge at the beginning and end of a dive, to take out what the water moved."""
    return _about_site(logbook, Draft("site.water", SITE, {"bench": mark.strip()}, author))


def add_levels(
    logbook: Logbook, levels: Sequence[tuple[str, str]], *, zone: str, author: str, source: str = ""
) -> Entry:
    """Enter water levels as typed: (local time, height in the heights of the site)."""
    body: dict[str, Any] = {
        "levels": [[at.strip().replace(" ", "T"), _metres("height", height, signed=True)] for at, height in levels],
        "zone": zone,
    }
    if source.strip():
        body["source"] = source.strip()
    return _about_site(logbook, Draft("site.water", SITE, body, author))


def describe_instrument(
    logbook: Logbook, name: str, kind: str, typed: Mapping[str, str], *, author: str, reason: str = ""
) -> Entry:
    """Describe a tape, gauge or compass, or say more of one.

    `typed` has any of scale and scale_sd (in parts per thousand), zero, zero_sd, longest, sd, offset_sd (lengths as
    typed; the sd of a compass in degrees), sd_per_m, solve ("scale", "zero", "scale zero") and note.
    """
    body: dict[str, Any] = {"name": " ".join(name.split()), "kind": kind}
    for key, text in ((key, text.strip()) for key, text in typed.items()):
        if not text:
            continue
        if key == "note":
            body[key] = text
        elif key == "solve":
            body[key] = text.replace(",", " ").split()
        elif key in ("scale", "scale_sd"):
            body[key] = decimal_text(round(_plain(key, text) / 1000.0, 12))
        elif key == "sd_per_m" or (key == "sd" and kind == "compass"):
            body[key] = decimal_text(_plain(key, text))
        else:
            body[key] = _metres(key, text, signed=key == "zero")
    kept = next(
        (one for one in facts_of(logbook).instruments if one.name.casefold() == body["name"].casefold()), None
    )
    if kept is None:
        return logbook.append("survey.instrument", None, body, author=author)
    body |= {"name": kept.name, "reason": reason.strip() or "more is known of it"}
    over = tuple(entry.id for entry in kept.history if entry.kind == "survey.instrument")
    return logbook.append("survey.instrument", kept.subject, body, author=author, over=over)


def _about_site(logbook: Logbook, draft: Draft) -> Entry:
    first = [] if logbook.entries(SITE, limit=1) else [site_draft(logbook, draft.author)]
    return logbook.append_many([*first, draft])[-1]


def _mark(logbook: Logbook, name: str) -> KeptThing | None:
    wanted = " ".join(name.split())
    return next((m for m in facts_of(logbook).marks if wanted == m.name or wanted in m.also), None)


def _holds(mark: KeptThing) -> bool:
    return any(mark.fields.get(axis) is not None for axis in "xyz")


def _metres(what: str, text: str, *, signed: bool) -> str:
    try:
        return decimal_text(round(read(text, "length", unit="m", signed=signed).value, 6))
    except QuantityError as error:
        raise MarkError(f"{what}: {error}.") from error


def _degrees(what: str, text: str) -> str:
    value = _plain(what, text.replace("°", ""))
    if abs(value) > 360.0:
        raise MarkError(f"{what}: {text} is no angle between -360 and 360 degrees.")
    return decimal_text(value)


def _plain(what: str, text: str) -> float:
    try:
        return float(text.strip().replace(",", "."))
    except ValueError:
        raise MarkError(f"{what}: {text!r} is no number.") from None
