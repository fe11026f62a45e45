"""The force each leg must be good for, by the rule the user lets govern; where its conditions fail, the bound."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from oakum.ground.gravity import G_M_S2
from oakum.lift.checks import Rule
from oakum.lift.slings import rules
from oakum.lift.slings.bounds import Bounds
from oakum.lift.slings.elastic import shared, shared_worst
from oakum.lift.slings.geometry import Geometry
from oakum.lift.slings.legs import Leg, Load, Rig
from oakum.lift.slings.ratings import leg_rating
from oakum.lift.slings.sets import EVEN_SHARE, one_longer, set_factor, uneven
from oakum.lift.slings.words import Counted

Array = NDArray[np.float64]

SKEW = 1.25
SKEW_LOWEST = 0.6
"""Where slings are used less than this, their skew may be greater than the factor says (0027/ND 5.6.12: read)."""


@dataclass(frozen=True, slots=True)
class Demand:
    """Force each leg must be good for (k,), N; how it was taken; by which rule; what stands against it."""

    force_n: tuple[float, ...]
    basis: str
    rule: Rule
    objections: tuple[str, ...] = ()


def demand(
    rig: Rig,
    load: Load,
    shape: Geometry,
    known: Bounds,
    springs: Array | None,
    misfit_m: Array,
    counted: Counted,
) -> Demand:
    """Return the governing force of each leg.

    `springs` (k,) N/m, None: not known; `misfit_m` (k,): typed lengths less the distance to the hook. Two and
    three legs are determined by statics: "elastic" and "skew" then give the same as the bound.
    """
    sharing = rig.ruling.sharing
    against: tuple[str, ...] = ()
    if sharing == "elastic" and known.null is not None:
        against = _not_elastic(rig, springs)
        if not against and springs is not None:
            worst = shared_worst(known, springs, float(rig.length_tolerance_m or 0.0), misfit_m)
            basis = "95th percentile of the elastic force, lengths out by the tolerance at their worst"
            return Demand(_each(worst, counted), basis, rules.ELASTIC)
    if sharing == "skew" and known.null is not None:
        against = _not_matched(rig)
        if not against and springs is None:
            against = (
                "the skew load factor needs the stiffness of every leg, or one kind of rope and diameter",
            )
        if not against and springs is not None:
            fair = shared(known, springs)
            basis = f"95th percentile of the elastic force of matched legs, times {SKEW:.2f}"
            return Demand(tuple(SKEW * f for f in _each(fair, counted)), basis, rules.SKEW)
    if sharing in ("set EU", "set US"):
        found = _set(rig, load, shape, misfit_m, counted)
        if isinstance(found, Demand):
            return found
        against = found
    fallen = tuple(f"{rig.ruling.rule.key} rule not met: {why}; the bound is used instead" for why in against)
    return Demand(
        _each(known.greatest_n, counted),
        "95th percentile of the greatest force in this leg",
        rules.BOUND,
        fallen,
    )


def raised(governing: Demand, as_cut_n: Array, counted: Counted) -> Demand:
    """Return the demand, no leg below the 95th percentile of the force it takes as cut, draws (m, k).

    Legs that do not meet in one point move the load; where they then hang is not where the bound was taken.
    """
    cut = _each(as_cut_n, counted)
    force = tuple(max(a, b) for a, b in zip(governing.force_n, cut, strict=True))
    if force == governing.force_n:
        return governing
    return replace(
        governing, force_n=force, basis=f"{governing.basis}, or of its force as cut if that is more"
    )


def _each(forces: Array, counted: Counted) -> tuple[float, ...]:
    return tuple(counted.p95(forces[:, leg]) for leg in range(forces.shape[1]))


def _not_elastic(rig: Rig, springs: Array | None) -> tuple[str, ...]:
    found = []
    if springs is None:
        found.append("the stiffness of every leg must be known")
    if rig.length_tolerance_m is None:
        found.append("how far the legs may be out of their length is not known")
    return tuple(found)


def _not_matched(rig: Rig) -> tuple[str, ...]:
    found = []
    if len(rig.legs) != 4:
        found.append("it is for four legs")
    if any(leg.kind != "wire rope" for leg in rig.legs):
        found.append("it is for wire rope only")
    if len({(leg.diameter_m, leg.ea_n) for leg in rig.legs}) > 1:
        found.append("the four legs must be of one rope")
    matched = rig.matched
    if matched is None:
        found.append("how well the legs match is not known")
        return tuple(found)
    if matched.tolerance_diameters > 2.0:
        found.append("lengths may be out by at most 2 diameters")
    if matched.pair_difference_diameters > 1.0:
        found.append("the legs of a pair may differ by at most 1 diameter")
    if matched.longer_on_one_diagonal:
        found.append("the longer legs of both pairs must not share a diagonal")
    return tuple(found)


def _set(
    rig: Rig, load: Load, shape: Geometry, misfit_m: Array, counted: Counted
) -> Demand | tuple[str, ...]:
    sharing = rig.ruling.sharing
    assert sharing in ("set EU", "set US")  # asked by the caller
    angles = np.degrees(np.arcsin(np.clip(shape.sine, -1.0, 1.0)))
    likely = np.array([counted.best(angles[:, leg]) for leg in range(len(rig.legs))])
    flattest = 90.0 - counted.p95(90.0 - angles.min(axis=1))
    against = list(uneven(likely, np.median(shape.unit, axis=0)))
    if _unlike(rig):
        against.append("the legs of a set are of one kind, one WLL and one hitch")
    longer = one_longer(shape.length_m.mean(axis=0), misfit_m)
    factor = set_factor(sharing, len(rig.legs), flattest, one_longer=longer)
    if factor is None:
        against.append("a leg may be flatter than 30° from the horizontal")
    if against or factor is None:
        return tuple(against)
    weight = counted.p95(np.broadcast_to(load.weight_n, (len(shape.up),)))
    share = weight / factor.value
    capacity = leg_rating(rig.legs[0], rig.ruling.hitches).capacity_kg
    if sharing == "set EU" and capacity is not None and share > EVEN_SHARE * capacity * G_M_S2:
        return (f"a set counts as evenly loaded only up to {100 * EVEN_SHARE:.0f} % of its rating",)
    basis = f"95th percentile of the load over {factor.value:.2f} ({factor.words})"
    return Demand((share,) * len(rig.legs), basis, rules.ONE_LONGER if longer else factor.rule)


def _unlike(rig: Rig) -> bool:
    return len({(leg.kind, leg.wll_kg, leg.wll_for, leg.hitch) for leg in rig.legs}) > 1


def advice_of(
    legs: Sequence[Leg], governing: Demand, known: Bounds, counted: Counted, used: Sequence[float | None]
) -> tuple[str, ...]:
    """Return what is to be said with a rule that asks less than the bound."""
    if governing.rule is rules.BOUND:
        return ()
    bound = _each(known.greatest_n, counted)
    worst = int(np.argmax(np.array(bound) / np.array(governing.force_n)))
    said = []
    if bound[worst] > governing.force_n[worst]:
        most, taken = bound[worst] / G_M_S2, governing.force_n[worst] / G_M_S2
        said.append(
            f'statics allows {most:,.0f} kg in leg "{legs[worst].name}"; the rule chosen takes {taken:,.0f} kg: '
            "see that every leg is taut"
        )
    if governing.rule is rules.SKEW and any(u is not None and u < SKEW_LOWEST for u in used):
        said.append(
            "a leg used less than 0.6 may be skewed by more than 1.25: see eyes and shackles on the bound"
        )
    return tuple(said)
