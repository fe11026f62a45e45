"""Where a figure of the dig's sizing comes from."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Basis:
    """A figure or rule in words with its source; `mark` is "read", "memory, verify", "practice, no source" or
    "own calculation".
    """

    words: str
    source: str
    mark: str


@dataclass(frozen=True, slots=True)
class Sized:
    """An order of magnitude: low, likely and high in `unit`, never a promise."""

    what: str
    low: float
    best: float
    high: float
    unit: str


GOVERNS = "Local diving and lifting rules and the diving supervisor govern."
CAUTIONS = (
    "A blocked pipe fills with air and becomes a buoyant missile: tether it and weight it.",
    "The shut-off valve is at the diver's hand.",
    "Hands, hoses and loose lines are kept from the mouth; a guard lies across it.",
    "Tool air and breathing air never come from one receiver.",
    "The compressor's intake is kept away from its exhaust and up wind.",
    "The discharge plume must not fall on divers: lead it down current, off the site and off other squares.",
    GOVERNS,
)
"""Cautions that stand beside every number of an airlift (practice, no source)."""

DREDGE_CAUTIONS = (
    "A blocked dredge still pulls: a hand or a hose in the mouth is held. Guard across it, valve at the diver's hand.",
    "The pump on the vessel is stopped by a signal that was agreed and tried before the dive.",
    "The discharge hose whips when it clears: lay it down current, off the site, and weight it.",
    "Keep people clear of the supply hose under pressure and of its couplings.",
    "The pump's intake is kept off the bed and away from divers; its exhaust away from everybody's air.",
    GOVERNS,
)
"""Cautions that stand beside every number of a dredge (practice, no source)."""
