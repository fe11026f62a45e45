"""What somebody knows better of a part than its shape says."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from oakum.lift.seaway.model import SeaPart
from oakum.lift.seaway.pieces import Sorted
from oakum.lift.splash import Part, perforation_factor


def overridden(found: Sorted, asked: Sequence[SeaPart], water_kg_m3: float) -> Sorted:
    """Return the parts with what was given for them; a name that no part has is an objection.

    A name stands for all copies of a part too. `open_percent` lessens the added mass that the shape gives, beside a
    given `added_kg` it does nothing. `SplashError` for a plan open beyond the table.
    """
    parts = list(found.parts)
    said, against = list(found.assumptions), list(found.objections)
    for given in asked:
        mine = [i for i, part in enumerate(parts) if _is_called(part.name, given.name)]
        if not mine:
            names = ", ".join(f'"{p.name}"' for p in parts)
            against.append(f'[[seaway.part]] "{given.name}": no part in the waves is called so; there are {names}')
        for i in mine:
            parts[i] = _given(parts[i], given, water_kg_m3)
        if mine:
            said.append(f'"{given.name}": {_words(given)} as given, not by its shape')
    return Sorted(tuple(parts), tuple(said), tuple(against))


def _is_called(name: str, given: str) -> bool:
    start, _, number = name.rpartition(" ")
    return name == given or (start == given and number.isdigit())


def _given(part: Part, given: SeaPart, water_kg_m3: float) -> Part:
    added = part.added_m3 if given.added_kg is None else given.added_kg / water_kg_m3
    if given.open_percent is not None and given.added_kg is None:
        added *= perforation_factor(given.open_percent)
    return replace(
        part,
        plan_m2=part.plan_m2 if given.plan_m2 is None else given.plan_m2,
        waterplane_m2=part.waterplane_m2 if given.waterplane_m2 is None else given.waterplane_m2,
        added_m3=added,
        drag_coefficient=given.drag,
        slam_coefficient=given.slam,
        slam_m2=given.slam_m2,
    )


def _words(given: SeaPart) -> str:
    what = {
        "plan area": given.plan_m2,
        "waterplane": given.waterplane_m2,
        "added mass": given.added_kg,
        "open share": given.open_percent,
        "drag": given.drag,
        "slamming": given.slam,
        "area hit from below": given.slam_m2,
    }
    return ", ".join(name for name, value in what.items() if value is not None) or "nothing"
