"""Particulars of a vessel file: weights and heights, the stability book, free surfaces, who is aboard, rolling test."""

from __future__ import annotations

from typing import Any

from oakum.ground.estimate import Estimate
from oakum.lift.body.cursor import Cursor
from oakum.lift.body.single import degrees, one, pick, rows
from oakum.lift.vessel.criteria import vessel_classes
from oakum.lift.vessel.errors import VesselError
from oakum.lift.vessel.file_problems import VesselReading
from oakum.lift.vessel.papers import VesselSpread
from oakum.lift.vessel.particulars import Aboard, FreeSurface, StabilityBook, Vessel
from oakum.lift.vessel.righting import RightingCurve
from oakum.lift.vessel.roll_test import LEAST_RUNS, ROLL_FACTORS, RollTest, best_roll_gm_m

SEA_WATER_KG_M3 = 1025.0
"""Stands in `Vessel` until `VesselPapers.drawn` puts the water of the lift in its place."""

_CONSISTENT_M = 0.011  # GM typed beside KM and KG may be out by the rounding of a book


def read_particulars(top: Cursor, title: str, reading: VesselReading) -> tuple[Vessel, VesselSpread]:
    """Return the vessel with its best values, and what its draws are made from."""
    beam = one(top, "beam", "length")
    freeboard, draught = one(top, "freeboard", "length"), one(top, "draught", "length")
    spread = _spread(top, beam, reading)
    _check_heights(top, spread, reading)
    vessel = Vessel(
        name=title,
        displacement_kg=_best(spread.displacement),
        kg_m=_best_kg_m(spread),
        km_m=_best(spread.km),
        beam_m=beam,
        freeboard_m=freeboard,
        draught_m=draught,
        waterplane_m2=one(top, "waterplane", "area"),
        water_kg_m3=SEA_WATER_KG_M3,
        book=_book(top),
        vessel_class=pick(top, "class", vessel_classes()),
        free_surfaces=_free_surfaces(top),
        aboard=_aboard(top),
        bm_m=one(top, "bm", "length"),
        gm_long_m=one(top, "gm_long", "length"),
        corner_m=one(top, "corner", "length"),
        length_m=one(top, "length", "length"),
        depth_m=one(top, "depth", "length"),
        superstructure_m=one(top, "superstructure", "length"),
        floods_at_deg=_above(top, "floods_at"),
    )
    return vessel, spread


def _spread(top: Cursor, beam_m: float | None, reading: VesselReading) -> VesselSpread:
    displacement = top.estimate("displacement", "mass", label="displacement of the vessel", counted=False)
    kg = top.estimate("kg", "length", label="KG of the vessel", counted=False)
    km = top.estimate("km", "length", label="KM of the vessel", counted=False)
    gm = top.estimate("gm", "length", label="GM of the vessel", sign=True, counted=False)
    if gm is not None and gm.best <= 0.0:
        top.problem("gm", f"a GM of {gm.best:.2f} m is not above 0: {_NOT_UPRIGHT}")
        gm = None
    if kg is not None and km is not None and gm is not None:
        off = km.best - kg.best - gm.best
        if abs(off) > _CONSISTENT_M:
            top.problem(
                "gm",
                f"a GM of {gm.best:.2f} m is not KM {km.best:.2f} m less KG {kg.best:.2f} m; look all three up in "
                "the same condition, or give two of them",
            )
    if kg is not None:
        gm = None
    return VesselSpread(displacement, kg, km, gm, _roll_test(top, beam_m))


_NOT_UPRIGHT = (
    "such a vessel does not come back upright. Check KG and KM in the stability book, for the same condition"
)


def _check_heights(top: Cursor, spread: VesselSpread, reading: VesselReading) -> None:
    """Note a GM that cannot be, and ask where papers and rolling test differ or KM is missing."""
    if spread.km is None:
        for what, held in (("the GM", spread.gm), ("the rolling test", spread.roll_test)):
            if held is not None:
                reading.questions.append(
                    f"{what} is given without KM: a load hangs at a height above the keel, so KM is needed beside it"
                )
        return
    papers = None
    if spread.kg is not None:
        papers = spread.km.best - spread.kg.best
        if papers <= 0.0:
            top.problem(
                "kg",
                f"KG {spread.kg.best:.2f} m is not below KM {spread.km.best:.2f} m, so GM is {papers:.2f} m: "
                + _NOT_UPRIGHT,
            )
    elif spread.gm is not None:
        papers = spread.gm.best
    if spread.roll_test is not None and papers is not None:
        timed = best_roll_gm_m(spread.roll_test)
        reading.questions.append(
            f"GM is {papers:.2f} m by the papers and {timed:.2f} m by the rolling test: the lesser counts in every "
            "draw; which holds in the condition of the lift?"
        )


def _best(estimate: Estimate | None) -> float | None:
    return None if estimate is None else float(estimate.best)


def _best_kg_m(spread: VesselSpread) -> float | None:
    heights = [] if spread.kg is None else [float(spread.kg.best)]
    if spread.km is not None:
        km = float(spread.km.best)
        if spread.gm is not None:
            heights.append(km - float(spread.gm.best))
        if spread.roll_test is not None:
            heights.append(km - best_roll_gm_m(spread.roll_test))
    return max(heights, default=None)


