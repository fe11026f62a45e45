"""The rules a cradle is checked by, and what is said with every answer."""

from __future__ import annotations

from oakum.lift.checks import Rule

BEARING = Rule(
    "cradle-bearing",
    "mean pressure W / A at most what the conservator allows for this surface",
    "the user's own limit; none is generally accepted for degraded wood",
    mark="practice, no source",
)
STRAP = Rule(
    "cradle-strap",
    "a strap presses with its tension over radius and width, T / (r b)",
    "equilibrium of a belt on a cylinder",
    mark="own calculation",
)
SAG = Rule(
    "cradle-sag",
    "the sag is at most what was said the find bears",
    "the user's own limit",
    mark="practice, no source",
)
STRIP = Rule(
    "cradle-strip",
    "stress of a strip between two bars, q s^2 / 8 over t^2 / 6; of a limp sheet q s^2 / (8 d t)",
    "elementary beams and membranes",
    mark="own calculation",
)
SLIDE = Rule(
    "cradle-slide",
    "friction, blocks and lashings hold the sideways force: blocks and lashings bear c_h - mu c_v times the weight",
    "EN 12195-1, blocking",
    "EU",
    "memory, verify",
)
TIP = Rule(
    "cradle-tip",
    "it stands while c_h times the height of its centre is at most c_v times its distance from the edge",
    "EN 12195-1, 5.2, unlashed load; equilibrium of a rigid body",
    "EU",
    "own calculation",
)
DEFLECTION = Rule(
    "cradle-deflection",
    "the frame sags at most what was said the find bears, creep counted for loads that last",
    "EN 1995-1-1, 2.2.3 for creep; the limit is the user's own",
    mark="practice, no source",
)
POINT = Rule(
    "cradle-lifting-point",
    "the tag of the fitting governs the lifting point",
    "29 CFR 1910.184 and Machinery Directive 2006/42/EC, Annex I 4.3",
    "US, EU",
    "memory, verify",
)

SOFT_WOOD = (
    "No allowable pressure for degraded wood is generally accepted; a cautious start in practice is 5 to 10 kPa (no "
    "source): press a test piece on site, and let the conservator say the number."
)

CAUTIONS = (
    "Planning support only: the conservator, local codes and a competent person in charge govern the cradle.",
    SOFT_WOOD,
    "Support it all along: a gap under a soft find is a load on its edges; look under it before every move.",
    "Never lift by the find's own parts, and put no steel on it.",
    "Closed-cell foam shrinks at depth and swells on the way up: what is snug below presses above.",
    "Wet timber has no reserve: look at every member and joint again after the first lift.",
)

ASSUMPTIONS = (
    "Members are straight, of one section, and bend as Euler-Bernoulli beams; shear deformation is not counted.",
    "Crossing members are fast to each other up and down and turn freely; torsion is not counted.",
    "Strength on the 95th percentile of the weight, times the load factor and the vertical factor of each state.",
    "Timber is taken wet, and of each edition of the strength classes the one that gives the stricter answer.",
    "Fastenings are not checked: the forces in the joints are given for whoever chooses bolts and screws.",
)
