"""The survey as files for other programs: tables, a drawing to scale, CAD, a GeoPackage; GeoJSON only by a release.

Every writer takes a `SiteExport` and returns bytes. Positions are in the local grid; `site_geojson` alone takes a
way into the world with it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from oakum.desk.seabed.exports import SiteExport


@dataclass(frozen=True, slots=True)
class FileKind:
    """A kind of file: its name in an address and on the command line, its ending, what it is in words."""

    key: str
    ending: str
    media_type: str
    words: str
    write: Callable[[SiteExport], bytes]


def _marks_csv(export: SiteExport) -> bytes:
    from oakum.report.site_files.tables import marks_csv

    return marks_csv(export)


def _readings_csv(export: SiteExport) -> bytes:
    from oakum.report.site_files.tables import readings_csv

    return readings_csv(export)


def _about_csv(export: SiteExport) -> bytes:
    from oakum.report.site_files.tables import about_csv

    return about_csv(export)


def _svg(export: SiteExport) -> bytes:
    from oakum.report.site_files.drawing import site_svg

    return site_svg(export)


def _dxf(export: SiteExport) -> bytes:
    from oakum.report.site_files.cad import site_dxf

    return site_dxf(export)


def _gpkg(export: SiteExport) -> bytes:
    from oakum.report.site_files.geopackage import site_geopackage

    return site_geopackage(export)


FILE_KINDS: dict[str, FileKind] = {
    kind.key: kind
    for kind in (
        FileKind("marks", "marks.csv", "text/csv", "Places of all marks, as a table (CSV)", _marks_csv),
        FileKind("readings", "readings.csv", "text/csv", "Every reading as written, as a table (CSV)", _readings_csv),
        FileKind("about", "about.csv", "text/csv", "Datum, method, scatter and objections (CSV)", _about_csv),
        FileKind("svg", "plan.svg", "image/svg+xml", "The plan in metres, as a drawing (SVG)", _svg),
        FileKind("dxf", "plan.dxf", "image/vnd.dxf", "The plan for CAD (DXF)", _dxf),
        FileKind("gpkg", "plan.gpkg", "application/geopackage+sqlite3", "The plan for GIS (GeoPackage)", _gpkg),
    )
}
"""The kinds of files that anybody on the project may take, all in the local grid."""

__all__ = ["FILE_KINDS", "FileKind", "SiteExport"]
