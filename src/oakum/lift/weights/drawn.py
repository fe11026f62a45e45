"""Draws of every part: volume, mass and centre as arrays over the draws, by closed forms.

A part gives one *term* for its stuff (less its holes), one for its coat, one for each hollow's filling. Terms
add up; whatever the weighing needs is a sum over them.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.ground.estimate import Draws
from oakum.ground.solids import Mesh, Ring, Solid
from oakum.ground.solids.mesh_coat import coat_moments
from oakum.lift.body.likely_solid import shape_words
from oakum.lift.body.model import Body, Coat, Part, SedimentFill, WaterFill
from oakum.lift.body.overlap import share_inside
from oakum.lift.body.placing import Point, copies, turned, turning
from oakum.lift.body.shapes import solid_of
from oakum.lift.body.stuff import Setting, density_kg_m3, setting, stuff_words

Array = NDArray[np.float64]
Dim = float | Array
Outline = tuple[str, str]  # part name and "solid" or "coat": which surface bounds a volume


@dataclass(frozen=True, slots=True)
class Lot:
    """A volume (m3) with its centre (m), and the signed volumes inside each outline that make it up."""

    volume: Dim
    centre: Point
    pieces: tuple[tuple[Outline, Dim], ...]

    def times(self, share: float) -> Lot:
        """Return a share of this lot, its centre unmoved."""
        return Lot(self.volume * share, self.centre, tuple((line, v * share) for line, v in self.pieces))

    def less(self, others: list[Lot]) -> Lot:
        """Return this lot with others taken out of it."""
        if not others:
            return self
        volume = self.volume - sum(o.volume for o in others)
        moments = tuple(
            self.centre[i] * self.volume - sum(o.centre[i] * o.volume for o in others) for i in range(3)
        )
        pieces = self.pieces + tuple((line, -v) for o in others for line, v in o.pieces)
        return Lot(volume, _divided(moments, volume, self.centre), pieces)


@dataclass(frozen=True, slots=True)
class Term:
    """One line of the sum. Arrays over the draws, or floats where nothing has a spread; kg, m3, m."""

    name: str
    role: str
    shape: str
    material: str
    volume_m3: Dim
    mass_kg: Dim
    centre_m: Point
    pieces: tuple[tuple[Outline, Dim], ...]
    part: Part
    fill: WaterFill | SedimentFill | None = None


@dataclass(frozen=True, slots=True)
class Drawn:
    """All terms of a body with the draws of its water."""

    body: Body
    draws: Draws
    water_kg_m3: Dim
    terms: tuple[Term, ...]

    def full(self, values: Dim) -> Array:
        """Return values as an array (n,)."""
        return np.broadcast_to(np.asarray(values, dtype=np.float64), (self.draws.n,))


def draw(body: Body, draws: Draws) -> Drawn:
    """Return every term of the body. Raises `SolidError` where a draw gives an impossible solid."""
    shared = setting(body, draws)
    solids = {p.name: part_solid(p, shared) for p in body.parts}
    lots = {p.name: _lot(p, solids[p.name], shared) for p in body.parts}
    terms: list[Term] = []
    for part in body.parts:
        holes = [lots[h.name] for h in body.parts if h.hole_in == part.name]
        if part.hole_in is None and part.fill is None and part.stuff is not None:
            terms.append(_stuff_term(part, lots[part.name].less(holes), shared))
        if part.coat is not None:
            terms.append(_coat_term(part, part.coat, solids[part.name], shared))
    standing = {t.name: t for t in terms}
    water = body.water.density_kg_m3.best
    for part in body.parts:
        if part.fill is None:
            continue
        taken = [
            Lot(t.volume_m3, t.centre_m, t.pieces).times(share_inside(body.part(name), part, water))
            for name in part.less
            for t in (standing.get(name), standing.get(coat_name(name)))
            if t is not None
        ]
        terms.append(_fill_term(part, part.fill, lots[part.name].less(taken), shared))
    return Drawn(body, draws, shared.water_kg_m3, tuple(terms))


def coat_name(part_name: str) -> str:
    """Return the name of the line for a part's coat."""
    return f"{part_name}, coat"


def grown(solid: Solid, coat: Coat, thickness_m: Dim) -> tuple[Solid, Dim]:
    """Return the outside of a coat, and how far its base lies below the part's base, metres."""
    if coat.over == "outside" and isinstance(solid, Ring):
        return Ring(solid.outer_radius_m + thickness_m, solid.inner_radius_m, solid.height_m), 0.0
    if coat.over == "sides":
        return solid.grown(thickness_m, ends=False), 0.0
    return solid.grown(thickness_m), 0.0 if isinstance(solid, Mesh) else thickness_m


