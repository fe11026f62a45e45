"""What is said with every set of bags."""

from __future__ import annotations

from oakum.lift.checks import WHO_GOVERNS

CAUTIONS = (
    WHO_GOVERNS,
    "Nobody over, under or attached to the load, nor riding up with it; the diver who fills stands up-current, "
    "clear of every line, and fills from an arm's length or from above the bag's reach.",
    "A bag is never filled from a buoyancy jacket, nor is a jacket used as a bag.",
    "Bags are not used to break a load out of the bed: what pulls against suction is excess lift the moment it "
    "lets go.",
    "A bag's real volume was more than 25 % over its rating in a published case: measure it.",
    "Inspect every strop, ring, shackle and crown fitting before each descent, not only once a day.",
    "Bags and load may surface under the vessel: thrusters and propellers stopped, nobody in the water above.",
)

ASSUMPTIONS = (
    "Bags are filled one after the other; only the last one is partly filled and trims.",
    "Air keeps the temperature of the water while it rises; a fast rise cools it and lifts a little less.",
    "Depths of bags are those of the level where air and water meet inside them.",
    "The rise is straight up in still water; drag of load and bags by one area and one coefficient.",
    "A bag that fills up spills at its mouth or relief valve without delay.",
)


def in_ten(share: float) -> str:
    """Say a share of the draws in words.

    >>> in_ten(0.31), in_ten(0.004), in_ten(1.0)
    ('in about 3 of 10 cases', 'in fewer than 1 of 20 cases', 'in all cases')
    """
    if share >= 1.0:
        return "in all cases"
    if share < 0.05:
        return "in fewer than 1 of 20 cases"
    if share > 0.95:
        return "in more than 19 of 20 cases"
    return f"in about {max(1, min(9, round(10 * share)))} of 10 cases"
