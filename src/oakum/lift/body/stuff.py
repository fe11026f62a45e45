"""The bulk density of what a part is made of, with every pore full of the water it lies in."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.ground.estimate import Draws, Estimate
from oakum.ground.materials import MaterialError, basic_from_umax, cell_wall, saturated_density
from oakum.lift.body.model import Body, Part, SedimentFill, Stuff

Array = NDArray[np.float64]
Dim = float | Array


def drawn(draws: Draws, estimate: Estimate) -> Dim:
    """Return the draws (n,) of an estimate, or its one value where it has no spread."""
    return estimate.best if estimate.is_exact else draws.of(estimate)


@dataclass(frozen=True, slots=True)
class Setting:
    """What all parts of one body share: the draws, the water, the cell wall of wood, the tape's scale."""

    body: Body
    draws: Draws
    water_kg_m3: Dim
    wall_kg_m3: Dim
    scale: Dim

    def of(self, estimate: Estimate) -> Dim:
        """Return the draws (n,) of an estimate, or its one value where it has no spread."""
        return drawn(self.draws, estimate)

    def length(self, estimate: Estimate) -> Dim:
        """Return the draws of a length, with the tape's scale."""
        return self.of(estimate) * self.scale


def setting(body: Body, draws: Draws) -> Setting:
    """Return what the parts of a body share."""
    return Setting(
        body=body,
        draws=draws,
        water_kg_m3=drawn(draws, body.water.density_kg_m3),
        wall_kg_m3=drawn(draws, body.cell_wall_kg_m3 or cell_wall()),
        scale=drawn(draws, body.tape_scale) if body.tape_scale is not None else 1.0,
    )


def density_kg_m3(stuff: Stuff, shared: Setting) -> Dim:
    """Return the density of a stuff, kg/m3, float or (n,).

    Wood is fully saturated; air left in recent wood would make it lighter. All parts of one stuff share one
    draw, because their estimates share a label.
    """
    if stuff.density_kg_m3 is not None:
        return shared.of(stuff.density_kg_m3)
    if stuff.basic_kg_m3 is not None:
        return saturated_density(shared.of(stuff.basic_kg_m3), shared.water_kg_m3, shared.wall_kg_m3)
    if stuff.umax is not None:
        basic = basic_from_umax(100.0 * shared.of(stuff.umax), cell_wall=shared.wall_kg_m3)
        return saturated_density(basic, shared.water_kg_m3, shared.wall_kg_m3)
    raise MaterialError(f"{stuff.name}: its density is not known; give density, basic_density or umax")


def stuffs(part: Part) -> tuple[Stuff, ...]:
    """Return everything a part, its coat and its filling are made of."""
    fill = part.fill.stuff if isinstance(part.fill, SedimentFill) else None
    return tuple(s for s in (part.stuff, part.coat.stuff if part.coat else None, fill) if s is not None)


def stuff_words(stuff: Stuff) -> str:
    """Say what it is made of, with the number that was used."""
    if stuff.basic_kg_m3 is not None:
        return f"{stuff.name}, waterlogged, basic density {_about(stuff.basic_kg_m3)} kg/m³"
    if stuff.umax is not None:
        return f"{stuff.name}, waterlogged, Umax {_about(stuff.umax, 100.0)} %"
    if stuff.density_kg_m3 is not None:
        return f"{stuff.name}, {_about(stuff.density_kg_m3)} kg/m³"
    return f"{stuff.name}, density not known"


def _about(estimate: Estimate, times: float = 1.0) -> str:
    if estimate.is_exact:
        return f"{times * estimate.best:,.0f}"
    if estimate.kind == "normal":
        return f"{times * estimate.a:,.0f} ± {times * estimate.b:,.0f}"
    low, high = estimate.quantile(0.0001), estimate.quantile(0.9999)
    return f"{times * low:,.0f} to {times * high:,.0f}"


def likely_density(stuff: Stuff, water_kg_m3: float) -> float:
    """Return the density of the likeliest values, kg/m3."""
    if stuff.density_kg_m3 is not None:
        return stuff.density_kg_m3.best
    if stuff.basic_kg_m3 is not None:
        return float(saturated_density(stuff.basic_kg_m3.best, water_kg_m3))
    assert stuff.umax is not None  # a stuff without any density cannot be weighed
    return float(saturated_density(basic_from_umax(100.0 * stuff.umax.best), water_kg_m3))
