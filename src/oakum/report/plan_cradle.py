"""Tables and sentences of a cradle: its states, what stands where, straps, pads, beds and tray."""

from __future__ import annotations

from oakum.draw.forces import in_unit, reading, unit_words
from oakum.draw.rows import Rows, figure, spread_figures
from oakum.draw.utilisation import percent_words
from oakum.ground.estimate import Spread
from oakum.ground.gravity import G_M_S2
from oakum.lift.checks import Check
from oakum.lift.cradle import LimpAnswer
from oakum.lift.cradle.report import CradleReport, PadReport, StrapsIn

NONE_PLANNED = "No cradle is described: what carries the find in water, clear, on deck and on the road is not known."
_STATES = {"in water": "in the water", "clear": "clear of the water", "on deck": "on deck", "on lorry": "on the lorry"}


def state_words(key: str) -> str:
    """Return a state as it is said."""
    return _STATES.get(key, key)


def cradle_lead(report: CradleReport) -> str:
    """Say in one sentence what of the cradle is used most."""
    check = report.governing
    if check is None:
        return "Nothing of the cradle could be checked."
    return f"Used most: {check.title}, {percent_words(check)}."


def state_rows(report: CradleReport, cell_unit: str) -> Rows:
    """Return the frame state by state: weight of the find, what is used most, greatest sag."""
    unit = unit_words(cell_unit)
    lines = []
    for state in () if report.frame is None else report.frame.states:
        low, best, high = spread_figures(in_unit(state.find_n, cell_unit))
        most = state.governing
        sag = max((m.sag_m for m in state.members), default=None)
        lines.append(
            (
                state_words(state.key),
                f"{best} ({low} to {high})",
                "nothing checked" if most is None else f"{most.title}, {percent_words(most)}",
                "not known" if sag is None else figure(1000 * sag),
            )
        )
    head = ("state", f"find, likely (P5 to P95), {unit}", "used most", "greatest sag, mm")
    return Rows("The frame, state by state", head, tuple(lines))


def stand_rows(report: CradleReport, cell_unit: str) -> Rows:
    """Return what every lifting point and every support carries at most, state by state."""
    unit = unit_words(cell_unit)
    lines = tuple(
        (f"{stand.name}, {state_words(state.key)}", stand.member, reading(stand.force_n / G_M_S2, cell_unit))
        for state in (() if report.frame is None else report.frame.states)
        for stand in state.stands
    )
    return Rows("What holds the frame up", ("point and state", "under", f"carries at most (P95), {unit}"), lines)


def touch_lines(report: CradleReport, cell_unit: str) -> tuple[str, ...]:
    """Say what straps, pads, beds and tray do to the find, and what could not be answered."""
    said = [_strap(one, cell_unit) for one in report.straps]
    said += [_pad(one) for one in report.pads]
    said += [_bearing(check) for check in report.bearings]
    if report.tray is not None:
        said += _tray(report.tray)
    objected = set(report.objections)
    said += [
        f"{part}: could not be answered: {why}"
        for part, why in report.refused
        if not objected & {why, f"{part}: {why}"}
    ]
    return tuple(said)


def _strap(one: StrapsIn, cell_unit: str) -> str:
    answer = one.answer
    places = ", ".join(f"{p:.2f} m" for p in answer.places_m)
    pull = in_unit(answer.tension_n, cell_unit)
    press = "pressure not known" if answer.worst_pa is None else f"the hardest presses with {_kpa(answer.worst_pa)}"
    needed = "not known how many are needed" if answer.needed is None else f"{answer.needed} needed"
    return f"straps {one.state}: {len(answer.places_m)} at {places}; each pulls {pull.words()}; {press}; {needed}"


def _pad(one: PadReport) -> str:
    pad = one.pad
    said = f"{pad.count} pads \u201c{pad.foam.name}\u201d, {1000 * pad.foam.thickness_m:.0f} mm thick"
    if one.depth is not None and one.depth.gap_m is not None:
        low, high = (f"{1000 * v:.0f}" for v in one.depth.gap_m)
        loss = f"{low} mm" if low == high else f"{low} to {high} mm"
        said += f": {loss} thinner at depth, so loose by that where they were fitted above"
    if one.air_pa is not None:
        said += f"; in air pressed with {one.air_pa / 1000:.1f} kPa"
        if one.air_strain is not None:
            said += f", {100 * one.air_strain:.0f} % of their thickness"
    return said


def _bearing(check: Check) -> str:
    if check.capacity is None:
        return f"{check.title}: {check.demand / 1000:.1f} kPa; what it may be pressed with is not known"
    return f"{check.title}: {check.demand / 1000:.1f} of {check.capacity / 1000:.1f} kPa, said by the user"


def _tray(answer: LimpAnswer) -> list[str]:
    said = [f"tray: the find is {answer.air_over_water:.1f} times heavier in air; never lift it out unsupported"]
    for state, found in (("in water", answer.in_water), ("in air", answer.in_air)):
        sag = "sag not known" if found.sag_m is None else f"sags {1000 * found.sag_m:.1f} mm between the bars"
        apart = "how far apart the bars may lie is not known"
        if found.spacing_m is not None:
            apart = f"bars at most {1000 * found.spacing_m:.0f} mm apart"
        said.append(f"tray {state}: {sag}; {apart}")
    return said


def _kpa(spread: Spread) -> str:
    low, high = spread.p5 / 1000, spread.p95 / 1000
    return f"{spread.best / 1000:.3g} kPa" if low == high else f"{spread.best / 1000:.3g} kPa ({low:.3g} to {high:.3g})"
