"""Readings of one quantity in one state: side by side, pooled, and the worse value while they disagree.

Pooling is the inverse-variance weighted mean, sd = 1/sqrt(sum 1/sd_i^2) (JCGM 100:2008, and any text on
weighted means) [memory, verify].
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Any, Literal

from oakum.record.log.entries import Entry
from oakum.record.log.heads import standing

TOO_FAR_SD = 3.0

IN_ITS_FRAME = ", in its frame"
"""What the state of a reading ends with that the frame of the cradle hung at: it weighs something else."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading: the text as written, the value in the SI unit `unit`, its sd in the same unit if known.

    `gear` is the weight of what hung between instrument and object, in the state of the reading (None: nothing
    is said of it); `value` is as read, `net` without it. `frame`: whether the frame of the cradle hung there too;
    None: not said. A reading with it is of another state than one without.
    """

    entry: Entry
    quantity: str
    state: str
    text: str
    value: float
    unit: str
    sd: float | None
    instrument: str | None
    covers: str | None
    is_settled: bool
    gear: float | None = None
    gear_sd: float | None = None
    frame: bool | None = None

    @property
    def net(self) -> float:
        """The value less what hung between the instrument and the object."""
        return self.value - (self.gear or 0.0)

    @property
    def net_sd(self) -> float | None:
        """One sd of the net value; None where that of the reading, or of the gear, is not known."""
        if self.gear is None or self.sd is None:
            return self.sd
        return None if self.gear_sd is None else math.hypot(self.sd, self.gear_sd)


@dataclass(frozen=True, slots=True)
class Pooled:
    """What the readings of one quantity in one state say together, each net of what hung between.

    `value` and `sd` are None where they cannot be pooled; `why_open` then says why, for a person to settle.
    """

    quantity: str
    state: str
    unit: str
    readings: tuple[Reading, ...]
    value: float | None
    sd: float | None
    why_open: str | None

    def worse(self, toward: Literal["greater", "lesser"]) -> float:
        """Return the value a check must take.

        The pooled one, or while the question is open the greatest (hook, slings, floor) or least (runaway,
        slack line) of all readings.
        """
        if self.value is not None:
            return self.value
        every = [reading.net for reading in self.readings]
        return max(every) if toward == "greater" else min(every)


def of_entry(entry: Entry) -> Reading:
    """Return the reading an entry of kind `reading` or `settled` holds."""
    settled = entry.kind == "settled"
    body: dict[str, Any] = entry.body["reading"] if settled else entry.body
    sd = body.get("sd")
    gear = body.get("gear") or {}
    state, frame = body["state"], body.get("frame")
    if frame:
        state += IN_ITS_FRAME
    return Reading(
        entry=entry,
        quantity=body["quantity"],
        state=state,
        text=body["text"],
        value=float(body["value"]),
        unit=body["unit"],
        sd=None if sd is None else float(sd),
        instrument=body.get("instrument"),
        covers=body.get("covers"),
        is_settled=settled,
        gear=float(gear["value"]) if gear else None,
        gear_sd=spread_of(gear),
        frame=frame,
    )


def spread_of(measure: Mapping[str, Any]) -> float | None:
    """Return one sd of a measured value as the logbook holds it: as written, or that of its range; None: not known."""
    if "sd" in measure:
        return float(measure["sd"])
    if "low" not in measure or "high" not in measure:
        return None
    low, high = float(measure["low"]), float(measure["high"])
    if "mode" not in measure:
        return (high - low) / math.sqrt(12.0)
    mode = float(measure["mode"])
    return math.sqrt((low**2 + mode**2 + high**2 - low * mode - low * high - mode * high) / 18.0)


def standing_readings(entries: Iterable[Entry]) -> tuple[Reading, ...]:
    """Return the readings that count: not struck out, and not settled by a later value over them."""
    held = [entry for entry in entries if entry.kind in ("reading", "settled", "struck")]
    by_id = {entry.id: entry for entry in held}
    alive = standing(held)
    covered: set[str] = set()
    for entry in alive:
        if entry.kind == "settled" and "reading" in entry.body:
            waiting = [(entry, id) for id in entry.over]
            while waiting:
                upper, id = waiting.pop()
                lower = by_id.get(id)
                if lower is not None and lower.at < upper.at and id not in covered:
                    covered.add(id)
                    waiting += [(lower, deeper) for deeper in lower.over]
    return tuple(
        of_entry(entry)
        for entry in alive
        if entry.id not in covered and (entry.kind == "reading" or "reading" in entry.body)
    )


def pooled(readings: Sequence[Reading]) -> Pooled:
    """Pool readings of one quantity in one state. Raises `ValueError` for none or for a mixture."""
    if len({(r.quantity, r.state) for r in readings}) != 1:
        raise ValueError("pool readings of one quantity in one state")
    first, held = readings[0], tuple(readings)
    why = why_open(held)
    value: float | None = None
    sd: float | None = None
    if why is None:
        spreads = [r.net_sd for r in held if r.net_sd is not None]
        if len(spreads) == len(held):
            weights = [1.0 / one**2 for one in spreads]
            value = sum(w * r.net for w, r in zip(weights, held, strict=True)) / sum(weights)
            sd = 1.0 / math.sqrt(sum(weights))
        else:
            value = first.net
    return Pooled(first.quantity, first.state, first.unit, held, value, sd, why)


def why_open(readings: Sequence[Reading]) -> str | None:
    """Say why these readings cannot stand together, or return None if they can."""
    if len({r.unit for r in readings}) > 1:
        return "readings in different units"
    if len({r.net for r in readings}) == 1:
        return None
    if any(r.net_sd is None for r in readings):
        return "the readings differ and at least one has no standard deviation"
    for a, b in combinations(readings, 2):
        spread = math.hypot(a.net_sd or 0.0, b.net_sd or 0.0)
        if abs(a.net - b.net) > TOO_FAR_SD * spread:
            return f"{a.text} and {b.text} differ by more than {TOO_FAR_SD:.0f} combined standard deviations"
    return None


def grouped(readings: Iterable[Reading]) -> dict[tuple[str, str], tuple[Reading, ...]]:
    """Return the readings by (quantity, state), in order."""
    found: dict[tuple[str, str], list[Reading]] = {}
    for reading in readings:
        found.setdefault((reading.quantity, reading.state), []).append(reading)
    return {key: tuple(found[key]) for key in sorted(found)}
