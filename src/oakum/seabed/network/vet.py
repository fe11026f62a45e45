"""What cannot be used, named reading by reading and mark by mark, so that the rest can be solved."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, fields

import numpy as np
from scipy.sparse import csr_array
from scipy.sparse.csgraph import connected_components

from oakum.seabed.network.answer import UnsolvedMark
from oakum.seabed.network.names import alike, listed, marks_of, natural, said
from oakum.seabed.network.site import Bearing, Datum, Depth, Fix, Level, Observation, Offset, Site, Tape, Tie


@dataclass(frozen=True, slots=True)
class Vetted:
    """What is left: readings that count, readings set aside that can still be compared, datums, and what to say."""

    counted: tuple[Observation, ...]
    aside: tuple[Observation, ...]
    datums: tuple[Datum, ...]
    unsolved: tuple[UnsolvedMark, ...]
    objections: tuple[str, ...]


def fault(reading: Observation, longest_m: dict[str, float]) -> str | None:
    """Why a reading cannot be used, as a sentence to the person who typed it; None where it can."""
    who = said(reading)
    if any(not name.strip() for name in marks_of(reading)):
        return f"{who}: a mark has no name; give the name on its label"
    if len(set(marks_of(reading))) < len(marks_of(reading)):
        return f"{who}: runs between a mark and itself; give two different marks"
    for item in fields(reading):
        value = getattr(reading, item.name)
        if isinstance(value, float | int) and not math.isfinite(value):
            return f"{who}: {item.name.replace('_', ' ')} is not a number"
        if item.name.startswith("sd") and value is not None and value < 0.0:
            return f"{who}: the sd is below nothing; give it as a positive number, or leave it empty"
    match reading:
        case Tape() | Tie():
            if isinstance(reading, Tie) and reading.side not in ("", "left", "right"):
                return f'{who}: the side is "{reading.side}"; write left or right of the line, or nothing'
            if reading.length_m <= 0.0:
                return f"{who}: a length of {reading.length_m:g} m; a tape reads more than 0"
            longest = longest_m.get(reading.tape)
            if longest is not None and reading.length_m > longest:
                return (
                    f"{who}: {reading.length_m:g} m is beyond the end of tape {reading.tape} ({longest:g} m)"
                )
        case Depth():
            if reading.depth_m < 0.0:
                return f"{who}: a depth of {reading.depth_m:g} m lies above the surface; depths are positive down"
        case Offset():
            if reading.along_m is None and reading.left_m is None:
                return f"{who}: neither the chainage nor the offset is given"
        case Level() | Bearing() | Fix():
            pass
    return None


def worth(reading: Observation) -> int:
    """How many numbers a reading gives."""
    match reading:
        case Offset():
            return (reading.along_m is not None) + (reading.left_m is not None)
        case Fix():
            return 2 + (reading.z_m is not None)
        case _:
            return 1


def _too_few(
    readings: list[Observation], known: Counter[str], names: set[str]
) -> tuple[list[Observation], dict[str, str]]:
    """Drop marks with fewer numbers than unknowns, again and again, since each drop takes readings along."""
    dropped: dict[str, str] = {}
    while True:
        count = Counter(known)
        for reading in readings:
            for name in set(marks_of(reading)):
                count[name] += worth(reading)
        short = [n for n in names if n not in dropped and count[n] < 3]
        if not short:
            return readings, dropped
        for name in short:
            some = {0: "no reading", 1: "only one reading"}.get(count[name], f"only {count[name]} readings")
            dropped[name] = (
                f"{name} has {some} that count{'s' if count[name] == 1 else ''}; it needs at least 3"
            )
        readings = [r for r in readings if not set(marks_of(r)) & set(short)]


def _islands(readings: Iterable[Observation], grounded: set[str], names: set[str]) -> dict[str, str]:
    """Marks tied to the rest by nothing: all but the greatest part, marks of known position counting as joined."""
    order = sorted(names, key=natural)
    if not order:
        return {}
    index = {name: i for i, name in enumerate(order)}
    ground = len(order)
    pairs = [(index[n], ground) for n in grounded if n in index]
    for reading in readings:
        if not isinstance(reading, Depth | Level | Fix):
            first, *rest = marks_of(reading)
            pairs.extend((index[first], index[other]) for other in rest)
    links = np.array(pairs, dtype=np.int64).reshape(-1, 2)
    graph = csr_array((np.ones(len(links)), (links[:, 0], links[:, 1])), shape=(ground + 1, ground + 1))
    _, part = connected_components(graph, directed=False)
    sizes = np.bincount(part[:ground], minlength=int(part.max()) + 1)
    if sizes[part[ground]] == 0:
        sizes[part[ground]] = -1
    main = int(part[ground]) if sizes[part[ground]] >= 3 else int(np.argmax(sizes))
    said_of: dict[str, str] = {}
    for label in np.unique(part[:ground]):
        if label != main:
            members = [order[i] for i in np.flatnonzero(part[:ground] == label)]
            whom = f"{listed(members)} {'stands' if len(members) == 1 else 'stand'} alone"
            for name in members:
                said_of[name] = f"{whom}: no tape, tie, offset or bearing joins them to the rest"
    return said_of


def vet(site: Site) -> Vetted:
    """Sort the readings of a site into those that count and those that cannot, with a sentence for each fault."""
    objections: list[str] = []
    longest = {t.name: t.longest_m for t in site.tapes if t.longest_m is not None}
    counted: list[Observation] = []
    aside: list[Observation] = []
    seen: set[str] = set()
    for reading in site.observations:
        if reading.id in seen:
            objections.append(f"{said(reading)}: the id is used twice; only the first counts")
            continue
        seen.add(reading.id)
        words = fault(reading, longest)
        if words is not None:
            objections.append(words)
        elif reading.id in site.rejected:
            aside.append(reading)
        else:
            counted.append(reading)
    every = {name for r in (*counted, *aside) for name in marks_of(r)} | {m.name for m in site.marks}
    known: Counter[str] = Counter()
    grounded: set[str] = set()
    for datum in site.datums:
        known[datum.mark] += sum(value is not None for value in (datum.x_m, datum.y_m, datum.z_m))
        if datum.x_m is not None or datum.y_m is not None:
            grounded.add(datum.mark)
        every.add(datum.mark)
    grounded |= {r.mark for r in counted if isinstance(r, Fix)}
    for group in alike(every):
        objections.append(
            f"{listed(group)} look like one mark spelt {len(group)} ways: say which name is right"
        )
    why: dict[str, str] = {}
    for _ in range(len(every) + 1):
        left = every - set(why)
        new = _islands(counted, grounded - set(why), left)
        rest = [r for r in counted if not set(marks_of(r)) & set(new)]
        rest, short = _too_few(rest, known, left - set(new))
        counted = rest
        if not (new or short):
            break
        why |= new | short
    solvable = every - set(why)
    unsolved = tuple(UnsolvedMark(n, why[n]) for n in sorted(why, key=natural))
    objections.extend(dict.fromkeys(mark.why for mark in unsolved))
    return Vetted(
        tuple(counted),
        tuple(r for r in aside if set(marks_of(r)) <= solvable),
        tuple(d for d in site.datums if d.mark in solvable),
        unsolved,
        tuple(objections),
    )