def _outside(solid: Solid, coat: Coat, thickness_m: Dim) -> tuple[Dim, Point]:
    """Return volume and centre of the outside of a coat, in the part's own frame."""
    if isinstance(solid, Mesh):
        return coat_moments(solid, thickness_m)
    outside, below = grown(solid, coat, thickness_m)
    x, y, z = outside.centroid_m()
    return outside.volume_m3(), (x, y, z - below)


def part_solid(part: Part, shared: Setting) -> Solid:
    """Return a part's solid over the draws; `SolidError` where its spread allows an impossible one."""
    values = {
        name: shared.of(estimate) if name in ("mass", "volume", "scale") else shared.length(estimate)
        for name, estimate in part.shape.dimensions
    }
    if part.shape.kind == "lump" and "mass" in values:
        if part.stuff is None:
            raise ValueError(f"{part.name}: a lump given by its mass needs a material with a density")
        values = {"volume": values["mass"] / density_kg_m3(part.stuff, shared)}
    return solid_of(part.shape, values)


def _lot(part: Part, solid: Solid, shared: Setting) -> Lot:
    """Return volume and centre of all copies of a part's solid."""
    stretch: Dim = 1.0
    for name, estimate in part.shape.dimensions:
        if name == "scale":
            stretch = shared.of(estimate)
    volume = solid.volume_m3() * stretch**3 * part.count
    x, y, z = solid.centroid_m()
    own = (x * stretch, y * stretch, z * stretch)
    return Lot(volume, _middle(part, own, shared), (((part.name, "solid"), volume),))


def _middle(part: Part, own: Point, shared: Setting) -> Point:
    """Return the mean place, over all copies, of a point of the part's own frame."""
    place = part.place
    origin = (shared.length(place.x_m), shared.length(place.y_m), shared.length(place.z_m))
    return copies(part.repeat).middle(turned(turning(part), own, origin), shared.scale)


def _stuff_term(part: Part, net: Lot, shared: Setting) -> Term:
    assert part.stuff is not None
    mass = density_kg_m3(part.stuff, shared) * net.volume
    words = shape_words(part, shared.body.water.density_kg_m3.best)
    return Term(
        part.name, part.role, words, stuff_words(part.stuff), net.volume, mass, net.centre, net.pieces, part
    )


def _coat_term(part: Part, coat: Coat, solid: Solid, shared: Setting) -> Term:
    """Return the line of a coat: outside less part, times the share of the surface that carries it."""
    thickness = shared.length(coat.thickness_m)
    covers = shared.of(coat.covers) * part.count
    inner = solid.volume_m3()
    ci = solid.centroid_m()
    outer, co = _outside(solid, coat, thickness)
    moments = tuple(co[i] * outer - ci[i] * inner for i in range(3))
    own = _divided(moments, outer - inner, ci)
    volume = (outer - inner) * covers
    pieces = (((part.name, "coat"), outer * covers), ((part.name, "solid"), -inner * covers))
    centre = _middle(part, own, shared)
    mass = density_kg_m3(coat.stuff, shared) * volume
    where = {"all": "all round", "sides": "on the sides", "outside": "on the outer face"}[coat.over]
    words = f"coat about {1000 * float(np.median(thickness)):.0f} mm thick {where}"
    return Term(
        coat_name(part.name), "concretion", words, stuff_words(coat.stuff), volume, mass, centre, pieces, part
    )


def _fill_term(part: Part, fill: WaterFill | SedimentFill, net: Lot, shared: Setting) -> Term:
    words = shape_words(part, shared.body.water.density_kg_m3.best)
    if isinstance(fill, WaterFill):
        role, material, density = "trapped water", "water", shared.water_kg_m3
    else:
        role, material = "sediment", stuff_words(fill.stuff)
        density = density_kg_m3(fill.stuff, shared)
    return Term(
        part.name, role, words, material, net.volume, density * net.volume, net.centre, net.pieces, part, fill
    )


def _divided(moments: tuple[Dim, ...], volume: Dim, otherwise: Point) -> Point:
    """Return moments / volume; where there is no volume (a coat 0 mm thick) the centre does not matter."""
    none = np.abs(volume) < 1e-15
    x, y, z = (
        np.where(none, o, m / np.where(none, 1.0, volume)) for m, o in zip(moments, otherwise, strict=True)
    )
    return x, y, z
