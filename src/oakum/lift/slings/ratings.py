"""What a leg or a fitting bears: the WLL on its tag times the factors of the way it is used."""

from __future__ import annotations

import math
from dataclasses import dataclass

from oakum.lift.checks import Rule
from oakum.lift.slings import factors, rules, tables
from oakum.lift.slings.errors import SlingError
from oakum.lift.slings.factors import Factor
from oakum.lift.slings.legs import Fitting, Leg
from oakum.lift.slings.ruling import Hitches

_TABLES = {
    "natural fibre rope": ("natural_fibre_rope", "vertical", rules.FIBRE_TABLE),
    "chain grade 80": ("chain_grade_80", "single", rules.CHAIN_TABLE),
}


@dataclass(frozen=True, slots=True)
class Rating:
    """A capacity in kg, None where it is not known and 0 where the use is not allowed.

    `words` show how it came about; `rule` is that of the severest factor. `objections` and `questions` are
    sentences about this piece.
    """

    capacity_kg: float | None
    words: str
    rule: Rule
    factors: tuple[Factor, ...] = ()
    objections: tuple[str, ...] = ()
    questions: tuple[str, ...] = ()


class _Piece:
    """Collects factors and sentences about one piece of gear."""

    def __init__(self, name: str, wll_kg: float | None) -> None:
        self.name = name
        self.wll_kg = _checked(name, wll_kg)
        self.factors: list[Factor] = []
        self.objections: list[str] = []
        self.questions: list[str] = []
        self.unknown = wll_kg is None
        self.forbidden: Rule | None = None
        self.listed: Factor | None = None

    def times(self, factor: Factor | None, refusal: str, rule: Rule) -> None:
        """Take a factor, or note why this use is not allowed."""
        if factor is not None:
            self.factors.append(factor)
            return
        self.objections.append(f"{self.name}: {refusal}")
        self.forbidden = rule

    def missing(self, what: str) -> None:
        """Note something without which there is no rating."""
        self.objections.append(f"{self.name}: {what}")
        self.unknown = True

    def rating(self) -> Rating:
        """Return the rating."""
        notes = (tuple(self.objections), tuple(self.questions))
        if self.forbidden is not None:
            return Rating(0.0, "not allowed in this use", self.forbidden, tuple(self.factors), *notes)
        if self.wll_kg is None or self.unknown:
            return Rating(None, "no rating", rules.TAG, tuple(self.factors), *notes)
        used = [*([self.listed] if self.listed else []), *self.factors]
        capacity = self.wll_kg * math.prod(f.value for f in used)
        words = f"WLL {self.wll_kg:,.0f} kg" + "".join(f" × {f.value:.2f} ({f.words})" for f in used)
        severest = min(used, key=lambda f: f.value, default=None)
        rule = severest.rule if severest is not None and severest.value < 1.0 else rules.TAG
        return Rating(capacity, words, rule, tuple(used), *notes)


def leg_rating(leg: Leg, book: Hitches) -> Rating:
    """Return what a leg bears along its own line in the hitch it is used in."""
    piece = _Piece(f'leg "{leg.name}"', leg.wll_kg)
    if leg.wll_kg is None:
        piece.missing("no WLL known; no tag, no rating" + _hint(leg))
    _hitch(leg, book, piece)
    _bend(leg, piece)
    if leg.kind == "polyamide":
        piece.times(factors.wet_polyamide(), "", rules.WET)
    if leg.kind == "other":
        piece.questions.append(
            f"{piece.name}: what it is made of is not said; no factor of material is taken"
        )
    if leg.wll_kg is not None:
        _compare(leg, leg.wll_kg, piece)
    return piece.rating()


def fitting_rating(fitting: Fitting, off_line_deg: float | None) -> Rating:
    """Return what a fitting bears when it is pulled `off_line_deg` out of its line, None: not known."""
    piece = _Piece(f'{fitting.kind} "{fitting.name}"', fitting.wll_kg)
    if fitting.wll_kg is None:
        piece.missing("no WLL known; no mark, no rating")
    if fitting.kind in ("welded eye", "ring"):
        if fitting.kind == "welded eye":
            piece.questions.append(
                f"{piece.name}: whether eye, weld and what is behind it stand this pull is for a competent person"
            )
        return piece.rating()
    if off_line_deg is None:
        piece.missing("how far it is pulled out of its line is not known")
        return piece.rating()
    far = f"must not be pulled {off_line_deg:.0f}° out of its line"
    match fitting.kind:
        case "shackle":
            piece.times(factors.shackle(off_line_deg), far, rules.SHACKLE)
        case "shoulder eyebolt":
            piece.times(factors.shoulder_eyebolt(off_line_deg), far, rules.EYEBOLT)
        case "plain eyebolt":
            piece.times(factors.plain_eyebolt(off_line_deg), f"{far}: it has no shoulder", rules.PLAIN_EYE)
        case "swivel eye":
            piece.times(factors.swivel_eye(off_line_deg), far, rules.SWIVEL)
    return piece.rating()


