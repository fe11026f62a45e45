"""A vessel in words: what its papers say, what they leave open, and what its charts bear at a radius."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from oakum.ground.estimate import Spread, spread_of
from oakum.ground.quantities import read, show
from oakum.lift.vessel import LoadChart, VesselPapers, tip_height_m

_DRAWS = 4_000
WATERS = {"sheltered": "sheltered water", "open": "open water", None: "not said in which water"}


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing about a vessel, and what is said of it; None is not known."""

    label: str
    words: str | None


@dataclass(frozen=True, slots=True)
class ChartAt:
    """What one chart says at a radius upright: the load, the load at the next greater radius listed, or why none."""

    chart: LoadChart
    radius_m: float
    load_kg: float | None
    stepped_kg: float | None
    why_not: str | None

    @property
    def words(self) -> str:
        """Say it in a sentence."""
        where = f"{self.chart.name} ({WATERS[self.chart.holds_in]}) at {self.radius_m:.2f} m"
        if self.load_kg is None or self.stepped_kg is None:
            return f"{where}: no load; {self.why_not}"
        factor = self.chart.derating.factor if self.chart.derating is not None else 1.0
        said = f"{where}: {self.load_kg:,.0f} kg straight between two radii, {self.stepped_kg:,.0f} kg at the next one"
        if factor < 1.0:
            said += f"; derated by {factor:g}: {factor * self.load_kg:,.0f} kg"
        return said


def charts_at(papers: VesselPapers, radius: str) -> tuple[ChartAt, ...]:
    """Return what every chart says at a radius as typed ("4.5 m", "15 ft"), upright: a heel makes it longer.

    Raises `QuantityError` for a radius that cannot be read.
    """
    radius_m = read(radius, "length").value
    found = []
    for chart in papers.charts:
        why = chart.why_outside(radius_m)
        load = None if why else float(chart.capacity_kg(radius_m))
        found.append(ChartAt(chart, radius_m, load, None if why else chart.stepped_kg(radius_m), why))
    return tuple(found)


def facts_of(papers: VesselPapers) -> tuple[Fact, ...]:
    """Return the particulars, in the order of the file."""
    v = papers.vessel
    drawn = papers.drawn(_DRAWS, np.random.default_rng(0))
    gm = None if drawn.km_m is None or drawn.kg_m is None else np.asarray(drawn.km_m) - np.asarray(drawn.kg_m)
    return (
        Fact("Class", v.vessel_class),
        Fact("Displacement", _spread(drawn.displacement_kg, "kg")),
        Fact("KG", _spread(drawn.kg_m, "m")),
        Fact("KM", _spread(drawn.km_m, "m")),
        Fact("GM without load and free surfaces", _spread(gm, "m")),
        Fact("Beam", _length(v.beam_m)),
        Fact("Draught", _length(v.draught_m)),
        Fact("Freeboard", _length(v.freeboard_m)),
        Fact("Waterplane", None if v.waterplane_m2 is None else show(v.waterplane_m2, "m2")),
        Fact("BM", _length(v.bm_m)),
        Fact("GM along", _length(v.gm_long_m)),
        Fact("Low corner from the centre of flotation", _length(v.corner_m)),
        Fact("Water comes in at a heel of", None if v.floods_at_deg is None else f"{v.floods_at_deg:g}°"),
        Fact("Free surfaces", _surfaces(papers)),
        Fact("Aboard besides", _aboard(papers)),
        Fact("Boom foot", _pivot(papers)),
        *_derrick(papers),
        Fact("Wind area", _wind(papers)),
    )


def book_facts(papers: VesselPapers) -> tuple[Fact, ...]:
    """Return what is quoted from the stability book; empty where none is."""
    book = papers.vessel.book
    if book is None:
        return ()
    curve = None
    if book.curve is not None:
        where = book.curve.page or "page not said"
        curve = f"{len(book.curve.heel_deg)} points to {book.curve.heel_deg[-1]:g}°, {where}"
    return (
        Fact("Book", book.title),
        Fact("Page", book.page or None),
        Fact("Condition", book.condition or None),
        Fact("Heel at most", None if book.heel_limit_deg is None else f"{book.heel_limit_deg:g}°"),
        Fact("Freeboard at least", _length(book.freeboard_limit_m)),
        Fact("Righting curve", curve),
    )


def chart_facts(chart: LoadChart) -> tuple[Fact, ...]:
    """Return what is said about one load chart besides its points."""
    derating = chart.derating
    said = None if derating is None else f"{derating.factor:g}, {derating.source}"
    if derating is None and chart.holds_in == "open":
        said = "none: the chart is for open water"
    return (
        Fact("Holds in", None if chart.holds_in is None else WATERS[chart.holds_in]),
        Fact("Derating in a seaway", said),
        Fact("Up to a list of", None if chart.list_limit_deg is None else f"{chart.list_limit_deg:g}°"),
        Fact("In the papers at", chart.page or None),
    )


