"""What holds for the whole site: its north, the water, which way round it runs, and the instruments."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from oakum.desk.seabed.entering import site_draft
from oakum.desk.seabed.facts import facts_of
from oakum.desk.seabed.marks import MarkError, metres_of
from oakum.record import Draft, Entry, Logbook, decimal_text
from oakum.record.log.kinds_seabed import SITE


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
        "levels": [[at.strip().replace(" ", "T"), metres_of("height", height, signed=True)] for at, height in levels],
        "zone": zone,
    }
    if source.strip():
        body["source"] = source.strip()
    return _about_site(logbook, Draft("site.water", SITE, body, author))


def levels_in(text: str) -> tuple[tuple[str, str], ...]:
    """Read lines of time and height, such as "2026-06-12 10:20  0.42". Raises `MarkError` naming the line."""
    pairs = []
    for number, line in enumerate(text.splitlines(), start=1):
        if line.strip():
            words = line.replace("\t", " ").rsplit(None, 1)
            if len(words) != 2:
                raise MarkError(f"Line {number}: write time and height, as 2026-06-12 10:20  0.42.")
            pairs.append((words[0], words[1]))
    if not pairs:
        raise MarkError("Write one level a line, as 2026-06-12 10:20  0.42.")
    return tuple(pairs)


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
            body[key] = metres_of(key, text, signed=key == "zero")
    kept = next(
        (one for one in facts_of(logbook).instruments if one.name.casefold() == body["name"].casefold()), None
    )
    if kept is None:
        return logbook.append("survey.instrument", None, body, author=author)
    body |= {"name": kept.name, "reason": reason.strip() or "more is known of it"}
    over = tuple(entry.id for entry in kept.history if entry.kind == "survey.instrument")
    return logbook.append("survey.instrument", kept.subject, body, author=author, over=over)


def set_way_round(logbook: Logbook, marks: Sequence[str], *, author: str, reason: str = "") -> Entry:
    """Say which three marks run anticlockwise seen from above, which tells a plan from its mirror image."""
    names = [" ".join(name.split()) for name in marks if name.strip()]
    if len(set(names)) != 3:
        raise MarkError("Name three different marks that run anticlockwise, seen from above.")
    earlier = logbook.entries(SITE, kind="site.named")
    body: dict[str, Any] = {"name": earlier[-1].body["name"] if earlier else logbook.name, "anticlockwise": names}
    if not earlier:
        return logbook.append("site.named", SITE, body, author=author)
    body["reason"] = reason.strip() or "which way round the site runs is known"
    return logbook.append("site.named", SITE, body, author=author, over=[entry.id for entry in earlier])


def _about_site(logbook: Logbook, draft: Draft) -> Entry:
    first = [] if logbook.entries(SITE, limit=1) else [site_draft(logbook, draft.author)]
    return logbook.append_many([*first, draft])[-1]


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
