"""The plan of a lift: rig file in, weights and the logbook's knowledge beside it, `RaisingPlan` out.

`parse_rig` reads a rig from a TOML text, `raising_plan` puts the plan together, `plan_dict` gives it for JSON.
`with_bags`, `with_hook_height` and `with_longer_legs` are what a slider moves. `compare` sets what happened
against a plan, `read_cell_log` reads a load cell's log, `learn_minutes` and `carry_over` take a lift on to the next.
"""

from oakum.lift.raising.afterwards import (
    Broke,
    Comparison,
    Happened,
    LoadRead,
    MinutesRow,
    ReadRow,
    compare,
    log_notes,
)
from oakum.lift.raising.assemble import raising_plan, solved_before
from oakum.lift.raising.carried import CarriedOver, NotScaled, Scaled, carry_over
from oakum.lift.raising.cell import CELL_UNITS, from_cell_unit, in_cell_unit
from oakum.lift.raising.cell_log import CellLog, Drift, Gap, read_cell_log
from oakum.lift.raising.changes import (
    hook_over_hanging_point,
    with_bags,
    with_hook_height,
    with_longer_legs,
)
from oakum.lift.raising.context import PlanContext
from oakum.lift.raising.errors import RaisingError
from oakum.lift.raising.examples import example_rig
from oakum.lift.raising.gear_use import Use, gear_uses
from oakum.lift.raising.hazards import AUTHORISED_FIRST, EXCLUDED_FIRST
from oakum.lift.raising.minutes import learn_minutes, total_minutes
from oakum.lift.raising.plan import (
    GearItem,
    GoLine,
    Hazard,
    Help,
    RaisingPlan,
    RigView,
    RoleHeld,
    Stage,
    Step,
    TrialLift,
    TurningAnswer,
)
from oakum.lift.raising.plan_json import plan_dict
from oakum.lift.raising.rig_file import RigFileError, parse_rig
from oakum.lift.raising.rig_plan import RigPlan
from oakum.lift.raising.roles import roles_needed
from oakum.lift.raising.solved import Before
from oakum.lift.raising.step_keys import STEP_KEYS
from oakum.lift.raising.trial import trial_words

__all__ = [
    "AUTHORISED_FIRST",
    "CELL_UNITS",
    "EXCLUDED_FIRST",
    "STEP_KEYS",
    "Before",
    "Broke",
    "CarriedOver",
    "CellLog",
    "Comparison",
    "Drift",
    "Gap",
    "GearItem",
    "GoLine",
    "Happened",
    "Hazard",
    "Help",
    "LoadRead",
    "MinutesRow",
    "NotScaled",
    "PlanContext",
    "RaisingError",
    "RaisingPlan",
    "ReadRow",
    "RigFileError",
    "RigPlan",
    "RigView",
    "RoleHeld",
    "Scaled",
    "Stage",
    "Step",
    "TrialLift",
    "TurningAnswer",
    "Use",
    "carry_over",
    "compare",
    "example_rig",
    "from_cell_unit",
    "gear_uses",
    "hook_over_hanging_point",
    "in_cell_unit",
    "learn_minutes",
    "log_notes",
    "parse_rig",
    "plan_dict",
    "raising_plan",
    "read_cell_log",
    "roles_needed",
    "solved_before",
    "total_minutes",
    "trial_words",
    "with_bags",
    "with_hook_height",
    "with_longer_legs",
]
