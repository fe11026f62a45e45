"""The vessel before and after it takes the load, over the draws."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from oakum.lift.vessel.errors import VesselError
from oakum.lift.vessel.lost_load import first_roll_rad
from oakum.lift.vessel.particulars import Vessel, VesselLift
from oakum.lift.vessel.stability import (
    Array,
    edge_drop_m,
    free_surface_m,
    heel_rad,
    kg_with_load_m,
    sinkage_m,
    trim_rad,
    wall_sided_heel_rad,
)


@dataclass(frozen=True, slots=True, eq=False)
class Afloat:
    """Arrays over the draws (n,); None where something needed is not known.

    `displacement_kg`, `gm_m`, `moment_kg_m`: with the load; `before_kg`, `gm_before_m`: without. `heel_rad` by small
    angles; `wall_sided_rad` with BM; None where some GM is not above 0. `freeboard_m` at the low corner.
    `first_roll_rad` after the load is lost.
    """

    before_kg: Array
    displacement_kg: Array
    gm_before_m: Array
    gm_m: Array
    moment_kg_m: Array
    heel_rad: Array | None
    wall_sided_rad: Array | None
    freeboard_m: Array | None
    first_roll_rad: Array | None


def checked(lift: VesselLift) -> None:
    """Refuse numbers that cannot be, naming the field."""
    v = lift.vessel
    for what, value in (
        ("displacement", v.displacement_kg),
        ("KG", v.kg_m),
        ("KM", v.km_m),
        ("beam", v.beam_m),
        ("draught", v.draught_m),
        ("waterplane area", v.waterplane_m2),
        ("density of the water", v.water_kg_m3),
        ("GM along", v.gm_long_m),
        ("heel at which water comes in", v.floods_at_deg),
        ("height of the head", lift.head.height_m),
    ):
        if value is not None and not (np.all(np.isfinite(value)) and np.all(np.asarray(value) > 0.0)):
            raise VesselError(
                f'vessel "{v.name}": its {what} must be above 0; leave it empty if it is not known'
            )
    if v.freeboard_m is not None and v.freeboard_m < 0.0:
        raise VesselError(f'vessel "{v.name}": a freeboard below 0 is a deck under water')
    if lift.head.y_m < 0.0:
        raise VesselError("the head's place counts to the side of the lift: type it above 0")
    for item in v.aboard or ():
        if not item.mass_kg > 0.0:
            raise VesselError(f'"{item.name}" aboard needs a mass above 0 kg')
    for surface in v.free_surfaces or ():
        if min(surface.length_m, surface.breadth_m, surface.density_kg_m3) <= 0.0:
            raise VesselError(f'free surface "{surface.name}" needs length, breadth and density above 0')
    load = np.asarray(lift.load.load_kg)
    if load.ndim != 1 or not np.all(np.isfinite(load)) or np.any(load < 0.0):
        raise VesselError("the load is a row of draws, each 0 kg or more")


def not_known(vessel: Vessel) -> tuple[str, ...]:
    """Return which of displacement, KG and KM are not known: without them there is no heel."""
    asked = (("displacement", vessel.displacement_kg), ("KG", vessel.kg_m), ("KM", vessel.km_m))
    return tuple(name for name, value in asked if value is None)


def afloat(lift: VesselLift) -> Afloat | None:
    """Return the vessel with and without its load; None where displacement, KG or KM is not known."""
    vessel, head = lift.vessel, lift.head
    if vessel.displacement_kg is None or vessel.kg_m is None or vessel.km_m is None:
        return None
    load = np.asarray(lift.load.load_kg, dtype=np.float64)
    before = np.broadcast_to(np.asarray(vessel.displacement_kg, dtype=np.float64), load.shape)
    kg = np.broadcast_to(np.asarray(vessel.kg_m, dtype=np.float64), load.shape)
    other = np.zeros(load.shape)
    for item in vessel.aboard or ():
        kg = np.asarray(kg_with_load_m(before, kg, item.mass_kg, item.height_m))
        before, other = before + item.mass_kg, other + item.mass_kg * item.y_m
    after = before + load
    virtual = [
        (np.asarray(free_surface_m(s.density_kg_m3, s.length_m, s.breadth_m, before)), s)
        for s in vessel.free_surfaces or ()
    ]
    rise = np.sum([r for r, _ in virtual], axis=0) if virtual else np.zeros(load.shape)
    gm_before = vessel.km_m - kg - rise
    gm = vessel.km_m - np.asarray(kg_with_load_m(before, kg, load, head.height_m)) - rise * before / after
    moment = load * head.y_m + other
    bm = vessel.bm_m
    stands = bool(np.all(gm > 0.0))
    heel = heel_rad(moment, after, gm) if stands else None
    wall = wall_sided_heel_rad(moment, after, gm, bm) if stands and bm is not None else None
    roll = None
    if heel is not None and np.all(gm_before > 0.0):
        roll = first_roll_rad(heel, gm_before, 0.0, other / before)
    return Afloat(
        before,
        after,
        np.asarray(gm_before),
        np.asarray(gm),
        moment,
        heel,
        wall,
        _freeboard_m(lift, load, after, heel),
        roll,
    )


def _freeboard_m(lift: VesselLift, load: Array, after: Array, heel: Array | None) -> Array | None:
    """Return the freeboard at the low corner; None while freeboard, beam, waterplane or trim is not known."""
    vessel, head = lift.vessel, lift.head
    if heel is None or vessel.freeboard_m is None or vessel.beam_m is None or vessel.waterplane_m2 is None:
        return None
    taken = load + sum(item.mass_kg for item in vessel.aboard or ())
    left = vessel.freeboard_m - sinkage_m(taken, vessel.water_kg_m3, vessel.waterplane_m2)
    left = left - edge_drop_m(vessel.beam_m, np.abs(heel))
    if head.x_m is None or vessel.corner_m is None or (vessel.gm_long_m is None and head.x_m != 0.0):
        return None
    if head.x_m != 0.0 and vessel.gm_long_m is not None:
        left = left - vessel.corner_m * np.tan(trim_rad(load, head.x_m, after, vessel.gm_long_m))
    return np.asarray(left)


def why_no_freeboard(lift: VesselLift) -> str:
    """Say what the freeboard at the low corner needs that is not known."""
    vessel, head = lift.vessel, lift.head
    asked = {
        "freeboard upright": vessel.freeboard_m,
        "beam": vessel.beam_m,
        "waterplane area": vessel.waterplane_m2,
        "place of the head along the vessel": head.x_m,
        "distance of the low corner from the centre of flotation": vessel.corner_m,
        "GM along (for the trim)": vessel.gm_long_m if head.x_m != 0.0 else 0.0,
    }
    missing = [name for name, value in asked.items() if value is None]
    return f"not known: {', '.join(missing)}" if missing else "the heel is not known"
