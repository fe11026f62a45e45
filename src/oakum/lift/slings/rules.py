"""The rules this package uses, each with where it comes from.

What is marked "memory, verify" only ever lowers a rating or adds an objection.
"""

from __future__ import annotations

from oakum.lift.checks import Rule

_ND = "GL Noble Denton 0027/ND rev 11.2 (2016), Guidelines for marine lifting and lowering operations"
_CFR = "29 CFR 1918 Appendix II"

TAG = Rule(
    "tag",
    "the WLL on the tag governs; no tag, no rating",
    "29 CFR 1910.184 and Machinery Directive 2006/42/EC, Annex I 4.3",
    "US, EU",
    "memory, verify",
)
BOUND = Rule(
    "bound",
    "each leg is taken at the greatest force that balance of forces and moments allows, no leg pushing",
    "statics: extreme non-negative solutions",
    "",
    "own calculation",
)
ELASTIC = Rule(
    "elastic",
    "legs share by their stiffness, each out of its length by the tolerance in the worst combination",
    f"statics of springs; calculation of skew loads as asked for in {_ND}, 5.6.13",
    "",
    "own calculation",
)
SKEW = Rule(
    "skew",
    "skew load factor 1.25 on each diagonal pair in turn, matched wire ropes only (length within 2 diameters, "
    "pairs within 1 diameter, longer legs not on one diagonal)",
    f"{_ND}, 5.6.12",
    "marine",
    "read",
)
SET_EU = Rule(
    "set EU",
    "set of legs: 2 legs 1.4 or 1.0, 3 and 4 legs 2.1 or 1.5 times the WLL of one leg, up to 45 or 60 degrees "
    "from the vertical; symmetric loads only",
    "EN 818-4, factors as printed in the Green Pin load chart of chain slings",
    "EU",
    "read",
)
SET_US = Rule(
    "set US",
    "set of legs: 2 legs 2, 3 and 4 legs 3 times the WLL of one leg times the sine of the angle from the "
    "horizontal",
    "OSHA, Guidance on Safe Sling Use, table 1; load chart of Peerless Chain",
    "US",
    "read",
)
SYMMETRIC = Rule(
    "symmetric",
    "a set counts as evenly loaded only up to 80 % of its rating, with legs at least 15 degrees from the "
    "vertical, alike within 15 degrees, and evenly spaced in plan within 15 degrees",
    "EN 818-6, as printed in the Pfeifer manual of grade 8 chain slings, 4.3",
    "EU",
    "read",
)
ONE_LONGER = Rule(
    "one longer",
    "where one leg of a set is longer, two legs are counted",
    "general rule of multi-leg slings",
    "EU, US",
    "memory, verify",
)
ANGLE_30 = Rule(
    "angle 30",
    "no leg flatter than 30 degrees from the horizontal",
    "OSHA, Guidance on Safe Sling Use; EN 818-4: not over 60 degrees from the vertical",
    "US, EU",
    "read",
)
ANGLE_45 = Rule(
    "angle 45",
    "legs at 45 degrees from the horizontal or steeper are recommended",
    "rigging practice",
    "",
    "practice, no source",
)
ANGLE_60 = Rule(
    "angle 60",
    "legs at 60 degrees from the horizontal or steeper are best",
    "rigging practice",
    "",
    "practice, no source",
)
TILT = Rule(
    "tilt",
    "the load hangs no further out of level than was said",
    "the plan's own limit",
    "",
    "practice, no source",
)
CHOKE_EU = Rule(
    "choke EU", "choke hitch 0.8 of the straight pull", "EN 1492 mode factor, trade journal", "EU", "read"
)
CHOKE_US = Rule(
    "choke US", "choke hitch 0.75 of the straight pull", "ASME B30.9, two riggers' guides", "US", "read"
)
CHOKE_ANGLE = Rule(
    "choke angle",
    "angle of choke over 120 degrees 1.00, from 90 0.87, from 60 0.74, from 30 0.62, below 0.49 of the choke "
    "rating",
    "ASME B30.9, as printed in the Uline manual of web slings IS-17880",
    "US",
    "read",
)
BASKET_EU = Rule(
    "basket EU",
    "basket hitch 2 for parallel parts, 1.4 to 45 and 1.0 to 60 degrees from the pull",
    "EN 1492 mode factors",
    "EU",
    "memory, verify",
)
BASKET_US = Rule(
    "basket US",
    "basket hitch twice the straight pull times the sine of the angle of its parts",
    f"{_CFR}, table 2",
    "US",
    "read",
)
BEND = Rule(
    "bend",
    "bent wire rope keeps 1 - 0.5 / sqrt(D/d) of its strength",
    f"{_ND}, 7.8 and table 7-1",
    "marine",
    "read",
)
TOO_TIGHT = Rule(
    "too tight",
    "the body of a rope is never bent tighter than its own diameter",
    f"{_ND}, 7.8.5",
    "marine",
    "read",
)
WET = Rule(
    "wet polyamide",
    "wet polyamide loses 10 to 15 % of its strength; 15 % is taken",
    "fibre makers' guides",
    "",
    "memory, verify",
)
SHACKLE = Rule(
    "shackle side load",
    "shackle pulled out of line: up to 5 degrees 100 %, to 45 degrees 70 %, to 90 degrees 50 %, not beyond",
    "Green Pin catalogue of shackles (0, 45, 90 degrees); classes of angle: WAC 296-155-33905",
    "US, EU",
    "read",
)
EYEBOLT = Rule(
    "shoulder eyebolt",
    "shoulder eyebolt pulled off its axis: up to 5 degrees 100 %, to 15 80 %, to 30 65 %, to 45 30 %, to 90 "
    "25 %, not beyond",
    "trade table after ASME B18.15",
    "US",
    "read",
)
PLAIN_EYE = Rule(
    "plain eyebolt",
    "an eyebolt without shoulder is pulled along its axis only",
    "trade guides after ASME B30.26",
    "US",
    "memory, verify",
)
SWIVEL = Rule(
    "swivel eye", "a swivel eye keeps its WLL up to 90 degrees off its axis", "trade table", "US", "read"
)
FIBRE_TABLE = Rule(
    "natural fibre table",
    "capacity of natural fibre rope where no certificate is at hand, factor of safety 5; here it only lowers",
    f"{_CFR}, table 2",
    "US",
    "read",
)
CHAIN_TABLE = Rule(
    "grade 80 table",
    "working load of grade 80 chain of this size; here it only lowers",
    "Peerless Chain, working load limits; West Coast Wire Rope catalogue, p. 133",
    "US",
    "read",
)
WIRE_EA = Rule(
    "wire rope stiffness",
    "EA of a wire rope from 80,000 N/mm2 on 0.785 d2",
    f"{_ND}, 5.6.13",
    "marine",
    "read",
)
EULER = Rule(
    "Euler",
    "compression at most a third of Euler's buckling force of a pin-ended beam",
    "L. Euler; the factor 3 is rigging practice",
    "",
    "practice, no source",
)
YIELD = Rule(
    "yield",
    "compression at most two thirds of area times yield stress",
    "design practice",
    "",
    "practice, no source",
)
