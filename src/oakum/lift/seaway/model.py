"""What a lift is asked about its sea: vessel, heading, waves, depth, radius, wind, hoist line.

None, or an empty text, is *not known*; nothing here has a default that counts as an answer.
"""

from __future__ import annotations

from dataclasses import dataclass

from oakum.lift.splash import TipPerHeight, TipStill
from oakum.lift.vessel import Waters


@dataclass(frozen=True, slots=True)
class HeaveAndRollSeen:
    """Heave and roll of the vessel as somebody saw them in a sea: single amplitudes, each with its period.

    `lever_m`: how far the boom head is off the centre line; None is taken from the vessel's papers.
    """

    hs_m: float
    tz_s: float
    heave_m: float
    heave_s: float
    roll_deg: float
    roll_s: float
    lever_m: float | None = None


TipAsked = TipStill | TipPerHeight | HeaveAndRollSeen
"""How the rig file says the boom head moves, where it does not follow the vessel's own motions."""


@dataclass(frozen=True, slots=True)
class SeaPart:
    """What the rig file says of one part of the body in the splash zone, instead of what follows from its shape.

    `plan_m2` seen from below, `waterplane_m2` solid area cut by the surface, `added_kg` added mass, `open_percent`
    of the plan, `drag` and `slam` coefficients, `slam_m2` hit from below. None: by the shape.
    """

    name: str
    plan_m2: float | None = None
    waterplane_m2: float | None = None
    added_kg: float | None = None
    open_percent: float | None = None
    drag: float | None = None
    slam: float | None = None
    slam_m2: float | None = None


@dataclass(frozen=True, slots=True)
class SeaAsked:
    """The sea of a lift, as the rig file's `[seaway]` says it.

    `vessel`: name of the vessel whose papers are read. `heading`: of its motions. `waters` of the lift. `hs_m`,
    `tz_s`: the sea planned in. `periods_s`: mean periods of the limit curve. `depth_m` of the water at the lift,
    `radius_m` of the boom head from the point the load chart counts from. `hoist_m_s`: speed of the line at the
    load. `line_n_m`: stiffness of the hoist line, without the slings; `line_damping` as a share of critical.
    `tip`: None follows the vessel's motions at the heading.
    """

    vessel: str = ""
    heading: str = ""
    waters: Waters | None = None
    hs_m: float | None = None
    tz_s: float | None = None
    periods_s: tuple[float, ...] = ()
    depth_m: float | None = None
    radius_m: float | None = None
    wind_m_s: float | None = None
    hoist_m_s: float | None = None
    line_n_m: float | None = None
    line_damping: float | None = None
    tip: TipAsked | None = None
    parts: tuple[SeaPart, ...] = ()