def _above(cursor: Cursor, key: str) -> float | None:
    """Return an angle above 0 in degrees."""
    found = degrees(cursor, key)
    if found is not None and found <= 0.0:
        cursor.problem(key, "must be above 0 deg; leave it out where it is not known")
        return None
    return found


def _book(top: Cursor) -> StabilityBook | None:
    cursor = top.table_of("book", "book")
    if cursor is None:
        return None
    title = cursor.text("title", needed="what stands on its cover")
    page, condition = cursor.text("page"), cursor.text("condition")
    heel, freeboard = _above(cursor, "heel_limit"), one(cursor, "freeboard_limit", "length")
    curve = _curve(cursor)
    cursor.finish()
    return StabilityBook(title, page, condition, heel, freeboard, curve) if title else None


def _curve(book: Cursor) -> RightingCurve | None:
    page = book.text("curve_page")
    value = book.raw("curve")
    if value is None:
        return None
    example = 'curve = [{ heel = "0 deg", gz = "0 m" }, { heel = "10 deg", gz = "0.12 m" }, ...]'
    if not isinstance(value, list) or not all(isinstance(row, dict) for row in value):
        book.problem("curve", f"must list heels with their GZ: {example}")
        return None
    heels: list[float] = []
    arms: list[float] = []
    for i, row in enumerate(value):
        inner = Cursor(row, (*book.path, "curve"), book.notes, f"point {i + 1} of the curve")
        heel, gz = degrees(inner, "heel"), one(inner, "gz", "length", sign=True)
        inner.finish()
        if heel is None or gz is None:
            inner.problem("", f"needs heel and gz, as in {example}")
            return None
        heels.append(heel)
        arms.append(gz)
    try:
        return RightingCurve(tuple(heels), tuple(arms), page or book.text("page"))
    except VesselError as error:
        book.problem("curve", str(error))
        return None


def _is_none(top: Cursor, key: str) -> bool:
    value: Any = top.raw(key)
    return isinstance(value, str) and value.strip().lower() == "none"


def _listed(top: Cursor, key: str, what: str) -> list[Cursor] | None:
    """Return the rows of a list; none of them for "none", None where nothing is said."""
    value = top.raw(key)
    if _is_none(top, key):
        return []
    if value is None or (isinstance(value, str) and value.strip().lower() == "not known"):
        return None
    if isinstance(value, str):
        top.problem(key, f'write {key} = "none" where there is none, or begin each with [[{key}]]')
        return None
    return rows(top, key, what, f"[[{key}]]")


def _free_surfaces(top: Cursor) -> tuple[FreeSurface, ...] | None:
    cursors = _listed(top, "free_surface", "free surface")
    if cursors is None:
        return None
    found = []
    for cursor in cursors:
        name = cursor.text("name", needed='which tank or hold, such as name = "fuel, port"')
        length = one(cursor, "length", "length", needed="the length of its surface along the vessel")
        breadth = one(cursor, "breadth", "length", needed="the breadth of its surface")
        density = one(cursor, "density", "density", needed="the density of what is in it")
        cursor.finish()
        if name and length is not None and breadth is not None and density is not None:
            found.append(FreeSurface(name, length, breadth, density))
    return tuple(found)


def _aboard(top: Cursor) -> tuple[Aboard, ...] | None:
    cursors = _listed(top, "aboard", "aboard")
    if cursors is None:
        return None
    found = []
    for cursor in cursors:
        name = cursor.text("name", needed='who or what, such as name = "four people on deck"')
        mass = one(cursor, "mass", "mass", needed="what it weighs")
        height = one(cursor, "height", "length", needed="its height above the keel")
        across = one(cursor, "across", "length", sign=True)
        if across is None and "across" not in cursor.table:
            cursor.problem(
                "across",
                "is missing: write its distance from the centreline, above 0 to the side of the lift",
            )
        cursor.finish()
        if name and mass is not None and height is not None and across is not None:
            found.append(Aboard(name, mass, height, across))
    return tuple(found)


def _roll_test(top: Cursor, beam_m: float | None) -> RollTest | None:
    cursor = top.table_of("roll_test", "roll_test")
    if cursor is None:
        return None
    loading = pick(cursor, "loading", tuple(ROLL_FACTORS), needed=True)
    value = cursor.raw("runs")
    example = 'runs = [{ rolls = 5, time = "22 s" }, ...]'
    runs: list[tuple[int, float]] = []
    if not isinstance(value, list) or len(value) < LEAST_RUNS or not all(isinstance(r, dict) for r in value):
        cursor.problem(
            "runs", f"must list at least {LEAST_RUNS} timed runs, each of several rolls: {example}"
        )
    else:
        for i, row in enumerate(value):
            inner = Cursor(row, (*cursor.path, "runs"), cursor.notes, f"run {i + 1}")
            rolls = inner.number("rolls", low=1, default=0)
            seconds = one(inner, "time", "time", needed="the seconds it took")
            if not rolls and "rolls" not in row:
                inner.problem("rolls", f"is missing: write how many full rolls were timed, as in {example}")
            inner.finish()
            if rolls and seconds is not None:
                runs.append((rolls, seconds))
    cursor.finish()
    if beam_m is None and "beam" not in top.table:
        top.problem("roll_test", "needs the beam of the vessel: GM follows from beam and period of roll")
    if loading is None or beam_m is None or len(runs) < LEAST_RUNS:
        return None
    return RollTest(beam_m, tuple(runs), loading)
