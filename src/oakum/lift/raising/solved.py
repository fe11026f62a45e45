"""One rig under one load: slings, spreader, hook and bags solved together, as often as helps and sliders ask."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from oakum.lift.checks import Check
from oakum.lift.raising.at_sea import AtSea
from oakum.lift.raising.bagged import Bagged, lift_on_bags
from oakum.lift.raising.beamed import Beamed, hang_on_spreader
from oakum.lift.raising.hung import Hung, hang_on_legs, hook_check
from oakum.lift.raising.loads import Draw
from oakum.lift.raising.plan import GearItem
from oakum.lift.raising.rig_plan import RigPlan
from oakum.lift.weights.conditioning import Use


@dataclass(frozen=True, slots=True)
class Asked:
    """What a rig is solved for.

    `light`: draws by the lesser of readings that disagree, under `light_use`; None where they agree.
    """

    draw: Draw
    light: Draw | None
    water_kg_m3: float
    gear: Mapping[str, GearItem]
    light_use: Use | None = None

    def first(self, most: int) -> Asked:
        """Return the same with its first draws only."""
        light = None if self.light is None else self.light.first(most)
        return Asked(self.draw.first(most), light, self.water_kg_m3, self.gear, self.light_use)


@dataclass(frozen=True, slots=True)
class Solved:
    """The answers of all that lifts."""

    hung: Hung
    beamed: Beamed
    bagged: Bagged
    hook: tuple[Check, ...]

    @property
    def checks(self) -> tuple[Check, ...]:
        """All checks, unsorted."""
        return (*self.hook, *self.hung.checks, *self.beamed.checks, *self.bagged.checks)

    @property
    def objections(self) -> tuple[str, ...]:
        """All objections, each once."""
        hook = [c.objection for c in self.hook if c.objection]
        every = [*hook, *self.hung.objections, *self.beamed.objections, *self.bagged.objections]
        return tuple(dict.fromkeys(every))


def solve(rig: RigPlan, asked: Asked, *, elastic_draws: int = 1000) -> Solved:
    """Return what lifts, solved."""
    return Solved(
        hang_on_legs(rig, asked.draw, asked.gear, elastic_draws=elastic_draws),
        hang_on_spreader(rig, asked.draw, asked.gear),
        lift_on_bags(rig, asked.draw, asked.light, asked.water_kg_m3, asked.gear),
        hook_check(rig, asked.draw, asked.gear),
    )


@dataclass(frozen=True, slots=True)
class Before:
    """A rig solved before, for the load in `asked`: what a change does not touch is taken from it."""

    rig: RigPlan
    asked: Asked
    solved: Solved
    at_sea: AtSea


def solve_again(rig: RigPlan, before: Before) -> Solved:
    """Return a changed rig solved for the same load, gear and rigging."""
    asked = before.asked
    same_legs = (rig.legs, rig.hook, rig.spreader) == (before.rig.legs, before.rig.hook, before.rig.spreader)
    same_bags = rig.bags == before.rig.bags
    kept = before.solved
    return Solved(
        kept.hung if same_legs else hang_on_legs(rig, asked.draw, asked.gear),
        kept.beamed if same_legs else hang_on_spreader(rig, asked.draw, asked.gear),
        kept.bagged
        if same_bags
        else lift_on_bags(rig, asked.draw, asked.light, asked.water_kg_m3, asked.gear),
        kept.hook if same_legs else hook_check(rig, asked.draw, asked.gear),
    )


def ranked(checks: tuple[Check, ...]) -> tuple[Check, ...]:
    """Return checks sorted: what is not known first, then the hardest used."""
    return tuple(sorted(checks, key=lambda c: (c.utilisation is not None, -(c.utilisation or 0.0))))
