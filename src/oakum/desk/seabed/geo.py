"""The site in the world: its tie to a map grid, and the named releases by which positions leave the project."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from typing import Any

from pyproj import CRS, Proj, Transformer
from pyproj.exceptions import CRSError, ProjError

from oakum.desk.finds.entering import FieldErrors
from oakum.desk.finds.saying import say
from oakum.desk.seabed.survey import SurveyAnswer, survey_of
from oakum.ground.errors import OakumError
from oakum.record import Entry, Logbook, decimal_text
from oakum.record.log.heads import current, heads, standing
from oakum.record.log.kinds_seabed import SITE
from oakum.seabed.frame import FrameError, GridControl, GridFit, fit_grid
from oakum.seabed.network import SiteSolution

MOST_OFF_K = 0.003
"""A projection whose scale is further from 1 than this is none for surveying (own choice; UTM stays within 0.001)."""
_SLACK_DEG = 0.5
WHAT = ("datums", "details", "finds")


class WorldError(OakumError):
    """The site cannot be placed in the world as asked; the text says why and what to do."""


@dataclass(frozen=True, slots=True)
class MapGrid:
    """A projected system of coordinates in metres: its code, name and where it is meant for."""

    epsg: int
    name: str
    area: str
    crs: CRS

    def lon_lat(self, east_m: float, north_m: float) -> tuple[float, float]:
        """Return WGS 84 longitude and latitude in degrees."""
        lon, lat = _to_world(self.epsg).transform(east_m, north_m)
        return (float(lon), float(lat))

    def factors(self, lon: float, lat: float) -> tuple[float, float]:
        """Return the point scale k and the convergence in degrees (positive: grid north east of true north)."""
        found = _proj(self.epsg).get_factors(lon, lat)
        if abs(found.meridional_scale / found.parallel_scale - 1.0) > 1e-4:
            raise WorldError(f"EPSG:{self.epsg} ({self.name}) stretches shapes; choose a conformal map grid.")
        return (float(found.meridional_scale), float(found.meridian_convergence))


@dataclass(frozen=True, slots=True, eq=False)
class SiteFrame:
    """The tie as it stands: grid, fit, k and convergence in the middle of the control marks."""

    grid: MapGrid
    fit: GridFit
    k: float
    convergence_deg: float
    accuracy_m: float | None
    vertical: str

    @property
    def site_north_true_deg(self) -> float:
        """The true bearing of site north."""
        return (self.fit.turn_deg + self.convergence_deg) % 360.0

    @property
    def near_words(self) -> str:
        """Where the site would lie, to a whole degree: enough to see a wrong zone, which no number betrays."""
        lon, lat = self.grid.lon_lat(*self.fit.to_grid(0.0, 0.0))
        return f"{abs(lat):.0f}\u00b0 {'N' if lat >= 0 else 'S'}, {abs(lon):.0f}\u00b0 {'E' if lon >= 0 else 'W'}"

    def lon_lat(self, x_m: float, y_m: float) -> tuple[float, float]:
        """Return WGS 84 longitude and latitude of a place on the site."""
        return self.grid.lon_lat(*self.fit.to_grid(x_m, y_m))


@dataclass(frozen=True, slots=True)
class Release:
    """Positions released to somebody: what (kinds of marks), why, until when; `entry` says who released them."""

    entry: Entry
    to: str
    because: str
    what: tuple[str, ...]
    until: str

    def is_over(self, on: date) -> bool:
        """Whether its last day has passed."""
        return bool(self.until) and self.until < on.isoformat()


@lru_cache(maxsize=16)
def map_grid(epsg: int) -> MapGrid:
    """Return the map grid of a code; `WorldError` where it is none, not projected, or not in metres."""
    try:
        crs = CRS.from_epsg(epsg)
    except CRSError:
        raise WorldError(f"EPSG:{epsg} is no code that is known here; look it up once more.") from None
    if not crs.is_projected:
        raise WorldError(
            f"EPSG:{epsg} ({crs.name}) is no projected grid; give one in metres east and north, such as the UTM zone."
        )
    if any(abs(axis.unit_conversion_factor - 1.0) > 1e-12 for axis in crs.axis_info[:2]):
        raise WorldError(f"EPSG:{epsg} ({crs.name}) counts in {crs.axis_info[0].unit_name}; give a grid in metres.")
    area = crs.area_of_use
    return MapGrid(epsg, crs.name, area.name if area else "", crs)


@lru_cache(maxsize=16)
def _to_world(epsg: int) -> Transformer:
    return Transformer.from_crs(epsg, 4326, always_xy=True)


@lru_cache(maxsize=16)
def _proj(epsg: int) -> Proj:
    return Proj(CRS.from_epsg(epsg))


def tie(grid: MapGrid, control: Sequence[GridControl], *, free: bool, vertical: str = "") -> SiteFrame:
    """Tie the site to a map grid, its scale held to the projection's k or freed.

    `WorldError` where the coordinates lie where the grid is not meant for; `FrameError` where they settle no fit.
    """
    if not control:
        raise FrameError("No mark has map coordinates yet; give two, and three before anything checks them.")
    spots = [_near(grid, one) for one in control]
    lon, lat = (sum(spot[i] for spot in spots) / len(spots) for i in (0, 1))
    k, convergence = grid.factors(lon, lat)
    if abs(k - 1.0) > MOST_OFF_K:
        raise WorldError(
            f"At these coordinates a metre is {k:.4f} m of EPSG:{grid.epsg} ({grid.name}): the grid is far from the "
            "site, or none for surveying. Choose the grid of the zone."
        )
    accuracy = _to_world(grid.epsg).accuracy
    return SiteFrame(
        grid,
        fit_grid(control, scale=None if free else k),
        k,
        convergence,
        float(accuracy) if accuracy is not None and accuracy >= 0 else None,
        vertical,
    )


def _near(grid: MapGrid, one: GridControl) -> tuple[float, float]:
    """Return longitude and latitude of a control mark; refuse where the grid is not meant for the place."""
    try:
        lon, lat = grid.lon_lat(one.east_m, one.north_m)
    except ProjError:
        lon = lat = math.inf
    area = grid.crs.area_of_use
    if not (math.isfinite(lon) and math.isfinite(lat)):
        raise WorldError(
            f"{one.mark}: {one.east_m:.2f} east, {one.north_m:.2f} north is no place in EPSG:{grid.epsg}; east and "
            "north may be swapped."
        )
    if area is not None:
        past_east = area.west > area.east and (lon >= area.west - _SLACK_DEG or lon <= area.east + _SLACK_DEG)
        inside = past_east or area.west - _SLACK_DEG <= lon <= area.east + _SLACK_DEG
        if not inside or not area.south - _SLACK_DEG <= lat <= area.north + _SLACK_DEG:
            raise WorldError(
                f"{one.mark}: EPSG:{grid.epsg} ({grid.name}) is meant for {area.west:g} to {area.east:g} degrees east "
                f"and {area.south:g} to {area.north:g} north, and these coordinates lie outside it. The grid is far "
                "from the site, or east and north are swapped."
            )
    return lon, lat


def frame_of(logbook: Logbook, solution: SiteSolution | None = None) -> SiteFrame | None:
    """Return the tie as the logbook has it, None where there is none. Raises as `tie`."""
    fields = current(heads(logbook.entries(SITE)))
    if "epsg" not in fields or "control" not in fields:
        return None
    solved = solution or survey_of(logbook).solution
    control = _control([(c["mark"], float(c["e"]), float(c["n"])) for c in fields["control"]], solved)
    free = fields.get("fit") == "free"
    return tie(map_grid(int(fields["epsg"])), control, free=free, vertical=str(fields.get("vertical") or ""))


def _control(given: Sequence[tuple[str, float, float]], solution: SiteSolution) -> list[GridControl]:
    places = {mark.name: mark for mark in solution.marks}
    without = [name for name, _, _ in given if name not in places]
    if without:
        raise FrameError(f"{', '.join(without)}: no such mark has a place in the plan.")
    return [GridControl(name, places[name].x_m, places[name].y_m, e, n) for name, e, n in given]


def enter_frame(
    logbook: Logbook, typed: Mapping[str, str], *, author: str, reason: str = ""
) -> Entry:
    """Enter the tie from typed fields `epsg, control, fit, vertical`, once it fits.

    `FieldErrors` for what cannot be read or does not fit, field by field; `OakumError` where nothing changes.
    """
    try:
        epsg = int(typed.get("epsg", "").strip().upper().removeprefix("EPSG").lstrip(": "))
    except ValueError:
        raise FieldErrors({"epsg": "Write the code of the map grid as a number, such as 32629."}) from None
    survey = survey_of(logbook)
    given = _typed_control(typed.get("control", ""), survey)
    free = typed.get("fit", "").strip() == "free"
    try:
        grid = map_grid(epsg)
    except WorldError as error:
        raise FieldErrors({"epsg": str(error)}) from None
    try:
        tie(grid, _control(given, survey.solution), free=free)
    except (WorldError, FrameError) as error:
        raise FieldErrors({"control": str(error)}) from None
    fields: dict[str, Any] = {
        "epsg": epsg,
        "control": [{"mark": m, "e": decimal_text(e), "n": decimal_text(n)} for m, e, n in given],
        "fit": "free" if free else "held",
    }
    if typed.get("vertical", "").strip():
        fields["vertical"] = typed["vertical"].strip()
    entry = say(logbook, "site.crs", SITE, heads(logbook.entries(SITE)), fields, author=author, reason=reason)
    if entry is None:
        raise OakumError("The site is tied like this already; nothing was entered.")
    return entry


def _typed_control(text: str, survey: SurveyAnswer) -> list[tuple[str, float, float]]:
    rename = {also: mark.name for mark in survey.marks for also in mark.also}
    found = []
    for number, line in enumerate(text.splitlines(), 1):
        parts = line.replace(";", " ").split()
        if not parts:
            continue
        try:
            e, n = (float(part.strip(",").replace(",", "")) for part in parts[-2:])
            name = " ".join(parts[:-2]).rstrip(",")
        except ValueError:
            name = ""
        if not name:
            said = f'Line {number}, "{line.strip()}": write the mark, then east and north: A 412345.67 5543210.98'
            raise FieldErrors({"control": said})
        found.append((rename.get(name, name), e, n))
    return found


def release(logbook: Logbook, typed: Mapping[str, str], what: Sequence[str], *, author: str) -> Entry:
    """Release positions to somebody, as a named person with a reason: `to, because, until`, and kinds of marks.

    `FieldErrors` for what is missing; nothing is given before the entry stands.
    """
    wrong = {}
    if not typed.get("to", "").strip():
        wrong["to"] = "Say to whom the positions are given."
    if not typed.get("because", "").strip():
        wrong["because"] = "Say why they are given; it stays in the logbook."
    chosen = [one for one in WHAT if one in what]
    if not chosen:
        wrong["what"] = "Choose what is given."
    until = typed.get("until", "").strip()
    if until:
        try:
            date.fromisoformat(until)
        except ValueError:
            wrong["until"] = "Write the last day as 2026-09-30, or leave it empty."
    if not wrong:
        try:
            if frame_of(logbook) is None:
                wrong["what"] = "The site is not tied to a map grid yet, so there is nothing to give."
        except OakumError as error:
            wrong["what"] = str(error)
    if wrong:
        raise FieldErrors(wrong)
    body = {"to": typed["to"].strip(), "because": typed["because"].strip(), "what": ", ".join(chosen)}
    if until:
        body["until"] = until
    return logbook.append("site.released", SITE, body, author=author)


def releases(logbook: Logbook) -> tuple[Release, ...]:
    """Return every release that stands, the newest first."""
    found = [
        Release(
            entry,
            str(entry.body["to"]),
            str(entry.body["because"]),
            tuple(str(entry.body.get("what") or "").split(", ")),
            str(entry.body.get("until") or ""),
        )
        for entry in standing(logbook.entries(SITE))
        if entry.kind == "site.released"
    ]
    return tuple(reversed(found))


def released(logbook: Logbook, id: str, on: date) -> tuple[Release, SiteFrame]:
    """Return a release that holds today with the tie; `WorldError` where it is struck out, over, or not there."""
    one = next((r for r in releases(logbook) if r.entry.id == id), None)
    if one is None:
        raise WorldError("There is no such release; positions are given only by a release that stands.")
    if one.is_over(on):
        raise WorldError(f"This release ended on {one.until}; a new one is needed.")
    frame = frame_of(logbook)
    if frame is None:
        raise WorldError("The site is not tied to a map grid, so there is nothing to give.")
    return one, frame