def not_known(papers: VesselPapers) -> tuple[str, ...]:
    """Return what a lift from this vessel would object to, because nobody has said it."""
    v = papers.vessel
    said: list[str] = []
    needed = (("displacement", v.displacement_kg), ("KG", v.kg_m), ("KM", v.km_m))
    if missing := [name for name, value in needed if value is None]:
        said.append(f"{_and(missing)} not known: no heel can be given")
    sizes = (
        ("beam", v.beam_m),
        ("freeboard", v.freeboard_m),
        ("draught", v.draught_m),
        ("waterplane", v.waterplane_m2),
    )
    if missing := [name for name, value in sizes if value is None]:
        said.append(f"{_and(missing)} not known: freeboard and the range of the heel cannot be checked")
    if v.corner_m is None or papers.pivot is None or papers.pivot.x_m is None:
        said.append(
            "not known how far head and low corner are from the centre of flotation: trim is not counted"
        )
    if v.book is None:
        said.append("the vessel's own stability book is not quoted: title, page, condition")
    else:
        said += [
            f"the {what} of the stability book is not said"
            for what in ("page", "condition")
            if not getattr(v.book, what)
        ]
    if v.vessel_class is None:
        said.append("the class of vessel is not said: no published criteria are chosen")
    if v.free_surfaces is None:
        said.append(
            'not known which tanks have a free surface; write free_surface = "none" where there is none'
        )
    if v.aboard is None:
        said.append('not known who and what is aboard besides; write aboard = "none" where nobody is')
    if v.floods_at_deg is None:
        said.append("not known at which heel water comes in: the roll after a lost load cannot be judged")
    return (*said, *_boom_not_known(papers), *_sea_not_known(papers))


def _boom_not_known(papers: VesselPapers) -> list[str]:
    said = [] if papers.charts else ["no load chart: what crane or derrick bears is not known"]
    for chart in papers.charts:
        if chart.holds_in is None:
            said.append(f'chart "{chart.name}": not said whether it holds in sheltered or in open water')
        if chart.list_limit_deg is None:
            said.append(f'chart "{chart.name}": not known up to which list it holds')
        if not chart.page:
            said.append(f'chart "{chart.name}": not said on which page of the papers it is')
    if papers.charts and not any(c.holds_in == "open" or c.derating is not None for c in papers.charts):
        said.append("no chart for open water and no derating: nothing can be lifted in a seaway")
    if papers.pivot is None:
        said.append("not known where the boom foot stands: neither radius nor height of the head follows")
    elif papers.derrick is None and papers.pivot.boom_m is None and papers.pivot.head_height_m is None:
        said.append("not known how high the boom head stands: give boom or head_height in [pivot]")
    if papers.derrick is not None:
        held = (
            ("topping lift bears", papers.derrick.topping_wll_kg),
            ("boom bears", papers.derrick.boom_bears_kg),
            ("runner does along the boom", papers.derrick.runner_parts),
        )
        said += [
            f'derrick "{papers.derrick.name}": not known what the {what}'
            for what, value in held
            if value is None
        ]
    return said


def _sea_not_known(papers: VesselPapers) -> list[str]:
    said = (
        []
        if papers.motions
        else ["no motions: how the boom head moves in waves is not known, and no limit by sea"]
    )
    if papers.wind is None:
        said.append("not known what the wind takes hold of: no limit by wind")
    return said


def _and(names: list[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _spread(values: object, unit: str) -> str | None:
    if values is None:
        return None
    found: Spread = spread_of(np.asarray(values, dtype=np.float64), unit)
    return found.words()


def _length(value_m: float | None) -> str | None:
    return None if value_m is None else show(value_m, "m", 4)


def _surfaces(papers: VesselPapers) -> str | None:
    held = papers.vessel.free_surfaces
    if held is None:
        return None
    return (
        "; ".join(f"{s.name}, {s.length_m:g} by {s.breadth_m:g} m, {s.density_kg_m3:g} kg/m³" for s in held)
        or "none"
    )


def _aboard(papers: VesselPapers) -> str | None:
    held = papers.vessel.aboard
    if held is None:
        return None
    return (
        "; ".join(f"{a.name}, {a.mass_kg:,.0f} kg, {a.height_m:g} m up, {_across(a.y_m)}" for a in held)
        or "none"
    )


def _across(y_m: float) -> str:
    if y_m == 0.0:
        return "on the centreline"
    return f"{abs(y_m):g} m to the {'side of the lift' if y_m > 0.0 else 'other side'}"


def _pivot(papers: VesselPapers) -> str | None:
    pivot = papers.pivot
    if pivot is None:
        return None
    said = f"{_across(pivot.y_m)}, {pivot.height_m:g} m above the keel"
    if pivot.x_m is not None:
        side = "forward" if pivot.x_m > 0.0 else "aft"
        said += f", {abs(pivot.x_m):g} m {side} of the centre of flotation"
    if pivot.side:
        said += f"; lifts to {pivot.side}"
    if pivot.boom_m is not None:
        said += f"; boom {pivot.boom_m:g} m"
    if pivot.head_height_m is not None:
        said += f"; head {pivot.head_height_m:g} m above the keel at every radius"
    return said


def _derrick(papers: VesselPapers) -> tuple[Fact, ...]:
    derrick = papers.derrick
    if derrick is None:
        return ()
    said = f"{derrick.name}, boom {derrick.boom_m:g} m, mast head {derrick.mast_m:g} m over the foot"
    if derrick.topping_wll_kg is not None:
        said += f", topping lift {derrick.topping_wll_kg:,.0f} kg"
    if derrick.boom_bears_kg is not None:
        said += f", boom {derrick.boom_bears_kg:,.0f} kg"
    return (Fact("Derrick", said),)


def _wind(papers: VesselPapers) -> str | None:
    wind = papers.wind
    return None if wind is None else f"{wind.area_m2:g} m², lever {wind.lever_m:g} m, drag {wind.drag:g}"


def head_words(papers: VesselPapers, radius_m: float) -> str | None:
    """Say how high the boom head stands at a radius; None where that is not known or the boom does not reach."""
    pivot = papers.pivot
    boom = papers.derrick.boom_m if papers.derrick is not None else None if pivot is None else pivot.boom_m
    if pivot is None or boom is None or not 0.0 <= radius_m < boom:
        return None
    return f"the boom head stands {pivot.height_m + tip_height_m(boom, radius_m):.1f} m above the keel there"
