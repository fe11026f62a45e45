"""Sentences that stand with every splash-zone answer."""

from __future__ import annotations

from oakum.lift.splash.body import SplashBody
from oakum.lift.splash.line import Line
from oakum.lift.splash.rules import LEAST_DRAG
from oakum.lift.splash.tip import TipMotion

CAUTIONS = (
    "the point where an objection appears is not leave to go: the lift leader, the skipper and the gear's own "
    "papers decide",
    "only up and down motion is looked at; swinging, turning and knocking against the vessel come on top",
    "do not add an amplification factor for lifts in air to these forces",
    "no diver in the water while the load goes through the surface",
)


def assumptions(
    body: SplashBody,
    tip: TipMotion | None,
    line: Line | None,
    hoist_m_s: float | None,
    depth_m: float | None,
) -> tuple[str, ...]:
    """Return what the simplified method assumes of this body."""
    said = [
        "greatest wave 1.8 Hs high with the period Tz; the load follows the boom head up and down",
        "added mass, volume and drag of a part grow evenly over its height as it goes under",
        "deep water" if depth_m is None else f"water {depth_m:g} m deep",
    ]
    if hoist_m_s is None:
        said.append("hoist speed not known: 0.5 m/s taken")
    if tip is not None:
        said.append(tip.words)
    if any(p.drag_coefficient is None or p.drag_coefficient < LEAST_DRAG for p in body.parts):
        said.append(f"drag coefficient {LEAST_DRAG:g} where none or less is given")
    if any(p.slam_coefficient is None for p in body.parts):
        said.append("slamming coefficient 5, for a smooth cylinder across 3, where none is given")
    if body.hollows:
        said.append("hollows full of water for the hook, drained to the surface for the slack line")
    if line is not None and line.damping_ratio is None:
        said.append("damping of the line not known: none taken")
    return tuple(said)
