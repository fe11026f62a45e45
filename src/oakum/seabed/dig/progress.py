"""The season so far: area and volume against diver-hours, and a forecast where the dives carry one."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from math import hypot

from oakum.seabed.dig.errors import DigError
from oakum.seabed.dig.rate import LEAST_DIVES, Forecast, Rate, Work, forecast, rate_of

BULKING = (1.0, 1.2, 1.4)
"""Loose spoil in a bucket over the same in place (practice, no source)."""


@dataclass(frozen=True, slots=True)
class Dive:
    """Digging of one dive: diver-hours on a day (YYYY-MM-DD); "" and None are not known."""

    name: str
    on: str
    hours: float
    square: str = ""
    spit: str = ""
    buckets: int | None = None
    litres: float | None = None


@dataclass(frozen=True, slots=True)
class SpitDone:
    """A spit whose volume is known from levels.

    `on` is the day of its later levels, "" not known; `sd_m3` None: its width is not known.
    """

    square: str
    spit: str
    on: str
    area_m2: float
    volume_m3: float
    sd_m3: float | None = None


@dataclass(frozen=True, slots=True)
class Milestone:
    """Where the season stood when a spit was done: all diver-hours up to that day, area and volume from levels.

    A spit without a day comes last, with the hours of the whole season.
    """

    on: str
    spit: str
    hours: float
    volume_m3: float
    sd_m3: float
    area_m2: float


@dataclass(frozen=True, slots=True)
class Season:
    """The answer. `area_m2` counts each square once. `rate` and `forecast` are None where `refused` says why."""

    hours: float
    dives: int
    area_m2: float
    volume_m3: float
    sd_m3: float
    milestones: tuple[Milestone, ...]
    planned_m3: float | None
    rate: Rate | None
    forecast: Forecast | None
    refused: str
    notes: tuple[str, ...]


def season(dives: Sequence[Dive], spits: Sequence[SpitDone], planned_m3: float | None) -> Season:
    """Sum the season up; the rate is by levels where three spits have hours, else by buckets measured by levels."""
    areas: dict[str, float] = {}
    for one in spits:
        areas[one.square] = max(areas.get(one.square, 0.0), one.area_m2)
    volume = sum(one.volume_m3 for one in spits)
    sd = hypot(*(one.sd_m3 or 0.0 for one in spits)) if spits else 0.0
    rate, refused = None, ""
    notes: list[str] = []
    try:
        work, source, notes = work_of(dives, spits)
        rate = rate_of(work, source)
    except DigError as error:
        refused = str(error)
    bare = [f"{one.square} spit {one.spit}" for one in spits if one.sd_m3 is None]
    if bare:
        notes.append(f"The width of the season leaves out spits that have none: {', '.join(bare)}.")
    ahead = None
    if rate is not None and planned_m3 is not None:
        try:
            ahead = forecast(rate, planned_m3 - volume, sd)
        except DigError as error:
            refused = str(error)
    elif rate is not None:
        notes.append("No square has a planned depth, so nothing is said of what is left.")
    return Season(
        sum(dive.hours for dive in dives),
        len(dives),
        sum(areas.values()),
        volume,
        sd,
        _milestones(dives, spits),
        planned_m3,
        rate,
        ahead,
        refused,
        tuple(notes),
    )


def work_of(dives: Sequence[Dive], spits: Sequence[SpitDone]) -> tuple[list[Work], str, list[str]]:
    """Return stretches of known hours and volume, what measured them, and remarks.

    Levels are preferred: a spit with its dives is one stretch. With fewer than three such spits, dives count by
    their buckets; what a bucket holds in place is measured on the spits that have both, else taken from its litres.
    """
    spent: defaultdict[tuple[str, str], list[Dive]] = defaultdict(list)
    for dive in dives:
        spent[(dive.square, dive.spit)].append(dive)
    by_levels = [
        Work(f"{one.square} spit {one.spit}", sum(d.hours for d in held), one.volume_m3)
        for one in spits
        if (held := spent.get((one.square, one.spit)))
    ]
    if len(by_levels) >= LEAST_DIVES:
        return by_levels, "levels, spit by spit", []
    counted = [dive for dive in dives if dive.buckets is not None]
    bucket, source, notes = _bucket_m3(counted, spits)
    if len(counted) < LEAST_DIVES or bucket is None:
        return (by_levels if len(by_levels) >= len(counted) else []), "levels, spit by spit", notes
    return [Work(f"dive {d.name or d.on}", d.hours, (d.buckets or 0) * b) for d, b in bucket], source, notes


def _bucket_m3(
    counted: Sequence[Dive], spits: Sequence[SpitDone]
) -> tuple[list[tuple[Dive, float]] | None, str, list[str]]:
    """What one bucket of each dive holds in place."""
    volume, buckets = 0.0, 0
    for one in spits:
        held = [d for d in counted if (d.square, d.spit) == (one.square, one.spit) and d.buckets]
        if held:
            volume += one.volume_m3
            buckets += sum(d.buckets or 0 for d in held)
    if buckets and volume > 0.0:
        each = volume / buckets
        words = f"A bucket held {1000 * each:.1f} litres in place, measured on spits with levels and buckets."
        return [(d, each) for d in counted], "buckets, measured by levels", [words]
    sized = [(d, 0.001 * d.litres / BULKING[1]) for d in counted if d.litres is not None]
    if len(sized) < LEAST_DIVES:
        return None, "", []
    words = (
        "What a bucket holds in place is its litres over 1.2, because loose spoil swells (1.0 to 1.4; practice, no "
        "source). That is shared by all dives and the range leaves it out: read levels before and after a spit."
    )
    return sized, "buckets by their litres", [words]


def _milestones(dives: Sequence[Dive], spits: Sequence[SpitDone]) -> tuple[Milestone, ...]:
    found = []
    volume = variance = 0.0
    areas: dict[str, float] = {}
    for one in sorted(spits, key=lambda s: (not s.on, s.on, s.square, s.spit)):
        volume += one.volume_m3
        variance += (one.sd_m3 or 0.0) ** 2
        areas[one.square] = max(areas.get(one.square, 0.0), one.area_m2)
        hours = sum(dive.hours for dive in dives if not one.on or dive.on <= one.on)
        name = f"{one.square} spit {one.spit}"
        found.append(Milestone(one.on, name, hours, volume, variance**0.5, sum(areas.values())))
    return tuple(found)
