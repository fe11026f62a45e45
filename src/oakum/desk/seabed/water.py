"""The water level at the moment a depth was read: from a typed series, or by going back to a bench mark.

With a series every depth becomes a height by itself. With a bench mark, read with the same gauge on the same dive,
only differences to it count; what the water rose or fell between two readings of the bench mark is taken out in
proportion to time.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, timezone
from typing import Any
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from oakum.desk.seabed.facts import KeptReading
from oakum.record import Entry

LONGEST_GAP_S = 3600.0
"""Between two levels further apart nothing is read off: a tide of 1.5 m amplitude bends away from the straight line
by up to 5 cm in an hour and by 19 cm in two (a half-daily cosine; own calculation)."""


@dataclass(frozen=True, slots=True)
class Series:
    """Water levels in heights of the site, by time (seconds since 1970, UTC), in order."""

    times: tuple[float, ...] = ()
    heights_m: tuple[float, ...] = ()

    def at(self, moment: float) -> float | None:
        """The level at a moment, on the straight line between its neighbours; None outside or in a long gap."""
        if not self.times or not self.times[0] <= moment <= self.times[-1]:
            return None
        after = bisect_right(self.times, moment)
        if self.times[after - 1] == moment:
            return self.heights_m[after - 1]
        t0, t1 = self.times[after - 1], self.times[after]
        if t1 - t0 > LONGEST_GAP_S:
            return None
        h0, h1 = self.heights_m[after - 1], self.heights_m[after]
        return h0 + (h1 - h0) * (moment - t0) / (t1 - t0)


@dataclass(frozen=True, slots=True)
class Water:
    """What is known of the water: the series, the names of bench marks, and what was odd about the entries."""

    series: Series
    benches: frozenset[str]
    objections: tuple[str, ...]


def water_of(entries: Sequence[Entry], rename: Mapping[str, str]) -> Water:
    """Put the entries on the water level together; `rename` gives the name that stands for a spelling."""
    levels: dict[float, float] = {}
    objections = []
    for entry in entries:
        for at, height in entry.body.get("levels", ()):
            moment = seconds_of(at, entry.body["zone"])
            if moment is None:
                objections.append(f'water level {height} m at "{at}": give the time to the minute')
            elif levels.setdefault(moment, float(height)) != float(height):
                objections.append(
                    f'water level at "{at}": {levels[moment]:g} m and {float(height):g} m were both entered; '
                    "strike one out"
                )
    times = tuple(sorted(levels))
    benches = frozenset(rename.get(e.body["bench"], e.body["bench"]) for e in entries if "bench" in e.body)
    return Water(Series(times, tuple(levels[t] for t in times)), benches, tuple(objections))


def moment_of(seen: Mapping[str, Any] | None) -> float | None:
    """When a reading was taken, in seconds since 1970; None where it is not known to the minute."""
    if not seen or seen.get("precision") not in ("minute", "second"):
        return None
    return seconds_of(seen["at"], seen["zone"])


def seconds_of(at: str, zone: str) -> float | None:
    """A local time in its zone as seconds since 1970, UTC; None where it is not given to the minute."""
    if len(at) < len("2026-06-12T10:20"):
        return None
    try:
        return datetime.fromisoformat(at).replace(tzinfo=_zone(zone)).timestamp()
    except (ValueError, ZoneInfoNotFoundError):
        return None


def _zone(zone: str) -> timezone | ZoneInfo:
    if zone in ("Z", "UTC"):
        return UTC
    if zone[0] in "+-":
        sign = -1 if zone[0] == "-" else 1
        return timezone(sign * timedelta(hours=int(zone[1:3]), minutes=int(zone[4:6])))
    return ZoneInfo(zone)


def drifts_m(depths: Iterable[KeptReading], benches: frozenset[str]) -> tuple[dict[str, float], tuple[str, ...]]:
    """How much deeper each reading is by the water that rose since its dive's first reading of the bench mark.

    By id, readings without drift left out. Also says in words which readings have no time although the water moved.
    """
    dives: dict[tuple[str, str], list[tuple[float | None, KeptReading]]] = {}
    for one in depths:
        dives.setdefault(dive_key(one), []).append((moment_of(one.seen), one))
    drift: dict[str, float] = {}
    said = []
    for held in dives.values():
        on_bench = sorted(
            (at, float(one.body["value"]) - (one.number("above") or 0.0))
            for at, one in held
            if at is not None and one.rejected is None and one.marks[0] in benches
        )
        if len(on_bench) < 2:
            continue
        times, deeper = [t for t, _ in on_bench], [d - on_bench[0][1] for _, d in on_bench]
        for at, one in held:
            if at is None:
                said.append(
                    f'depth {one.id} ({one.marks[0]} "{one.text}"): has no time, so what the water rose or fell on its '
                    "dive is not taken out"
                )
            else:
                drift[one.id] = _between(times, deeper, at)
    return {id: value for id, value in drift.items() if value}, tuple(said)


def dive_key(one: KeptReading) -> tuple[str, str]:
    """The gauge and the dive of a depth; the day stands in for a dive without a name."""
    return one.word("instrument"), one.word("dive") or one.day


def _between(times: Sequence[float], values: Sequence[float], at: float) -> float:
    """On the straight lines through the points; before the first and after the last as at those."""
    if at <= times[0]:
        return values[0]
    if at >= times[-1]:
        return values[-1]
    after = bisect_right(times, at)
    t0, t1 = times[after - 1], times[after]
    return values[after - 1] + (values[after] - values[after - 1]) * (at - t0) / (t1 - t0)
