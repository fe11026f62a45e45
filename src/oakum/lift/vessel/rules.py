"""The rules a vessel is checked by, and what is said with every answer."""

from __future__ import annotations

from oakum.lift.checks import Rule

CHART = Rule(
    "vessel-chart",
    "the load is at most the load chart at the radius with the vessel heeled, straight between its points",
    "the vessel's own papers",
    mark="own calculation",
)
LIST = Rule(
    "vessel-chart-list",
    "the heel is at most the list up to which the load chart holds",
    "the vessel's own papers",
    mark="own calculation",
)
BOOK = Rule("vessel-book", "the vessel's own stability book governs", "the vessel's own papers", mark="read")
RANGE = Rule(
    "vessel-range",
    "tan(heel) = moment / (D GM) holds to 10 degrees, and while the deck edge is out and the bilge in the water",
    "any textbook of ship stability",
    mark="memory, verify",
)
LOST = Rule(
    "vessel-lost-load",
    "the first roll after a sudden loss of the load stays below the heel at which water comes in",
    "energy of a wall-sided vessel without damping",
    mark="own calculation",
)
TOPPING = Rule(
    "vessel-topping-lift",
    "pull of the topping lift at most its WLL",
    "triangle of forces; the tag governs",
    mark="own calculation",
)
BOOM = Rule(
    "vessel-boom",
    "thrust in the boom at most what its papers say",
    "triangle of forces; the papers govern",
    mark="own calculation",
)

ASSUMPTIONS = (
    "The load acts at the head as soon as it is off its support; it does not swing.",
    "Heel by tan(heel) = moment / (D GM) with G raised by the load; KM and BM as without the load.",
    "Free surfaces count as rho l b^3 / (12 D) each; no tank is cross-connected.",
    "The load is carried to the side of the lift as typed; the vessel is moored clear, with no line holding her up.",
    "Sinkage is even; the low corner also goes down by heel and trim.",
    "After a sudden loss she rolls without damping from rest; waves, wind and shifting gear are not counted.",
)

CAUTIONS = (
    "Planning support only: the vessel's own stability book, her master and local rules govern.",
    "Close hatches, doors and scuppers to holds before the lift; a bound on heel is worth nothing with them open.",
    "People weigh too and run to the rail: keep them on the other side, and nobody under boom or load.",
    "Tanks empty or pressed up: a half-full one takes stability away twice.",
    "If the load is lost she rolls to the other side at once: nobody between load, rail and boom, nothing loose.",
    "Measure the heel at the trial lift and stop where it is more than was computed.",
    "Between two radii a chart that follows load moment lies below the straight line; keep to the lower load.",
)
