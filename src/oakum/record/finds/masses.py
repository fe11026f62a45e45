"""What a set of finds weighs together, with no weight counted twice.

Joined finds are one object. A find weighed whole takes in its parts and joined pieces, so theirs are not
added; a find weighed alone is added to its parts. A sample is inside the weight of its find. Where a find has
parts or joined pieces and its reading does not say what was on the scales, nothing is guessed: it is unclear.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from oakum.record.finds.readings import Reading, pooled


@dataclass(frozen=True, slots=True)
class Weighed:
    """A find as weights see it: its parent, the finds joined to it, and its mass readings in one state."""

    id: str
    parent: str | None
    joined: tuple[str, ...]
    sample_of: str | None
    readings: tuple[Reading, ...]


@dataclass(frozen=True, slots=True)
class Counted:
    """One weight that entered the sum: kilograms, sd if known, and whether its readings still disagree."""

    ids: tuple[str, ...]
    value_kg: float
    sd_kg: float | None
    covers: str
    is_open: bool


@dataclass(frozen=True, slots=True)
class Tally:
    """The sum. `unknown` finds have no reading, `unclear` ones do not say what was weighed: none is in it."""

    total_kg: float
    sd_kg: float | None
    counted: tuple[Counted, ...]
    unknown: tuple[str, ...]
    unclear: tuple[str, ...]

    @property
    def is_complete(self) -> bool:
        """Whether every find is in the sum."""
        return not self.unknown and not self.unclear


def tally(finds: Iterable[Weighed]) -> Tally:
    """Add up the weights of these finds, each kilogram once; where readings disagree, the greater value."""
    by_id = {find.id: find for find in finds}
    objects = _objects(by_id)
    object_of = {id: group for group in objects for id in group}
    parts: dict[tuple[str, ...], list[tuple[str, ...]]] = {}
    roots: list[tuple[str, ...]] = []
    for group in objects:
        above = {object_of[p] for id in group if (p := by_id[id].parent) in object_of} - {group}
        for upper in sorted(above)[:1]:
            parts.setdefault(upper, []).append(group)
        if not above:
            roots.append(group)
    counted: list[Counted] = []
    unknown: list[str] = []
    unclear: list[str] = []
    waiting, reached = list(roots), set[str]()
    while waiting:
        group = waiting.pop()
        reached.update(group)
        inside = parts.get(group, [])
        whole = _whole(by_id, group, compound=len(group) > 1 or bool(inside))
        if whole is not None:
            counted.append(whole)
            continue
        for id in group:
            _count_alone(by_id[id], counted, unknown, unclear, has_parts=bool(inside))
        waiting += inside
    unclear += _in_circles(parts, reached)
    sds = [one.sd_kg for one in counted]
    sd = math.sqrt(sum(s**2 for s in sds if s is not None)) if sds and None not in sds else None
    counted.sort(key=lambda one: one.ids)
    total = math.fsum(one.value_kg for one in counted)
    return Tally(total, sd, tuple(counted), tuple(sorted(unknown)), tuple(sorted(unclear)))


def _in_circles(parts: Mapping[tuple[str, ...], list[tuple[str, ...]]], reached: set[str]) -> list[str]:
    """Return finds that are parts of their own parts, as two merged copies can make them, with what is in them."""
    below = {id: upper for upper, groups in parts.items() for group in groups for id in group}
    found: list[str] = []
    for id in below:
        above, seen = below[id], set[tuple[str, ...]]()
        while above not in seen and above and above[0] in below:
            seen.add(above)
            above = below[above[0]]
        if above in seen and id not in reached:
            found.append(id)
    return found


def _objects(by_id: Mapping[str, Weighed]) -> list[tuple[str, ...]]:
    """Return the finds grouped into objects, samples left out; a find in no join is an object of its own."""
    seen: set[str] = set()
    groups: list[tuple[str, ...]] = []
    for id in sorted(by_id):
        if id in seen or by_id[id].sample_of is not None:
            continue
        group, waiting = {id}, [id]
        while waiting:
            for other in by_id[waiting.pop()].joined:
                if other in by_id and other not in group:
                    group.add(other)
                    waiting.append(other)
        seen |= group
        groups.append(tuple(sorted(group)))
    return groups


def _whole(by_id: Mapping[str, Weighed], group: tuple[str, ...], *, compound: bool) -> Counted | None:
    readings = tuple(
        one for id in group for one in by_id[id].readings if one.covers == "whole" or not compound
    )
    return _counted(group, readings, "whole") if readings else None


def _count_alone(
    find: Weighed, counted: list[Counted], unknown: list[str], unclear: list[str], *, has_parts: bool
) -> None:
    alone = tuple(one for one in find.readings if one.covers == "alone")
    if alone:
        counted.append(_counted((find.id,), alone, "alone"))
    elif find.readings:
        unclear.append(find.id)
    elif not has_parts:
        unknown.append(find.id)


def _counted(ids: tuple[str, ...], readings: tuple[Reading, ...], covers: str) -> Counted:
    together = pooled(readings)
    return Counted(ids, together.worse("greater"), together.sd, covers, together.why_open is not None)
