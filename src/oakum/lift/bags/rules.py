"""The rules the bags are checked by, each with its source."""

from __future__ import annotations

from oakum.lift.checks import Rule

VOLUME_FACTOR = 1.25
"""A bag's real volume may be more than 25 % over its rating: strops and eyes are checked on that."""

MOST_EXCESS = 0.10
"""Excess lift with all bags full, as a share of the submerged weight, above which it is an objection."""

VENT_MARGIN = 0.05
"""Lift to have over the likely weight, so that there is air to let go."""

SUDDEN = 2.0
"""A weight that comes onto a slack line without falling pulls twice itself at first."""

STROPS = Rule(
    "bag-volume",
    "strops and eyes bear the lift of 1.25 times the full volume",
    "IMCA safety flash 11/02, Failure during lift bag operations: a bag held over 25 % more than its rating",
    mark="read",
)
EXCESS = Rule(
    "bag-excess",
    "with all bags full the excess lift is 5 to 10 % of the submerged weight at most",
    "practice of bag lifts",
    mark="practice, no source",
)
LIFT = Rule(
    "bag-lift",
    "the bags lift the likely weight and 5 % more, to have air to vent",
    "practice of bag lifts",
    mark="practice, no source",
)
CROWN_LINE = Rule(
    "bag-crown-line",
    "a line from the crown to an anchor other than the load, shorter than the way to the surface",
    "IMCA safety flash 11/02, Failure during lift bag operations",
    mark="read",
)
CROWN_POINT = Rule(
    "bag-crown-point",
    "main rigging and crown line do not share one pin or strap",
    "IMCA safety event, Uncontrolled ascent: loss of lift bag to surface",
    mark="read",
)
AT_THE_SURFACE = Rule(
    "bag-at-the-surface",
    "an open bag does not carry at the surface: it spills and the load falls back",
    "IMCA safety flash 11/02, Failure during lift bag operations",
    mark="read",
)
BREATHING = Rule(
    "bag-breathing-supply",
    "air for bags never comes from a diver's breathing supply",
    "training pages of diving schools",
    mark="practice, no source",
)
AIR = Rule(
    "bag-air",
    "free air for all bags full at their depth, every fill and its losses counted (Boyle)",
    "Boyle's law; compressibility of air only where it gives less (memory, verify)",
    mark="own calculation",
)
VENT = Rule(
    "bag-vent",
    "the valve lets out what a partly filled bag gains on the way up, at the pause below the surface",
    "orifice flow, discharge coefficient 0.6, any hydraulics text",
    mark="memory, verify",
)
SLACK_LINE = Rule(
    "bag-hook-behind",
    "a hook's slack line that catches the load bears twice what the bags no longer carry",
    "load put suddenly on an elastic line without falling",
    mark="own calculation",
)
