"""What does it weigh? Body in, report out: states, centres, curves, and all that is to be said with them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from oakum import __version__
from oakum.ground.estimate import Draws, Spread, drivers, effective_draws, spread_of
from oakum.lift.body.likely import placed_parts
from oakum.lift.body.model import Body, Part
from oakum.lift.body.stuff import drawn as draws_of
from oakum.lift.weights import wording
from oakum.lift.weights.breakout import breakout_kg, overburden_kg
from oakum.lift.weights.conditioning import Conditioned, Use
from oakum.lift.weights.curve_bands import draining_curve, emergence_curve
from oakum.lift.weights.drawn import Term
from oakum.lift.weights.emergence import emergence
from oakum.lift.weights.frame import Framed, conditioned, frame_assumptions, frame_objections, frame_share
from oakum.lift.weights.hanging import centres, hang, may_float, outside_parts, points
from oakum.lift.weights.report import CellReading, PartLine, WeightReport
from oakum.lift.weights.states import state_loads, states
from oakum.lift.weights.sums import Sums, summed, total
from oakum.lift.weights.weighing import CURVE_DRAWS, Weighing

Array = NDArray[np.float64]

_DRIVER_DRAWS = 10_000  # a share is then good to about 0.2 %
_FEWEST_FOR_DRIVERS = 200
_NAMED_FROM = 0.01


def weigh(
    body: Body,
    *,
    rng: np.random.Generator,
    draws: int = 20_000,
    seed: int = 0,
    readings: Sequence[CellReading] = (),
) -> WeightReport:
    """Return the weight report of a body.

    `rng` makes the draws; `seed` is only printed, so that the sheet can be made again. `readings`
    are load-cell readings of the body hanging free under water. Raises `SolidError` or `MaterialError` for a
    body, built in Python, that cannot be; a body from `parse_body` has been checked.
    """
    return weighing_of(body, rng=rng, draws=draws, seed=seed, readings=readings).report


def weighing_of(
    body: Body,
    *,
    rng: np.random.Generator,
    draws: int = 20_000,
    seed: int = 0,
    readings: Sequence[CellReading] = (),
    frame: tuple[Part, ...] = (),
) -> Weighing:
    """As `weigh`, but keep the draws, so that `load_at` can be asked.

    `frame`: parts of the cradle that carries it; they count in every state. `ValueError` where a part of the body
    has the name of one.
    """
    framed = Framed(body, frame)
    taken = Draws(draws, rng)
    sums = summed(framed.drawn(taken), framed.names)
    placed = placed_parts(framed.whole)
    held, bed_questions = breakout_kg(body.bed, taken)
    loads = state_loads(sums, held, overburden_kg(body.bed, taken, sums.drawn.water_kg_m3))
    known = conditioned(sums, tuple(readings), rng)
    found = points(sums)
    refused = _refused(known, found.mass_kg, found.submerged_kg) or outside_parts(
        found.hanging, placed, known.hook.weights
    )
    hook = draws_of(taken, body.hook_above_top_m) if body.hook_above_top_m is not None else None
    ready = emergence(sums, placed)
    spread = _Summary(known.hook, taken)
    rigging = float(np.median(sums.rigging_submerged_kg))
    share = frame_share(sums, known.hook.weights)
    report = WeightReport(
        title=body.title,
        body=framed.whole,
        water=body.water.words,
        water_density_kg_m3=spread_of(sums.drawn.full(sums.drawn.water_kg_m3), "kg/m3", known.hook.weights),
        states=states(loads, spread.with_drivers, has_breakout=held is not None, frame=share),
        parts=tuple(_line(t, sums, known.hook.weights) for t in sums.drawn.terms),
        volume_m3=spread.of(_object(sums, "volume_m3"), "m3", shifted=False),
        mass_kg=spread.of(_object(sums, "mass_kg"), "kg"),
        centres=centres(found, known.hook.weights),
        hanging=hang(found, placed, hook, known.hook.weights, refused),
        emergence=emergence_curve(ready, known.hook),
        draining=draining_curve(sums, known.hook),
        breakout_kg=spread_of(sums.drawn.full(held), "kg") if held is not None else None,
        conditioning=known.result,
        objections=(*wording.objections(body, refused), *frame_objections(framed)),
        open_questions=(
            *wording.questions(body),
            *known.questions,
            *wording.reading_questions(body, tuple(readings), rigging),
            *bed_questions,
        ),
        assumptions=(
            *wording.assumptions(body, draws=draws, seed=seed, readings=tuple(readings)),
            *frame_assumptions(framed),
        ),
        cautions=wording.CAUTIONS,
        draws=draws,
        seed=seed,
        version=__version__,
        frame=share,
    )
    return Weighing(report, sums, ready, known.hook, known.slack)


def report_of(weighing: Weighing) -> WeightReport:
    """Return the report of a weighing."""
    return weighing.report


class _Summary:
    """Sums arrays of loads up under one use of the draws."""

    def __init__(self, use: Use, draws: Draws) -> None:
        self.use = use
        some = slice(0, _DRIVER_DRAWS)
        self.inputs = {label: values[some] for label, values in draws.inputs.items()}
        self.weights = use.weights[some] if use.weights is not None else None
        self._done: list[tuple[Array, Spread]] = []

    def of(self, values: Array, unit: str, *, shifted: bool = True) -> Spread:
        """Return the spread of draws (n,)."""
        if shifted and self.use.extra_kg is not None:
            values = values + self.use.extra_kg
        return spread_of(values, unit, self.use.weights)

    def with_drivers(self, load_kg: Array) -> Spread:
        """Return the spread of a load with what drives its width; states that are alike are summed up once."""
        for load, spread in self._done:
            if np.array_equal(load, load_kg):
                return spread
        self._done.append((load_kg, self._driven(load_kg)))
        return self._done[-1][1]

    def _driven(self, load_kg: Array) -> Spread:
        found = self.of(load_kg, "kg")
        some = load_kg[:_DRIVER_DRAWS]
        if self.use.extra_kg is not None:
            some = some + self.use.extra_kg[:_DRIVER_DRAWS]
        effective = effective_draws(self.weights) if self.weights is not None else len(some)
        if not self.inputs or found.is_exact or effective < _FEWEST_FOR_DRIVERS:
            return found
        ranked = drivers(some, self.inputs, self.weights)
        return replace(found, drivers=tuple(d for d in ranked if d.share >= _NAMED_FROM))


def _refused(known: Conditioned, mass_kg: Array, submerged_kg: Array) -> str | None:
    """Return why the body may float, judged on the lesser of what model and readings say."""
    extra = known.slack.extra_kg
    sunk = submerged_kg if extra is None else submerged_kg + extra
    return may_float(mass_kg, sunk, known.slack.weights)


def _line(term: Term, sums: Sums, weights: Array | None) -> PartLine:
    """Return one row of the part list, from the first draws: it is a list, not a load."""
    submerged = term.mass_kg - sums.drawn.water_kg_m3 * term.volume_m3
    some = slice(0, CURVE_DRAWS)
    few = weights[some] if weights is not None else None
    volume, mass, sunk = (sums.drawn.full(v)[some] for v in (term.volume_m3, term.mass_kg, submerged))
    return PartLine(
        name=term.name,
        role=term.role,
        shape=term.shape,
        material=term.material,
        volume_m3=spread_of(volume, "m3", few),
        mass_kg=spread_of(mass, "kg", few),
        submerged_kg=spread_of(sunk, "kg", few),
    )


def _object(sums: Sums, what: str) -> Array:
    """Return a sum over the object and its crust alone."""
    alone = [t for t in sums.solids if t.role in ("object", "concretion")]
    return sums.drawn.full(total(getattr(t, what) for t in alone))
