"""The rules of the splash zone, each with its source."""

from __future__ import annotations

from oakum.lift.checks import Rule

_RP = "DNV-RP-H103 (2011) / DNVGL-RP-N103, Modelling and analysis of marine operations"

SLACK_SHARE = 0.9
"""Greatest hydrodynamic force as a share of the least static pull: a tenth stays in the line."""

LEAST_DRAG = 2.5
"""Least drag coefficient in oscillating flow."""

LEAST_SLAM, LEAST_SLAM_ROUND = 5.0, 3.0
"""Least slamming coefficients: any shape, and a smooth cylinder across."""

SMALL_AGAINST_WAVE = 0.2
"""Greatest horizontal size over wave length for which one wave motion stands for the whole body."""

MOST_PERIOD_RATIO = 0.3
"""Period on the line over period of the sea: up to here the line adds less than a tenth to the motion."""

SKIPPER_SHARE = 0.7
SKIPPER_STEP_M = 0.05

SLACK = Rule(
    "splash-slack",
    "the hydrodynamic force is at most 0.9 of the least static pull, or the line goes slack",
    f"{_RP}, 4.4.3",
    mark="memory, verify",
)
HOOK = Rule(
    "splash-hook",
    "static pull and hydrodynamic force together, or the snap where the line goes slack, within the WLL of the hook",
    f"{_RP}, 4.4; snap by the exact peak of one mass on a spring (own calculation)",
    mark="memory, verify",
)
SNAP = Rule(
    "splash-snap",
    "a slack line that comes taut bears W + sqrt(W^2 + v^2 K (M + A))",
    f"energy of one mass on a spring; speed of the snap after {_RP}, 4.7",
    mark="own calculation",
)
PERIODS = Rule(
    "splash-periods",
    "Tz from 8.9 sqrt(Hs/g) to 13 s in steps of 1 s",
    f"{_RP}, 4.3.2",
    mark="read",
)
FORCES = Rule(
    "splash-forces",
    "slamming, drag, varying buoyancy and mass force of each part, combined as sqrt((FD + Fs)^2 + (FM - Fr)^2)",
    f"{_RP}, 4.3.3 to 4.4",
    mark="memory, verify",
)
SMALL_BODY = Rule(
    "splash-small",
    "the body is shorter than a fifth of the wave",
    "validity of Morison's equation, DNV-RP-C205, 6",
    mark="memory, verify",
)
NO_RESONANCE = Rule(
    "splash-resonance",
    "the load's own period on the line is at most 0.3 of the sea's mean period",
    "amplification of a base-excited spring below 1.1",
    mark="own calculation",
)
DESIGN_SHARE = Rule(
    "splash-skipper",
    "the sea in which to begin is at most 0.7 of the sea at which an objection appears",
    "GL Noble Denton 0027/ND rev 5, 5.3.4",
    country="marine",
    mark="read",
)
TIME_SLACK = Rule(
    "splash-time-slack",
    "the line goes slack in none of the seas",
    "one-degree model in time; odds by Clopper and Pearson (1934)",
    mark="own calculation",
)
TIME_HOOK = Rule(
    "splash-time-hook",
    "the greatest line force of 19 seas in 20 is within the WLL of the hook",
    "one-degree model in time; odds by Clopper and Pearson (1934)",
    mark="own calculation",
)
"""Rules, keyed as the checks that use them."""
