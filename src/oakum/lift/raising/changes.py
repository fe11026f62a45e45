"""A rig with one thing changed: what a slider moves, and what the plan tries when it looks for help."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from oakum.lift.raising.errors import RaisingError
from oakum.lift.raising.rig_plan import Piece, Point, RigBag, RigPlan

_STEPS = 80


def with_hook_height(rig: RigPlan, height_m: float) -> RigPlan:
    """Return the rig with its hook this high over the topmost attachment. Raises `RaisingError`."""
    hook = rig.hook
    if hook is None:
        raise RaisingError("the rig has no hook to raise")
    if not height_m > 0.0:
        raise RaisingError(f"the hook must be above the topmost attachment, got {height_m:g} m")
    if rig.spreader is not None:
        beam = replace(rig.spreader.beam, hook_height_m=height_m)
        return replace(rig, spreader=replace(rig.spreader, beam=beam))
    if hook.place == "by leg lengths":
        raise RaisingError("the hook hangs where the given lengths meet: change the lengths of the legs")
    if hook.place == "at a point" and hook.at_m is not None:
        x, y, _ = hook.at_m
        return replace(rig, hook=replace(hook, at_m=(x, y, _top(rig) + height_m)))
    return replace(rig, hook=replace(hook, height_m=height_m))


def with_longer_legs(rig: RigPlan, factor: float, over_m: tuple[float, float]) -> RigPlan:
    """Return the rig with legs `factor` times as long in the mean.

    Typed lengths are multiplied; legs cut to fit the hook are lengthened by raising it. `over_m` is the point
    in plan the hook is over where it is over the hanging point. Raises `RaisingError`.
    """
    hook = rig.hook
    if hook is None or not rig.legs:
        raise RaisingError("the rig has no legs to lengthen")
    if not factor > 0.0:
        raise RaisingError(f"legs are lengthened by a factor above 0, got {factor:g}")
    if hook.place == "by leg lengths":
        legs = tuple(
            replace(leg, length_m=None if leg.length_m is None else factor * leg.length_m) for leg in rig.legs
        )
        return replace(rig, legs=legs)
    at = hook.at_m if hook.place == "at a point" and hook.at_m is not None else None
    plan = over_m if at is None else (at[0], at[1])
    height = (hook.height_m or 0.0) if at is None else at[2] - _top(rig)
    if not height > 0.0:
        raise RaisingError("how high the hook is over the attachments is not known")
    wanted = factor * _mean_length(rig, plan, height)
    low, high = 0.0, wanted
    if _mean_length(rig, plan, low) >= wanted:
        raise RaisingError("legs so short do not reach the hook")
    for _ in range(_STEPS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if _mean_length(rig, plan, middle) < wanted else (low, middle)
    return with_hook_height(rig, high)


def with_bags(rig: RigPlan, number: int) -> RigPlan:
    """Return the rig with this many bags: the last kind again and again, or the last ones left out."""
    bags = rig.bags
    if bags is None or not bags.bags:
        raise RaisingError("the rig has no bags to add one to")
    if number < 1:
        raise RaisingError(f"there must be at least one bag, got {number}")
    kept = bags.bags[:number]
    last = bags.bags[-1]
    more = tuple(_another(last, i) for i in range(1, number - len(kept) + 1))
    return replace(rig, bags=replace(bags, bags=(*kept, *more)))


def hook_over_hanging_point(rig: RigPlan) -> RigPlan:
    """Return the rig with its hook over the hanging point in air, at the height it has. Raises `RaisingError`."""
    hook = rig.hook
    if hook is None:
        raise RaisingError("the rig has no hook to move")
    if hook.place in ("over the hanging point", "trimmed"):
        raise RaisingError("the hook is over the hanging point already")
    if hook.at_m is None:
        raise RaisingError(
            "the hook hangs where the given lengths meet: cut each leg to reach a hook over the hanging point"
        )
    height = hook.at_m[2] - _top(rig)
    return replace(
        rig, hook=replace(hook, place="over the hanging point", level="in air", height_m=height, at_m=None)
    )


def _another(bag: RigBag, number: int) -> RigBag:
    """Return one more bag of a kind, its own pieces still to be named: one tag is on one piece."""
    name = f"{bag.name} again" if number == 1 else f"{bag.name} again {number}"
    crown = None if bag.crown is None else replace(bag.crown, piece=Piece("", bag.crown.piece.wll_kg))
    return replace(bag, name=name, piece=Piece(), strop=Piece("", bag.strop.wll_kg), crown=crown)


def _top(rig: RigPlan) -> float:
    return max(leg.at_m[2] for leg in rig.legs) if rig.legs else 0.0


def _mean_length(rig: RigPlan, over_m: tuple[float, float], height_m: float) -> float:
    points: list[Point] = [leg.at_m for leg in rig.legs]
    hook = np.array([*over_m, _top(rig) + height_m])
    return float(np.linalg.norm(hook - np.array(points), axis=1).mean())
