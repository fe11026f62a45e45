"""What do the slings carry? Load and rig in, answer out."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from oakum.ground.gravity import G_M_S2
from oakum.lift.slings.answer import LegForces, SlingAnswer
from oakum.lift.slings.bounds import Bounds, bounds
from oakum.lift.slings.elastic import Elastic, elastic
from oakum.lift.slings.errors import SlingError
from oakum.lift.slings.gear_checks import GearChecks, gear_checks, rules_used
from oakum.lift.slings.geometry import Geometry, attachments_of, geometry, hook_of
from oakum.lift.slings.legs import HookByLengths, HookTrimmed, Load, Point, Rig
from oakum.lift.slings.sharing import Demand, advice_of, demand, raised
from oakum.lift.slings.squeeze import squeeze_n
from oakum.lift.slings.stiffness import stiffness
from oakum.lift.slings.words import Counted

Array = NDArray[np.float64]

ELASTIC_DRAWS = 2000
"""The elastic sharing is summed up over this many draws; it informs, the bound is taken over all."""

_MEET_M = 0.001
_CARRIES = 0.02  # of all forces: a leg that takes less is as good as slack
_HARDLY = 1e-3  # stretch under the whole weight, of legs whose stiffness is not known

NAMED_FROM = 0.01
"""From this share of the draws on, a leg that would push is an objection; below it is a question."""


def sling_answer(load: Load, rig: Rig, *, elastic_draws: int = ELASTIC_DRAWS) -> SlingAnswer:
    """Return what the legs of a rig carry under a load, with every check.

    Raises `SlingError` where no forces can be given: hook below the load, attachments in a line, a leg that
    would push, or a load that would turn over, each in most of the draws. The same in fewer draws is an
    objection with its share.
    """
    load = _checked(load)
    shape = geometry(attachments_of(rig), hook_of(rig, load), load.hanging_m)
    known = bounds(shape, load.weight_n)
    infeasible, doubts, doubt_questions = _doubts(rig, shape, known, load)
    counted = Counted(known.feasible, load.use_weights)
    length = shape.length_m.mean(axis=0)
    springs, spring_notes = stiffness(rig.legs, length)
    misfit = _misfit(rig, length)
    springy = _springy(load, rig, shape, springs, misfit, elastic_draws)
    few = None if springy is None else _few(springy, load)
    governing = demand(rig, load, shape, known, springs, misfit, counted)
    if springy is not None and few is not None and _out(misfit):
        governing = raised(governing, springy.force_n, few)
    hook_load = np.asarray(load.weight_n + (rig.rigging_kg or 0.0) * G_M_S2)
    gear = gear_checks(rig, shape, governing, hook_load, counted)
    along, across = squeeze_n(shape, known)
    used = [c.utilisation for c in gear.checks if c.key.startswith("sling:")]
    return SlingAnswer(
        load=load.name,
        hook_m=_middle(shape.hook_m, counted),
        hook_load_n=counted.spread(hook_load, "N"),
        tilt_deg=counted.spread(shape.tilt_deg, "deg"),
        roll_deg=None if shape.roll_deg is None else counted.spread(shape.roll_deg, "deg"),
        legs=_legs(rig, shape, known, springy, governing, gear, load, counted),
        squeeze_x_n=counted.spread(along, "N"),
        squeeze_y_n=counted.spread(across, "N"),
        ruling=governing.rule,
        checks=gear.checks,
        objections=(*doubts, *_unmet(misfit, springy), *governing.objections, *gear.objections),
        advice=(*advice_of(rig.legs, governing, known, counted, used), *gear.advice),
        assumptions=(*_assumptions(rig), *(spring_notes if springs is not None else ())),
        open_questions=(
            *doubt_questions,
            *gear.questions,
            *(spring_notes if springs is None else ()),
            *_questions(rig),
        ),
        rules=rules_used(gear.checks, gear.ratings, governing),
        infeasible=infeasible,
        draws=len(load.weight_n),
    )


def _checked(load: Load) -> Load:
    weight = np.atleast_1d(np.asarray(load.weight_n, dtype=np.float64))
    hanging = np.atleast_2d(np.asarray(load.hanging_m, dtype=np.float64))
    if hanging.shape != (len(weight), 3):
        raise SlingError(
            f"every draw needs one weight and one hanging point, got {weight.shape} and {hanging.shape}"
        )
    if not (np.all(np.isfinite(weight)) and np.all(np.isfinite(hanging))):
        raise SlingError(
            "some weights or hanging points are not finite; the load may float or is not described"
        )
    return Load(load.name, weight, hanging, load.use_weights)


def _doubts(
    rig: Rig, shape: Geometry, known: Bounds, load: Load
) -> tuple[float, tuple[str, ...], tuple[str, ...]]:
    """Return the share of draws that cannot hang so, and what that means; refuse where it is most of them."""
    share = 1.0 - float(np.average(known.feasible, weights=load.use_weights))
    if share <= 0.0:
        return 0.0, (), ()
    turning = 0.0 if shape.overturns is None else float(np.mean(shape.overturns))
    if turning > known.pushing.max():
        why = "the hanging point is not below the line of the two attachment points: the load would turn over"
        cure = "attach higher, or use three or four legs"
    else:
        leg = rig.legs[int(np.argmax(known.pushing))].name
        why = f'leg "{leg}" would have to push: the hanging point lies outside the attachment points'
        cure = "move the hook or the attachment points"
    if share >= 0.5:
        raise SlingError(f"{why}; {cure}")
    text = f"in {100 * share:.2g} % of the draws {why}; {cure}"
    return (share, (text,), ()) if share >= NAMED_FROM else (share, (), (text,))


def _unmet(misfit: Array, springy: Elastic | None) -> tuple[str, ...]:
    """Return what is wrong with legs that do not meet in one point."""
    if not _out(misfit):
        return ()
    hang = ""
    if springy is not None:
        force = springy.force_n
        taut = round(float(np.median(np.sum(force > _CARRIES * force.sum(axis=1)[:, None], axis=1))))
        hang = f", so that only {taut} of {force.shape[1]} carry" if taut < force.shape[1] else ""
    most = 1000.0 * float(np.abs(misfit).max())
    return (
        f"the legs do not meet in one point: they are out by up to {most:.0f} mm{hang}; cut or shackle them to fit",
    )


def _middle(points: Array, counted: Counted) -> Point:
    x, y, z = (counted.best(points[:, axis]) for axis in range(3))
    return x, y, z


def _misfit(rig: Rig, length: Array) -> Array:
    """Return how much longer each typed leg is than its distance to the hook (k,), 0 where it is cut to fit."""
    if not isinstance(rig.hook, HookByLengths):
        return np.zeros(len(rig.legs))
    return np.array([leg.length_m or 0.0 for leg in rig.legs]) - length


def _out(misfit: Array) -> bool:
    """Return whether the legs do not meet in one point."""
    return bool(np.abs(misfit).max() > _MEET_M)


def _springy(
    load: Load, rig: Rig, shape: Geometry, springs: Array | None, misfit: Array, draws: int
) -> Elastic | None:
    """Return the legs as cut with all displacements, None where nothing is asked or can be said, or no rest is found.

    Legs that do not meet are followed even where their stiffness is not known, with hardly any stretch.
    """
    if draws < 1:
        return None
    some = slice(0, draws)
    if springs is None:
        if not _out(misfit):
            return None
        springs = float(load.weight_n[some].max()) / (_HARDLY * shape.length_m.mean(axis=0))
    hook = shape.hook_m if len(shape.hook_m) == 1 else shape.hook_m[some]
    few = geometry(shape.attachments_m, hook, load.hanging_m[some])
    found = elastic(few, load.weight_n[some], load.hanging_m[some], springs, misfit)
    return found if found.found.mean() > 0.5 else None


def _few(springy: Elastic, load: Load) -> Counted:
    weights = None if load.use_weights is None else load.use_weights[: len(springy.found)]
    return Counted(springy.found, weights)


def _legs(
    rig: Rig,
    shape: Geometry,
    known: Bounds,
    springy: Elastic | None,
    governing: Demand,
    gear: GearChecks,
    load: Load,
    counted: Counted,
) -> tuple[LegForces, ...]:
    angles = np.degrees(np.arcsin(np.clip(shape.sine, -1.0, 1.0)))
    level = known.greatest_n * np.sqrt(np.maximum(1.0 - shape.sine**2, 0.0))
    few = None if springy is None else _few(springy, load)
    greatest, least = known.greatest_n, known.least_n
    return tuple(
        LegForces(
            name=leg.name,
            gear=leg.gear,
            attachment_m=leg.attachment_m,
            length_m=counted.spread(shape.length_m[:, i], "m"),
            greatest_n=counted.spread(greatest[:, i], "N"),
            least_n=counted.spread(least[:, i], "N"),
            elastic_n=None if springy is None or few is None else few.spread(springy.force_n[:, i], "N"),
            from_horizontal_deg=counted.spread(angles[:, i], "deg"),
            horizontal_n=counted.spread(level[:, i], "N"),
            governing_kg=governing.force_n[i] / G_M_S2,
            capacity_words=gear.ratings[i].words,
        )
        for i, leg in enumerate(rig.legs)
    )


def _assumptions(rig: Rig) -> tuple[str, ...]:
    said = [
        "the load is rigid, the hook does not move, and nothing swings: waves and hoisting are not in these forces",
        "legs run straight from attachment to hook and meet there in one point",
        "forces are shown as kg, force / g",
    ]
    if isinstance(rig.hook, HookTrimmed):
        said.append("the legs are trimmed at the trial lift until the load hangs level")
    return tuple(said)


def _questions(rig: Rig) -> tuple[str, ...]:
    found = []
    if rig.rigging_kg is None:
        found.append("the mass of slings and shackles is not known; the hook load is without it")
    if len(rig.legs) == 4 and rig.length_tolerance_m is None and rig.ruling.sharing != "elastic":
        found.append("how far the legs are out of their length is not known; the bound holds whatever it is")
    return tuple(found)
