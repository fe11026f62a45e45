"""The cutting list: what to saw, how many, at which angle, from which stock; and lines and joints for the drawing."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from oakum.lift.cradle.errors import CradleError, positive
from oakum.lift.cradle.frame import Array, Frame, Member, Point
from oakum.lift.cradle.joints import Joint, joints

_SQUARE_DEG = 0.5
_Group = tuple[str, str, float, float, float, bool | None]


@dataclass(frozen=True, slots=True)
class CutLine:
    """One line: `count` pieces `length_m` long over their long points, sawn off square by these angles at the ends.

    `parallel`: both slanted cuts lean the same way; False: against each other; None: at most one is slanted.
    """

    material: str
    section: str
    length_m: float
    start_off_deg: float
    end_off_deg: float
    parallel: bool | None
    count: int
    members: tuple[str, ...]

    @property
    def words(self) -> str:
        """Say it as it is read out at the saw."""
        both = (self.start_off_deg, self.end_off_deg)
        square = "square ends"
        if any(both):
            square = "ends " + " and ".join(f"{a:.0f}° off square" if a else "square" for a in both)
        if self.parallel is not None:
            square += ", cuts parallel" if self.parallel else ", cuts leaning against each other"
        return (
            f"{self.count} x {self.section} {self.material}, {1000.0 * self.length_m:,.0f} mm, {square} "
            f"({', '.join(self.members)})"
        )


@dataclass(frozen=True, slots=True)
class StockUse:
    """One bought length and what is sawn from it; `left_m` is the rest after the saw cuts."""

    section: str
    material: str
    stock_m: float
    pieces_m: tuple[float, ...]
    left_m: float


@dataclass(frozen=True, slots=True)
class CuttingList:
    """Lines, total length by section and material, stock to buy, and what could not be planned."""

    lines: tuple[CutLine, ...]
    totals_m: tuple[tuple[str, str, float], ...]  # section, material, total length
    stock: tuple[StockUse, ...]
    objections: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class MemberLine:
    """A member as the assembly drawing shows it: axis, sizes, and its line in the cutting list."""

    name: str
    kind: str
    section: str
    start_m: Point
    end_m: Point
    width_m: float
    depth_m: float
    piece: int  # from 1, the line of the cutting list


@dataclass(frozen=True, slots=True)
class Assembly:
    """Everything an assembly drawing needs: member lines, joints with their names, the order to put it together."""

    members: tuple[MemberLine, ...]
    joints: tuple[Joint, ...]
    order: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class EndCuts:
    """How far off square start and end are sawn, and whether both cuts are parallel (None: at most one is slanted)."""

    start_off_deg: float
    end_off_deg: float
    parallel: bool | None


def end_cuts(member: Member, frame: Frame, met: tuple[Joint, ...]) -> EndCuts:
    """Return the cuts at a member's ends: slanted where it ends on another member that does not cross it square."""
    off = [0.0, 0.0]
    against: list[Array | None] = [None, None]
    for joint in met:
        if member.name not in (joint.first, joint.second) or joint.how != "butts":
            continue
        other = frame.member(joint.other(member.name))
        size = max(other.section.width_m, other.section.depth_m)
        at = joint.at_m(member.name)
        for end, near in ((0, at < size), (1, at > member.length_m - size)):
            slant = 90.0 - joint.angle_deg
            if (
                near
                and slant > off[end] + _SQUARE_DEG
                and not _ends_on(other, joint.at_m(other.name), member)
            ):
                off[end], against[end] = slant, other.way
    first, second = against
    parallel = None if first is None or second is None else abs(float(first @ second)) > 0.99
    return EndCuts(off[0], off[1], parallel)


def _ends_on(other: Member, at_m: float, member: Member) -> bool:
    """Whether the other member is the one that ends here: then that one is sawn, not this."""
    size = max(member.section.width_m, member.section.depth_m)
    return (at_m < size or at_m > other.length_m - size) and other.kind == "brace" and member.kind != "brace"


