"""The rules a turning is checked by, and what is said with every one."""

from __future__ import annotations

from oakum.lift.checks import Rule

BALANCE = Rule(
    "turning-moment",
    "the pull times its arm about the edge balances the weight times the hanging point's arm",
    "equilibrium of a rigid body turned slowly",
    mark="own calculation",
)
FRICTION = Rule(
    "turning-friction",
    "the edge stays where it is while the bed's friction is more than its sideways over its upright force",
    "Coulomb friction",
    mark="own calculation",
)
BEARING = Rule(
    "turning-bearing",
    "two bearing points share the weight as its arms to them",
    "statics of a beam on two supports",
    mark="own calculation",
)
BLOCK = Rule(
    "turning-anchor",
    "an anchor whose block turns the line bears up to twice the pull",
    "equilibrium of a block",
    mark="own calculation",
)
CHOCK = Rule(
    "turning-chock",
    "a chock holds until the push turns the roller over the chock's upper edge",
    "equilibrium of a rigid roller on a square-edged chock",
    mark="own calculation",
)

ASSUMPTIONS = (
    "Suction and breakout at the bed are not included: dig and let water in under it until nothing holds.",
    "It turns slowly: no drag and no water that has to be moved is counted.",
    "The body is stiff and turns on its edge as seen from the side; the bed is level and does not give way.",
    "Weights are under water; as soon as any of it leaves the water they no longer hold.",
    "Lines weigh nothing and do not rub on the body.",
)

CAUTIONS = (
    "Planning support only: a competent person in charge governs the turning, and stops it.",
    "Nobody on the side it turns towards, under it, or between it and its frame or a taut line.",
    "Past its balance it goes by itself: the holding line is fast and taut before that, not made fast then.",
    "Never pull on the object's own handles, spokes or trunnions; spread the pull with a wide soft strop.",
    "The whole weight stands on one edge while it turns: pad it, and ask the conservator what the edge bears.",
)

BAG_GROWS = (
    "A bag that rises with the body gains about a tenth of its lift for each metre at 0 m, a twentieth at 10 m "
    "and a thirtieth at 20 m: fill it less, or keep it full and spilling."
)