def _hitch(leg: Leg, book: Hitches, piece: _Piece) -> None:
    if leg.wll_for not in ("straight", leg.hitch):
        piece.missing(f"its WLL is for a {leg.wll_for} hitch, it is used {leg.hitch}; type the WLL for that")
        return
    if leg.hitch == "choke":
        if leg.wll_for == "straight":
            piece.factors.append(factors.choke(book))
        if leg.choke_angle_deg is None:
            piece.objections.append(f"{piece.name}: its angle of choke is not known; the worst is taken")
        piece.factors.append(factors.choke_angle(leg.choke_angle_deg or 0.0))
    elif leg.hitch == "basket":
        if leg.basket_deg is None:
            piece.missing("how steep the parts of its basket hitch stand is not known")
            return
        factor = factors.basket(leg.basket_deg, book)
        if factor is not None and leg.wll_for == "basket":  # the tag gives it for parallel parts
            factor = Factor(factor.value / 2.0, factor.words, factor.rule)
        piece.times(
            factor, f"the parts of its basket hitch are too flat at {leg.basket_deg:.0f}°", rules.ANGLE_30
        )


def _bend(leg: Leg, piece: _Piece) -> None:
    bent = leg.hitch != "straight" or leg.bend_diameter_m is not None
    if not bent:
        return
    if leg.kind != "wire rope":
        if leg.bend_diameter_m is not None:
            piece.questions.append(
                f"{piece.name}: bent over {1000 * leg.bend_diameter_m:.0f} mm; ask its maker whether that is enough"
            )
        return
    if leg.bend_diameter_m is None or leg.diameter_m is None:
        piece.missing(
            "how tightly the wire rope is bent is not known; type its diameter and that of the bend"
        )
        return
    factor = factors.bend(leg.bend_diameter_m, leg.diameter_m)
    piece.times(factor, "bent tighter than its own diameter", rules.TOO_TIGHT)


def _compare(leg: Leg, wll_kg: float, piece: _Piece) -> None:
    """Lower a rating to the published table where the tag says more than the table for that size."""
    if leg.kind not in _TABLES:
        return
    if leg.diameter_m is None:
        piece.questions.append(f"{piece.name}: its diameter is not known; its WLL could not be compared")
        return
    name, column, rule = _TABLES[leg.kind]
    row = tables.nearest(name, leg.diameter_m)
    if row is None:
        piece.questions.append(
            f"{piece.name}: thinner than any {leg.kind} in the table; its WLL was not compared"
        )
        return
    straight = wll_kg / 2.0 if leg.wll_for == "basket" else wll_kg
    if row.capacity_kg[column] < straight:
        piece.listed = Factor(
            row.capacity_kg[column] / straight,
            f"{row.capacity_kg[column]:,.0f} kg in the table for {row.size} in",
            rule,
        )
        piece.questions.append(
            f"{piece.name}: the tag says more than the table for {leg.kind} of {row.size} in; which is right?"
        )


def _hint(leg: Leg) -> str:
    """Return what the table says of rope or chain without a tag: no rating, only how little it may be."""
    if leg.kind not in _TABLES or leg.diameter_m is None:
        return ""
    name, column, rule = _TABLES[leg.kind]
    row = tables.nearest(name, leg.diameter_m)
    if row is None:
        return ""
    return f" (the table for {row.size} in says {row.capacity_kg[column]:,.0f} kg at most; {rule.source})"


def _checked(name: str, wll_kg: float | None) -> float | None:
    if wll_kg is not None and not (math.isfinite(wll_kg) and wll_kg > 0.0):
        raise SlingError(
            f"{name}: its WLL must be greater than zero, got {wll_kg:g} kg; leave it empty if not known"
        )
    return wll_kg
