"""The trial lift: what the load cell must show, in its own unit, and what it means if it does not."""

from __future__ import annotations

from oakum.ground.estimate import weighted_quantile
from oakum.lift.raising.cell import cell_text, in_cell_unit, outward, sensible_step
from oakum.lift.raising.loads import Draw
from oakum.lift.raising.plan import TrialLift
from oakum.lift.raising.rig_plan import RigPlan

HEIGHT_M = (0.3, 0.5)
HOLD_S = 600.0
"""A trial lift goes 0.3 to 0.5 m up and hangs ten minutes (practice, no source)."""


def trial_lift(rig: RigPlan, draw: Draw, light: Draw | None = None) -> TrialLift | None:
    """Return the band of the trial lift, bags empty; None where no load cell's unit or no hook is known.

    The band holds 9 in 10 of the hook loads under water with the rigging, rounded outward to what the cell
    can be read to. `light` are the draws by the lesser of readings that disagree: the band then begins there.
    """
    if not rig.cell_unit or rig.hook is None:
        return None
    least = light or draw
    low_kg = float(weighted_quantile(least.hook_water_kg, 0.05, least.weights))
    high_kg = float(weighted_quantile(draw.hook_water_kg, 0.95, draw.weights))
    unit = rig.cell_unit
    low, high = in_cell_unit(low_kg, unit), in_cell_unit(high_kg, unit)
    step = (
        sensible_step(high - low, high)
        if rig.work.cell_step_kg is None
        else in_cell_unit(rig.work.cell_step_kg, unit)
    )
    low, high = outward(low, high, step)
    said_low, said_high = cell_text(low, unit, step), cell_text(high, unit, step)
    return TrialLift(
        unit=unit,
        low=low,
        high=high,
        height_m=rig.work.trial_height_m or HEIGHT_M,
        hold_min=(rig.work.trial_hold_s or HOLD_S) / 60.0,
        above=f"above {said_high} stop: held by the bed, or heavier than thought",
        below=f"below {said_low} stop: a part was left behind, or a bag lifts",
    )


def trial_words(trial: TrialLift) -> str:
    """Say the trial lift in the one line the deck needs."""
    low, high = trial.height_m
    height = f"{low:g} m" if low == high else f"{low:g} to {high:g} m"
    return (
        f"{height} up, expect {trial.low:,g} to {trial.high:,g} {trial.unit}, hold {trial.hold_min:g} min; "
        f"{trial.above}; {trial.below}"
    )