def cutting_list(frame: Frame, stock_m: Mapping[str, tuple[float, ...]], kerf_m: float | None) -> CuttingList:
    """Return the cutting list. `stock_m`: lengths on sale by section (its words); `kerf_m`: width of the saw cut.

    A piece is as long as its axis and half its depth times the tangent of each slanted end: over the long points.
    Stock is planned by first fit, longest pieces first. No stock or saw cut for a section is an objection.
    """
    met = joints(frame)
    groups: dict[_Group, list[str]] = {}
    for member in frame.members:
        cuts = end_cuts(member, frame, met)
        across = 0.5 * max(member.section.width_m, member.section.depth_m)
        slants = (cuts.start_off_deg, cuts.end_off_deg)
        length = member.length_m + across * sum(math.tan(math.radians(a)) for a in slants)
        low, high = sorted(round(a, 1) for a in slants)
        key = (member.section.words, member.material.name, round(length, 3), low, high, cuts.parallel)
        groups.setdefault(key, []).append(member.name)
    lines = tuple(
        CutLine(material, section, length, start, end, parallel, len(names), tuple(names))
        for (section, material, length, start, end, parallel), names in sorted(
            groups.items(), key=lambda g: g[0][:3]
        )
    )
    totals: dict[tuple[str, str], float] = {}
    for line in lines:
        totals[line.section, line.material] = (
            totals.get((line.section, line.material), 0.0) + line.count * line.length_m
        )
    said: list[str] = []
    stock: list[StockUse] = []
    if kerf_m is None:
        said.append("the width of the saw cut is not known: no stock is planned")
    else:
        for section, material in totals:
            lengths = stock_m.get(section)
            if not lengths:
                said.append(f"{section} {material}: not known which lengths are on sale; no stock is planned")
                continue
            pieces = [
                x.length_m
                for x in lines
                if (x.section, x.material) == (section, material)
                for _ in range(x.count)
            ]
            try:
                stock += _planned(section, material, pieces, lengths, kerf_m)
            except CradleError as error:
                said.append(str(error))
    return CuttingList(lines, tuple((s, m, t) for (s, m), t in totals.items()), tuple(stock), tuple(said))


def _planned(
    section: str, material: str, pieces: list[float], lengths: tuple[float, ...], kerf_m: float
) -> list[StockUse]:
    """Return the plan that buys least: first fit with each stock length in turn."""
    if kerf_m < 0.0:
        raise CradleError("a saw cut is 0 mm wide or more")
    for length in lengths:
        positive(f"a stock length of {section}", length, "m")
    longest = max(pieces)
    fitting = [s for s in lengths if s >= longest - 1e-9]
    if not fitting:
        raise CradleError(
            f"{section} {material}: a piece of {longest:.3f} m is longer than any on sale ({max(lengths):g} m); it "
            "would need a scarf, which is not checked"
        )
    plans = [_first_fit(pieces, s, kerf_m) for s in fitting]
    bought, plan = min(zip(fitting, plans, strict=True), key=lambda p: (p[0] * len(p[1]), p[0]))
    return [
        StockUse(section, material, bought, tuple(p), max(bought - sum(p) - kerf_m * len(p), 0.0))
        for p in plan
    ]


def _first_fit(pieces: list[float], stock_m: float, kerf_m: float) -> list[list[float]]:
    bins: list[list[float]] = []
    for piece in sorted(pieces, reverse=True):
        for used in bins:
            if sum(used) + piece + kerf_m * len(used) <= stock_m + 1e-9:
                used.append(piece)
                break
        else:
            bins.append([piece])
    return bins


def assembly(frame: Frame) -> Assembly:
    """Return lines, joints and order of the assembly drawing: runners first, then bearers, posts, rails, braces."""
    lines = cutting_list(frame, {}, None).lines
    piece = {name: i for i, line in enumerate(lines, start=1) for name in line.members}
    order = {kind: i for i, kind in enumerate(("runner", "bearer", "post", "rail", "brace"))}
    ranked = sorted(frame.members, key=lambda m: (order[m.kind], *np.minimum(m.start_m, m.end_m).tolist()))
    members = tuple(
        MemberLine(
            m.name, m.kind, m.section.words, m.start_m, m.end_m, m.section.width_m, m.section.depth_m, piece[m.name]
        )
        for m in frame.members
    )  # fmt: skip
    return Assembly(members, joints(frame), tuple(m.name for m in ranked))
