"""What must be answered about a set of bags before anybody goes down, apart from forces."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from oakum.lift.bags.gas import Column
from oakum.lift.bags.kinds import Bag, BagSet

_OVER_TAG = 1.05
_RELIEF = "not known whether its relief valve lets out as much as it gains on the way up"


def objections(bags: BagSet) -> tuple[str, ...]:
    """Return the objections to the way the bags are rigged and taken over, each with what to do."""
    said = _each(bags.bags, lambda bag: _crown_line(bag, bags))
    said += _each(bags.bags, lambda bag: _crown_point(bag))
    said += _each(bags.bags, lambda bag: _closed(bag))
    said += _surface(bags)
    if bags.rise_m_s is None:
        said.append("not known how fast it may rise: no valve can be checked")
    return tuple(said)


def questions(bags: BagSet, column: Column) -> tuple[str, ...]:
    """Return what the description leaves open without being an objection."""

    def volume(bag: Bag) -> str | None:
        kind = bag.kind
        if kind.volume_m3 is None:
            return "full volume not known, only its tag; fill it once and measure"
        if kind.tag_lift_kg is None:
            return "no lift on its tag"
        over = kind.volume_m3 * column.density_kg_m3 / kind.tag_lift_kg
        return f"holds {100 * (over - 1):.0f} % more than its tag says" if over > _OVER_TAG else None

    said = _each(bags.bags, volume)
    said += _each(bags.bags, lambda bag: None if bag.kind.is_open else _RELIEF)
    if bags.drag_area_m2 is None:
        said.append("drag area of load and bags not known: no speed is given")
    if any(b.at_m is None for b in bags.bags):
        said.append("not known where each bag pulls: no turning of the load after a failure is given")
    return tuple(said)


def _each(bags: Iterable[Bag], ask: Callable[[Bag], str | None]) -> list[str]:
    """Return one sentence for all bags that give the same answer."""
    found: dict[str, list[str]] = {}
    for bag in bags:
        answer = ask(bag)
        if answer is not None:
            found.setdefault(answer, []).append(f'"{bag.name}"')
    return [
        f"{'bag' if len(names) == 1 else 'bags'} {', '.join(names)}: {why}" for why, names in found.items()
    ]


def _crown_line(bag: Bag, bags: BagSet) -> str | None:
    line = bag.crown
    if line is None:
        return "no line from the crown to an anchor on the bed: nothing stops it short of the surface"
    if line.to_the_load:
        return "its crown line ends at the load, which comes up with it; lead it to an anchor of its own"
    if line.length_m is None:
        return "the length of its crown line is not known"
    if line.anchor_depth_m is None:
        return "the depth of its crown line's anchor is not known"
    if line.length_m >= line.anchor_depth_m:
        return (
            f"its crown line of {line.length_m:g} m reaches the surface from {line.anchor_depth_m:g} m; "
            "it must be shorter than the depth of its anchor"
        )
    stops_at = line.anchor_depth_m - line.length_m
    crown_at = (bags.pause_depth_m or 0.0) - (bag.kind.air_height_m or 0.0)
    if bags.pause_depth_m is not None and stops_at > max(crown_at, 0.0):
        return (
            f"its crown line turns it over with the crown {stops_at:.1f} m down, before the load is at the pause; "
            f"it needs {stops_at - max(crown_at, 0.0):.1f} m more, still short of the surface"
        )
    return None


def _crown_point(bag: Bag) -> str | None:
    if bag.kind.shared_crown is None:
        return "not known whether main rigging and crown line share one pin or strap at the crown"
    if bag.kind.shared_crown:
        return "main rigging and crown line share one pin or strap at the crown: if it fails, both are gone"
    return None


def _closed(bag: Bag) -> str | None:
    if bag.kind.is_open or bag.kind.relief_valve:
        return None
    if bag.kind.relief_valve is None:
        return "closed, and not known whether it has a relief valve"
    return "closed without a relief valve: it bursts on the way up"


def _surface(bags: BagSet) -> list[str]:
    said = []
    if bags.taken_at is None:
        said.append("not known who takes the load over at the end of the rise, and where")
    elif bags.taken_at == "open bags at the surface":
        said.append(
            "open bags at the surface spill in waves and the load falls back: "
            "take it over with a hook below the surface or with closed bags"
        )
    elif bags.taken_at == "closed bags at the surface":
        opened = [f'"{b.name}"' for b in bags.bags if b.kind.is_open]
        if opened:
            said.append(f"closed bags are to carry at the surface, but {', '.join(opened)} are open bags")
    elif bags.hook_wll_kg is None:
        said.append("a hook is to take the load below the surface, but the WLL of its line is not known")
    if bags.pause_depth_m is None:
        said.append("no depth is given at which the rise pauses below the surface")
    elif bags.pause_depth_m <= 0.0:
        said.append("the rise pauses at the surface; it must pause below it")
    return said
