"""Padding taken down and brought up: how loose it is at depth, how hard it presses above, what it floats."""

from __future__ import annotations

from dataclasses import dataclass

from oakum.ground.gravity import G_M_S2
from oakum.lift.cradle.beds import Foam, boyle_strain, strain_at_depth
from oakum.lift.cradle.errors import CradleError, positive


@dataclass(frozen=True, slots=True)
class PaddingAnswer:
    """`gap_m`: least and greatest thickness lost at depth, what a pad cut to fit above is loose by below.

    `swell_m`: what a pad fitted at depth would grow by coming up. `lift_n`: its buoyancy at depth, greatest, and at the
    surface. None: not known.
    """

    gap_m: tuple[float, float] | None
    swell_m: tuple[float, float] | None
    lift_at_depth_n: float | None
    lift_at_surface_n: float | None
    objections: tuple[str, ...]
    assumptions: tuple[str, ...]


def padding_answer(
    foam: Foam,
    area_m2: float,
    depth_m: float,
    water_kg_m3: float,
    foam_kg_m3: float | None,
    load_pa: float = 0.0,
) -> PaddingAnswer:
    """Return what a pad of `area_m2` does at a depth under a load, Pa; `foam_kg_m3` its density above, None: not known.

    `CradleError` for a depth above the water or an area that cannot be.
    """
    positive(f'the area of the foam "{foam.name}"', area_m2, "m²")
    positive("the density of the water", water_kg_m3, "kg/m³")
    if depth_m < 0.0:
        raise CradleError(f"a depth is 0 m or more; got {depth_m:g} m")
    pressure = water_kg_m3 * G_M_S2 * depth_m
    said = []
    if foam.closed_cells is None:
        said.append(
            f'foam "{foam.name}": not known whether its cells are closed; closed ones shrink at depth'
        )
    if foam.curve is None:
        said.append(
            f'foam "{foam.name}": how stiff it is is not known: ask its maker for strain against stress'
        )
    lost = strain_at_depth(foam, pressure, load_pa)
    if lost is None and foam.closed_cells is False and foam.curve is not None:
        said.append(
            f'foam "{foam.name}": its curve ends before {load_pa / 1000.0:.1f} kPa: use a stiffer foam or more area'
        )
    if foam.closed_cells is None and foam.curve is not None:
        lost = (0.0, boyle_strain(pressure + load_pa))  # both kinds lie between
    gap = swell = None
    if lost is not None:
        gap = (lost[0] * foam.thickness_m, lost[1] * foam.thickness_m)
        swell = tuple(foam.thickness_m * e / (1.0 - e) for e in lost)
    deep = shallow = None
    if foam_kg_m3 is None:
        said.append(f'foam "{foam.name}": its density is not known, nor what it floats')
    elif foam.closed_cells is not False:
        volume = area_m2 * foam.thickness_m
        shallow = volume * (water_kg_m3 - foam_kg_m3) * G_M_S2
        if lost is not None:
            deep = volume * ((1.0 - lost[0]) * water_kg_m3 - foam_kg_m3) * G_M_S2
    else:
        deep = shallow = 0.0
    return PaddingAnswer(
        gap,
        (swell[0], swell[1]) if swell is not None else None,
        deep,
        shallow,
        tuple(said),
        (
            "Closed cells hold their air (Boyle) and shrink in thickness only; the greatest loss counts no "
            "stiffness of the foam itself.",
            "Open cells fill with water: they do not shrink, and their water is trapped water on the hook.",
        ),
    )
