"""How the boom head moves in this lift: as the rig file says, or as the vessel does at her heading."""

from __future__ import annotations

from dataclasses import dataclass

from oakum.lift.seaway.model import HeaveAndRollSeen, SeaAsked
from oakum.lift.splash import SplashError, TipMotion, heave_and_roll_seen
from oakum.lift.vessel import Head, VesselError, VesselPapers


@dataclass(frozen=True, slots=True)
class TipFound:
    """The motion, None where it is not known, and what stands against it."""

    motion: TipMotion | None
    objections: tuple[str, ...] = ()


def head_of(sea: SeaAsked, papers: VesselPapers | None) -> Head | None:
    """Return where the boom head is at the lift's radius; None where radius or boom is not known."""
    if papers is None or sea.radius_m is None:
        return None
    try:
        return papers.head(sea.radius_m)
    except VesselError:
        return None  # said once, with the vessel


def tip_found(sea: SeaAsked, papers: VesselPapers | None) -> TipFound:
    """Return the motion of the boom head; an unknown one is None with its objection, never nothing."""
    head = head_of(sea, papers)
    if isinstance(sea.tip, HeaveAndRollSeen):
        return _seen(sea.tip, head)
    if sea.tip is not None:
        return TipFound(sea.tip)
    unknown = "the motion of the boom head is not known"
    if papers is None:
        return TipFound(None, (f"{unknown}: it is neither in the rig file nor is there a vessel with her motions",))
    if not papers.motions:
        return TipFound(None, (f'{unknown}: the papers of "{papers.title}" have no motions; write [seaway.tip]',))
    told = ", ".join(f'"{h}"' for h in papers.headings)
    if not sea.heading:
        return TipFound(None, (f"{unknown}: the heading to the waves is not said; her motions are known for {told}",))
    motions = papers.motions_for(sea.heading)
    if motions is None:
        return TipFound(
            None, (f'{unknown} with the heading "{sea.heading}"; her motions are known for {told}',)
        )
    if head is None:
        return TipFound(None, (f"{unknown}: not known how far the boom head is off her centre line",))
    aside = () if head.x_m is not None else (
        "not known how far along the vessel the boom head is: her pitch is not counted in its motion",
    )  # fmt: skip
    try:
        return TipFound(motions.tip(head.y_m, head.x_m or 0.0), aside)
    except (VesselError, SplashError) as error:
        return TipFound(None, (f"{unknown}: {error}",))


def _seen(seen: HeaveAndRollSeen, head: Head | None) -> TipFound:
    lever = seen.lever_m if seen.lever_m is not None else (None if head is None else abs(head.y_m))
    if lever is None:
        return TipFound(
            None,
            (
                "the motion of the boom head is not known: heave and roll were seen, but not how far the head is off "
                "the centre line; give lever in [seaway.tip], or radius and the vessel's boom foot",
            ),
        )
    try:
        return TipFound(
            heave_and_roll_seen(
                (seen.heave_m, seen.heave_s), (seen.roll_deg, seen.roll_s), lever, seen.hs_m, seen.tz_s
            )
        )
    except SplashError as error:
        return TipFound(None, (str(error),))
