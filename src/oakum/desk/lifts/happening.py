"""Entering what happens during a lift: load-cell readings, events, minutes taken, the cell's own log."""

from __future__ import annotations

import math
from typing import Any

from oakum.desk.finds.entering import FieldErrors
from oakum.desk.finds.measures import SI_UNIT, measure_of
from oakum.ground.gravity import G_M_S2
from oakum.ground.quantities import QuantityError, read
from oakum.lift.raising import CellLog, read_cell_log
from oakum.record import Draft, Entry, Logbook, decimal_text
from oakum.record.files.store import FileStore

Stretch = tuple[float, float]


def enter_lift_reading(
    logbook: Logbook,
    find_id: str,
    load: str,
    *,
    at: str,
    zone: str,
    by: str,
    author: str,
    height: str = "",
    clear_for: str = "",
    bags_empty: bool | None = None,
    step: str = "",
    instrument: str = "",
    note: str = "",
    written_on: str = "sheet",
) -> Entry:
    """Enter what the load cell showed during a lift, read by `by` at the local time `at`.

    `load` is a mass or a force, kept in kilograms beside the text.
    `height` is that of the lowest point over the water ("-0.4 m" below it), `clear_for` the time since it was
    clear. Raises `FieldErrors` naming what cannot be read.
    """
    wrong: dict[str, str] = {}
    body: dict[str, Any] = {}
    for field, text, dimension in (
        ("load", load, "mass"),
        ("height", height, "length"),
        ("clear_for", clear_for, "time"),
    ):
        if not text.strip():
            continue
        try:
            body[field] = _typed(field, text, dimension)
        except QuantityError as error:
            wrong[field] = str(error)
    if not load.strip():
        wrong["load"] = "write what the cell showed, with its unit and spread, such as 452 ± 5 kg"
    if wrong:
        raise FieldErrors(wrong)
    if bags_empty is not None:
        body["bags_empty"] = bags_empty
    body |= _filled(step=step, instrument=instrument, note=note)
    precision = "second" if at.count(":") > 1 else "minute" if ":" in at else "day"
    seen = {"at": at, "zone": zone, "precision": precision, "by": by, "from": written_on}
    return logbook.append("lift.reading", logbook.find(find_id).id, body, author=author, seen=seen)


def enter_event(
    logbook: Logbook, find_id: str, text: str, *, author: str, step: str = "", gear: str = ""
) -> Entry:
    """Enter what broke or went otherwise, at which step, with which piece of gear."""
    if not text.strip():
        raise FieldErrors({"text": "say what happened"})
    body = {"text": text.strip(), **_filled(step=step, gear=gear)}
    return logbook.append("lift.event", logbook.find(find_id).id, body, author=author)


def enter_minutes(
    logbook: Logbook, find_id: str, step: str, taken: str, *, author: str, note: str = ""
) -> Entry:
    """Enter how long a step took; `step` is its key in the plan, a bare number is minutes."""
    if not step.strip():
        raise FieldErrors({"step": "say which step"})
    try:
        measure = measure_of(taken, "time", unit="min")
    except QuantityError as error:
        raise FieldErrors({"taken": str(error)}) from None
    body = {"step": step.strip(), "taken": measure, **_filled(note=note)}
    return logbook.append("lift.minutes", logbook.find(find_id).id, body, author=author)


def keep_cell_log(
    logbook: Logbook,
    find_id: str,
    name: str,
    content: bytes,
    *,
    unit: str,
    author: str,
    unloaded_before_s: Stretch | None = None,
    unloaded_after_s: Stretch | None = None,
    instrument: str = "",
) -> tuple[CellLog, Entry]:
    """Keep a load cell's log as a file, with one entry that sums it up; its lines stay in the file.

    Raises `RaisingError` where it cannot be read; nothing is kept then.
    """
    log = read_cell_log(
        log_text(content), unit, unloaded_before_s=unloaded_before_s, unloaded_after_s=unloaded_after_s
    )
    find = logbook.find(find_id)
    kept = FileStore(logbook.files_folder).put(content, name=name)
    body: dict[str, Any] = {
        "sha256": kept.sha256,
        "name": name,
        "unit": unit,
        "samples": len(log.time_s),
        "lasted": _measure(float(log.time_s[-1]), "s"),
        "least": _measure(float(log.load_kg.min()), "kg"),
        "greatest": _measure(float(log.load_kg.max()), "kg"),
        "gaps": [_stretch((gap.from_s, gap.to_s)) for gap in log.gaps],
        "left_out": len(log.left_out),
        **_filled(instrument=instrument),
    }
    for field, stretch in (("unloaded_before", unloaded_before_s), ("unloaded_after", unloaded_after_s)):
        if stretch is not None:
            body[field] = _stretch(stretch)
    if log.drift is not None:
        body["drift"] = _measure(log.drift.after_kg - log.drift.before_kg, "kg")
    linked = {"sha256": kept.sha256, "name": name, "size": kept.size, "media_type": kept.media_type}
    caption = {"caption": "log of the load cell"}
    entries = logbook.append_many(
        [
            Draft("file.linked", find.id, linked | caption, author),
            Draft("lift.log", find.id, body, author),
        ]
    )
    return log, entries[1]


def log_text(content: bytes) -> str:
    """Return the text of a log file, whatever of the usual encodings it is in."""
    for encoding in ("utf-8-sig", "cp1252"):
        try:
            return content.decode(encoding)
        except UnicodeDecodeError:
            continue
    return content.decode("latin-1")


def _typed(field: str, text: str, dimension: str) -> dict[str, Any]:
    if field == "height":
        height = read(text, "length", signed=True).value
        return {"text": text.strip(), "value": decimal_text(height), "unit": SI_UNIT["length"]}
    try:
        return measure_of(text, dimension)
    except QuantityError as error:
        if field != "load":
            raise
        try:
            force = measure_of(text, "force")
        except QuantityError:
            raise error from None
    kilograms: dict[str, Any] = {
        key: decimal_text(float(force[key]) / G_M_S2)
        for key in ("value", "sd", "low", "high", "mode")
        if key in force
    }
    return {"text": force["text"], "unit": "kg", **kilograms}


def _measure(value: float, unit: str) -> dict[str, Any]:
    if not math.isfinite(value):
        raise FieldErrors({"log": "the log holds a figure that is no number"})
    return {"text": f"{value:,.6g} {unit}", "value": decimal_text(value), "unit": unit}


def _stretch(stretch: Stretch) -> list[str]:
    return [decimal_text(end) for end in stretch]


def _filled(**texts: str) -> dict[str, str]:
    return {name: text.strip() for name, text in texts.items() if text.strip()}
