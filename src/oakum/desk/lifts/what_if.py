"""What if there were another bag, longer legs, a higher hook, another sea? The plan made again with a changed rig.

Nothing is entered here. `rig_text_with` gives the rig text that says the same, for whoever wants to keep it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from oakum.desk.lifts.knobs import Knobs, WhatIfError
from oakum.desk.lifts.plan import PlanAnswer
from oakum.desk.lifts.plan_solved import solved_for
from oakum.desk.lifts.toml_rows import rows_of, with_row, with_value, without_row
from oakum.desk.lifts.what_if_sea import sea_with, text_with_sea
from oakum.lift.raising import (
    RaisingPlan,
    RigPlan,
    raising_plan,
    with_hook_height,
    with_longer_legs,
)
from oakum.lift.raising.rig_plan import Piece, RigBags

__all__ = ["Knobs", "WhatIf", "WhatIfError", "knobs_of", "rig_text_with", "what_if"]

BAG = ("bags", "bag")
LEG = ("leg",)
MOST_BAGS = 12
_PIECES = ("gear", "wll", "strop")
_SAME = 5e-3  # m; a typed figure that only rounds what stands is no change


@dataclass(frozen=True, slots=True)
class WhatIf:
    """The plan with a changed rig, beside the one in the logbook.

    `changes` is what differs, in words, empty where nothing does; `knobs` how they stand then; `new` and `gone`
    are objections that came and went.
    """

    plan: RaisingPlan
    knobs: Knobs
    changes: tuple[str, ...]
    new: tuple[str, ...]
    gone: tuple[str, ...]


def knobs_of(plan: RaisingPlan) -> Knobs:
    """Return how the knobs stand for a plan."""
    rig = plan.rig
    if rig is None:
        return Knobs()
    bags = None if rig.bags is None else len(rig.bags.bags)
    hook: float | None = None
    if rig.spreader is not None:
        hook = rig.spreader.beam.hook_height_m
    elif rig.hook is not None and rig.legs:
        hook = rig.hook.height_m
        if rig.hook.place == "at a point" and rig.hook.at_m is not None:
            hook = rig.hook.at_m[2] - max(leg.at_m[2] for leg in rig.legs)
        if rig.hook.place == "by leg lengths":
            hook = None
    slings = plan.in_air or plan.under_water
    legs = None
    if slings is not None and rig.legs:
        legs = sum(leg.length_m.best for leg in slings.legs) / len(slings.legs)
    found = Knobs(bags, None if hook is None else round(hook, 3), None if legs is None else round(legs, 3))
    sea = rig.sea
    if sea is None:
        return found
    return replace(
        found,
        hs_m=sea.hs_m,
        tz_s=sea.tz_s,
        heading=sea.heading or None,
        depth_m=sea.depth_m,
        radius_m=sea.radius_m,
    )


def what_if(kept: PlanAnswer, asked: Knobs) -> WhatIf:
    """Return the plan with what is asked for, without what would help. Raises `WhatIfError` or `RaisingError`."""
    rig, changes = _rig_with(kept, asked)
    if not changes:
        return WhatIf(kept.plan, knobs_of(kept.plan), (), (), ())
    context = replace(kept.context, stage="draft", withdrawn=None)
    assert kept.plan.rig is not None  # a plan that was made has its rig
    before = solved_for(kept.weighed.weighing, kept.plan.rig, kept.context, kept.parts)
    plan = raising_plan(kept.weighed.weighing, rig, context, with_helps=False, before=before)
    was, now = kept.plan.objections, plan.objections
    return WhatIf(
        plan,
        knobs_of(plan),
        changes,
        tuple(one for one in now if one not in was),
        tuple(one for one in was if one not in now),
    )


def rig_text_with(kept: PlanAnswer, asked: Knobs) -> tuple[str, tuple[str, ...]]:
    """Return the rig text with what is asked for, and what differs, in words. Raises as `what_if`, `TomlRowError`."""
    rig, changes = _rig_with(kept, asked)
    toml, now = kept.rig_toml, knobs_of(kept.plan)
    if asked.bags is not None and asked.bags != now.bags:
        toml = _with_bags(toml, asked.bags)
    if _differs(asked.legs_m, now.legs_m) or _differs(asked.hook_m, now.hook_m):
        toml = _with_lengths(toml, rig)
    if kept.plan.rig is not None:
        toml = text_with_sea(toml, kept.plan.rig, asked)
    return toml, changes


def _rig_with(kept: PlanAnswer, asked: Knobs) -> tuple[RigPlan, tuple[str, ...]]:
    now, rig = knobs_of(kept.plan), kept.plan.rig
    if rig is None:
        raise WhatIfError("There is no rig to change.")
    changes: list[str] = []
    if asked.bags is not None and asked.bags != now.bags:
        rig = replace(rig, bags=_bags(rig.bags, asked.bags))
        changes.append(f"{_counted(asked.bags, 'bag')} instead of {now.bags}")
    if asked.legs_m is not None and _differs(asked.legs_m, now.legs_m):
        rig = _with_legs(rig, kept.plan, now, asked.legs_m)
        changes.append(f"legs {asked.legs_m:.2f} m long in the mean instead of {now.legs_m:.2f} m")
    elif asked.hook_m is not None and _differs(asked.hook_m, now.hook_m):
        rig = with_hook_height(rig, asked.hook_m)
        changes.append(f"hook {asked.hook_m:.2f} m up instead of {now.hook_m:.2f} m")
    rig, at_sea = sea_with(rig, asked)
    return rig, (*changes, *at_sea)


def _differs(asked: float | None, now: float | None) -> bool:
    return asked is not None and now is not None and abs(asked - now) > _SAME


def _bags(bags: RigBags | None, count: int) -> RigBags:
    """Return this many bags: the last ones left out, or the last one again, its own pieces still to be named."""
    if bags is None or not bags.bags:
        raise WhatIfError("The rig has no bags; describe the first one in the rig text.")
    if not 1 <= count <= MOST_BAGS:
        raise WhatIfError(f"Between 1 and {MOST_BAGS} bags can be tried here; describe more in the rig text.")
    held, last = bags.bags[:count], bags.bags[-1]
    crown = None if last.crown is None else replace(last.crown, piece=Piece())
    plain = replace(last, piece=Piece(), strop=Piece(), crown=crown)
    names = _new_names([bag.name for bag in bags.bags], count)
    return replace(bags, bags=(*held, *(replace(plain, name=name) for name in names)))


def _new_names(taken: list[str], count: int) -> list[str]:
    """Return names for the bags beyond those there are."""
    found: list[str] = []
    for number in range(len(taken) + 1, count + 1):
        name = f"bag {number}"
        while name in taken or name in found:
            name += " again"
        found.append(name)
    return found


def _with_bags(toml: str, count: int) -> str:
    """Return the text with this many bags, as `_bags` has them."""
    rows = rows_of(toml, BAG)
    for index in range(len(rows) - 1, count - 1, -1):
        toml = without_row(toml, BAG, index)
    for name in _new_names([str(row.get("name")) for row in rows], count):
        made = {key: value for key, value in rows[-1].items() if key not in _PIECES} | {"name": name}
        if isinstance(made.get("crown_line"), dict):
            made["crown_line"] = {key: v for key, v in made["crown_line"].items() if key not in _PIECES}
        toml = with_row(toml, BAG, made)
    return toml


def _with_legs(rig: RigPlan, plan: RaisingPlan, now: Knobs, legs_m: float) -> RigPlan:
    """Return the rig with legs this long in the mean: their lengths, or the hook they are cut to fit."""
    if not legs_m > 0.0 or now.legs_m is None:
        raise WhatIfError(f"Legs must be longer than nothing, got {legs_m:g} m.")
    x, y, _ = plan.views[-1].hook_m
    return with_longer_legs(rig, legs_m / now.legs_m, (x, y))


def _with_lengths(toml: str, rig: RigPlan) -> str:
    """Return the text with hook and legs where this rig has them."""
    hook = rig.hook
    if rig.spreader is not None:
        return with_value(toml, ("spreader",), "hook_height", _metres(rig.spreader.beam.hook_height_m))
    if hook is not None and hook.place == "by leg lengths":
        for index, leg in enumerate(rig.legs):
            row = rows_of(toml, LEG)[index]
            toml = with_row(toml, LEG, row | {"length": _metres(leg.length_m or 0.0)}, index)
        return toml
    if hook is not None and hook.place == "at a point" and hook.at_m is not None:
        at = dict(zip("xyz", (_metres(value) for value in hook.at_m), strict=True))
        return with_value(toml, ("hook",), "at", at)
    return with_value(toml, ("hook",), "height", _metres((hook and hook.height_m) or 0.0))


def _metres(value: float) -> str:
    return f"{round(value, 3):g} m"


def _counted(number: int, word: str) -> str:
    return f"{number} {word}{'' if number == 1 else 's'}"
