"""Which rules govern a rig: the user chooses, and every choice names its source and country."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from oakum.lift.checks import Rule
from oakum.lift.slings import rules

Sharing = Literal["bound", "elastic", "skew", "set EU", "set US"]
"""How the load is taken to be shared between the legs."""

Hitches = Literal["EU", "US"]
"""Whose factors for choke and basket hitch are used."""

SHARING: dict[Sharing, Rule] = {
    "bound": rules.BOUND,
    "elastic": rules.ELASTIC,
    "skew": rules.SKEW,
    "set EU": rules.SET_EU,
    "set US": rules.SET_US,
}


@dataclass(frozen=True, slots=True)
class Ruling:
    """The user's choice of rules.

    `sharing`: "bound" takes the greatest force that statics allows in each leg and holds for any stiffness and
    any misfit of length; the others are less strict, have conditions, and fall back to the bound with an
    objection where these are not met.
    """

    sharing: Sharing
    hitches: Hitches

    @property
    def rule(self) -> Rule:
        """The rule by which the load is shared."""
        return SHARING[self.sharing]
