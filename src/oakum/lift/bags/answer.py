"""Will these bags lift it, and what can go wrong? All of it as one frozen object."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from oakum.ground.estimate import Spread, spread_of
from oakum.lift.bags import asked, forces
from oakum.lift.bags.air import AirNeed, AirSupply, air_need
from oakum.lift.bags.ascent import (
    JUST_LIFTS,
    Ascent,
    BagLoad,
    ascent,
    balance_m3,
    weight_n,
)
from oakum.lift.bags.errors import BagError
from oakum.lift.bags.failed import FailedBag, failed_bags
from oakum.lift.bags.gas import ATMOSPHERE_PA, Column
from oakum.lift.bags.kinds import BagKind, BagSet
from oakum.lift.bags.neutral import neutral_curve, one_bag_curve
from oakum.lift.bags.rules import MOST_EXCESS
from oakum.lift.bags.sizing import Proposal, propose
from oakum.lift.bags.wording import ASSUMPTIONS, CAUTIONS, in_ten
from oakum.lift.checks import Check, verdict_words
from oakum.lift.draw_bands import share_of
from oakum.lift.weights.report import Curve


@dataclass(frozen=True, slots=True)
class BagAnswer:
    """Everything the bag sheet says. Weights are load-cell readings under water, kg.

    `excess` is the lift of all bags full over the weight, less one, over the draws; `lifts` the share of the
    draws in which the bags lift the load at all. `neutral` is the force away from balance against depth,
    `one_bag` the same if one great bag carried it all. `just_lifting` and `all_full` are the rise if nobody
    vents, `failed` one case a bag. `instead` are other choices from the same kinds, given where this one does
    not keep the rules for lift and excess.
    """

    bags: BagSet
    column: Column
    submerged_kg: Spread
    lift_full_kg: float
    lift_counted_kg: float
    excess: Spread
    lifts: float
    air: AirNeed
    neutral: Curve
    one_bag: Curve
    just_lifting: Ascent | None
    all_full: Ascent | None
    failed: tuple[FailedBag, ...]
    checks: tuple[Check, ...]
    instead: tuple[Proposal, ...]
    objections: tuple[str, ...]
    open_questions: tuple[str, ...]
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]

    @property
    def verdict(self) -> str:
        """The only two verdicts there are."""
        return verdict_words(self.objections)


def answer(load: BagLoad, bags: BagSet, column: Column, supply: AirSupply | None) -> BagAnswer:
    """Return the answer for a set of bags. Checks use all draws, motions and curves at most
    1,000 that stand for them.

    Raises `BagError` where the likely load does not sink.
    """
    submerged = spread_of(load.submerged_kg, "kg", load.weights)
    if submerged.best <= 0.0:
        raise BagError(
            f"the load weighs {submerged.best:,.0f} kg under water: it floats and needs no bag; check its weights"
        )
    few = load.few()
    air = balance_m3(load, bags, column)
    balance = balance_m3(few, bags, column)
    some = balance * (1.0 + JUST_LIFTS)
    need = air_need(bags, air, supply, column, load.weights)
    failed = failed_bags(few, bags, column, some, bags.drag_area_m2)
    full = bags.full_lift_kg(bags.depth_m, column)
    excess = full / np.maximum(load.submerged_kg, 1e-9) - 1.0
    made = forces.checks(load, bags, column, air, need, failed)
    broken = any(c.objection for c in made if c.key in ("bag-lift", "bag-excess"))
    rises = _rises(few, bags, column, some)
    lifts = share_of(full > load.submerged_kg, load.weights)
    return BagAnswer(
        bags=bags,
        column=column,
        submerged_kg=submerged,
        lift_full_kg=full,
        lift_counted_kg=bags.counted_lift_kg(bags.depth_m, column),
        excess=spread_of(excess, "1", load.weights),
        lifts=lifts,
        air=need,
        neutral=neutral_curve(
            weight_n(few, bags),
            balance,
            bags.full_m3(column),
            bags.depth_m,
            bags.bed_depth_m,
            column,
        ),
        one_bag=one_bag_curve(weight_n(few, bags), bags.depth_m, bags.bed_depth_m, column),
        just_lifting=rises[0],
        all_full=rises[1],
        failed=failed,
        checks=made,
        instead=propose(_kinds(bags), submerged.best, bags.depth_m, column) if broken else (),
        objections=(
            *dict.fromkeys(
                [
                    *need.objections,
                    *(c.objection for c in made if c.objection and c.key != "bag-air"),
                    *asked.objections(bags),
                ]
            ),
        ),
        open_questions=(*_on_the_weight(load, full, lifts), *asked.questions(bags, column)),
        assumptions=_assumptions(load, bags, column),
        cautions=CAUTIONS,
    )


def _rises(
    few: BagLoad, bags: BagSet, column: Column, some: np.ndarray
) -> tuple[Ascent | None, Ascent | None]:
    if bags.drag_area_m2 is None:
        return None, None
    brim = np.full(len(some), float(bags.full_m3(column).sum()))
    return (
        ascent("filled until it lifts", few, bags, column, some, bags.drag_area_m2),
        ascent("all bags filled", few, bags, column, brim, bags.drag_area_m2),
    )


def _kinds(bags: BagSet) -> list[BagKind]:
    return list({b.kind.key: b.kind for b in bags.bags}.values())[:8]


def _on_the_weight(load: BagLoad, full_kg: float, lifts: float) -> list[str]:
    said = []
    over = share_of(full_kg > (1.0 + MOST_EXCESS) * load.submerged_kg, load.weights)
    if lifts < 0.95:
        said.append(
            f"the bags lift the load only {in_ten(lifts)} of what it may weigh: weigh it under water first"
        )
    if over > 0.05:
        said.append(
            f"{in_ten(over)} the load is so light that full bags have more than 10 % excess: "
            "weigh it under water first"
        )
    return said


def _assumptions(load: BagLoad, bags: BagSet, column: Column) -> tuple[str, ...]:
    air = (
        "the standard atmosphere"
        if column.air_pressure_pa == ATMOSPHERE_PA
        else f"{column.air_pressure_pa / 100:,.0f} hPa"
    )
    said = [
        f"Water of {column.density_kg_m3:,.1f} kg/m³ and {column.temperature_c:g} °C under {air}.",
        *ASSUMPTIONS,
        "Nothing of the bed holds the load: it hangs free when the bags take it.",
    ]
    if not load.added_known:
        said.append(
            "No added mass of water around the load is counted: it gathers speed sooner than it would."
        )
    if bags.hook_wll_kg is not None:
        said.append(
            "The hook's line follows just slack; the longer its slack, the harder it catches the load."
        )
    return tuple(said)
