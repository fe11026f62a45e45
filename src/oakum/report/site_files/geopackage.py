"""The plan as a GeoPackage (OGC 12-128) in the undefined Cartesian system, srs -1: the local grid, in metres."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from oakum.desk.seabed.exports import SiteExport
from oakum.report.site_files import wkb

APPLICATION_ID = 0x47504B47
VERSION = 10300

_SYSTEMS = """
CREATE TABLE gpkg_spatial_ref_sys (srs_name TEXT NOT NULL, srs_id INTEGER PRIMARY KEY, organization TEXT NOT NULL,
  organization_coordsys_id INTEGER NOT NULL, definition TEXT NOT NULL, description TEXT);
CREATE TABLE gpkg_contents (table_name TEXT NOT NULL PRIMARY KEY, data_type TEXT NOT NULL, identifier TEXT UNIQUE,
  description TEXT DEFAULT '', last_change DATETIME NOT NULL, min_x DOUBLE, min_y DOUBLE, max_x DOUBLE, max_y DOUBLE,
  srs_id INTEGER, CONSTRAINT fk_gc_r_srs_id FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys(srs_id));
CREATE TABLE gpkg_geometry_columns (table_name TEXT NOT NULL UNIQUE, column_name TEXT NOT NULL,
  geometry_type_name TEXT NOT NULL, srs_id INTEGER NOT NULL, z TINYINT NOT NULL, m TINYINT NOT NULL,
  CONSTRAINT pk_geom_cols PRIMARY KEY (table_name, column_name),
  CONSTRAINT fk_gc_tn FOREIGN KEY (table_name) REFERENCES gpkg_contents(table_name),
  CONSTRAINT fk_gc_srs FOREIGN KEY (srs_id) REFERENCES gpkg_spatial_ref_sys (srs_id));
CREATE TABLE about (id INTEGER PRIMARY KEY, name TEXT NOT NULL, words TEXT NOT NULL);
"""
_UNDEFINED = "undefined"
_WGS84 = (
    'GEOGCS["WGS 84",DATUM["WGS_1984",SPHEROID["WGS 84",6378137,298.257223563]],PRIMEM["Greenwich",0],'
    'UNIT["degree",0.0174532925199433]]'
)


@dataclass(frozen=True, slots=True)
class _Layer:
    """A table of features: columns with their SQL types, the kind of geometry, and its rows (geometry first)."""

    name: str
    geometry: str
    has_z: bool
    columns: tuple[tuple[str, str], ...]
    rows: tuple[tuple[object, ...], ...]
    words: str


def site_geopackage(export: SiteExport) -> bytes:
    """Return the file; what must be known of it stands in the table "about" and in the description of each layer."""
    book = sqlite3.connect(":memory:")
    try:
        book.executescript(f"PRAGMA application_id = {APPLICATION_ID}; PRAGMA user_version = {VERSION};{_SYSTEMS}")
        book.executemany(
            "INSERT INTO gpkg_spatial_ref_sys VALUES (?, ?, ?, ?, ?, ?)",
            (
                ("local grid of the site", -1, "NONE", -1, _UNDEFINED, "undefined Cartesian: the site's own metres"),
                ("undefined geographic", 0, "NONE", 0, _UNDEFINED, "undefined geographic"),
                ("WGS 84", 4326, "EPSG", 4326, _WGS84, "required by the standard; nothing here uses it"),
            ),
        )
        book.executemany("INSERT INTO about (name, words) VALUES (?, ?)", export.about)
        said = "; ".join(f"{name}: {words}" for name, words in export.about)
        changed = f"{export.on.isoformat()}T12:00:00.000Z"
        _listed(book, "about", "attributes", said, changed, None)
        for layer in _layers(export):
            _write(book, layer, said, changed, export.bounds_m)
        book.commit()
        return book.serialize()
    finally:
        book.close()


def _listed(
    book: sqlite3.Connection,
    name: str,
    kind: str,
    words: str,
    changed: str,
    bounds: Sequence[float] | None,
) -> None:
    place = (None, None, None, None, None) if bounds is None else (*bounds, wkb.UNDEFINED_CARTESIAN)
    book.execute(
        "INSERT INTO gpkg_contents VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)", (name, kind, name, words, changed, *place)
    )


def _write(
    book: sqlite3.Connection, layer: _Layer, said: str, changed: str, bounds: Sequence[float]
) -> None:
    columns = "".join(f", {name} {kind}" for name, kind in layer.columns)
    book.execute(f"CREATE TABLE {layer.name} (fid INTEGER PRIMARY KEY AUTOINCREMENT, geom {layer.geometry}{columns})")
    _listed(book, layer.name, "features", f"{layer.words}. {said}", changed, bounds)
    book.execute(
        "INSERT INTO gpkg_geometry_columns VALUES (?, 'geom', ?, ?, ?, 0)",
        (layer.name, layer.geometry, wkb.UNDEFINED_CARTESIAN, int(layer.has_z)),
    )
    names = ", ".join(("geom", *(name for name, _ in layer.columns)))
    marks = ", ".join("?" * (1 + len(layer.columns)))
    book.executemany(f"INSERT INTO {layer.name} ({names}) VALUES ({marks})", layer.rows)


def _layers(export: SiteExport) -> Iterable[_Layer]:
    text, real = "TEXT", "DOUBLE"
    yield _Layer(
        "marks",
        "POINT",
        True,
        (
            ("name", text), ("what", text), ("find", text), ("title", text), ("sd_x_m", real), ("sd_y_m", real),
            ("sd_z_m", real), ("held", text), ("readings", "INTEGER"), ("remark", text),
        ),
        tuple(
            (wkb.point(m.place_m), m.name, m.what, m.number, m.title, *m.sd_m, m.held, m.readings, m.remark)
            for m in export.marks
        ),
        "Marks with their sds",
    )  # fmt: skip
    yield _Layer(
        "ellipses",
        "POLYGON",
        False,
        (("name", text), ("major_m", real), ("minor_m", real), ("bearing_deg", real), ("inside", real)),
        tuple(
            (
                wkb.polygon(
                    wkb.ellipse_ring(*m.place_m[:2], m.ellipse.major_m, m.ellipse.minor_m, m.ellipse.angle_deg)
                ),
                m.name, m.ellipse.major_m, m.ellipse.minor_m, m.ellipse.bearing_deg, m.ellipse.inside,
            )
            for m in export.marks
            if m.ellipse.minor_m > 0
        ),
        "Ellipses that hold each mark, at true scale",
    )  # fmt: skip
    yield _Layer(
        "tapes",
        "LINESTRING",
        True,
        (
            ("reading", text), ("a", text), ("b", text), ("as_written", text), ("length_m", real), ("sd_m", real),
            ("residual_m", real), ("w", real), ("counted", "BOOLEAN"), ("doubt", text),
        ),
        tuple(
            (
                wkb.line(r.ends), r.id, *r.marks, r.text, r.value, r.sd, r.residual, r.w, int(r.counted), r.doubt,
            )
            for r in export.readings
            if r.kind == "tape" and r.ends is not None
        ),
        "Tapes; residual is plan less reading",
    )  # fmt: skip
    yield _Layer(
        "areas",
        "POLYGON",
        False,
        (("layer", text), ("name", text)),
        tuple((wkb.polygon(o.points_m), o.layer, o.name) for o in export.outlines if o.closed and len(o.points_m) > 2),
        "Squares, outlines of finds and of drawings",
    )
    yield _Layer(
        "lines",
        "LINESTRING",
        False,
        (("layer", text), ("name", text)),
        tuple((wkb.flat_line(o.points_m), o.layer, o.name) for o in export.outlines if not o.closed),
        "Lines along finds",
    )
    yield _Layer(
        "second_places",
        "POINT",
        True,
        (("name", text),),
        tuple((wkb.point(place), name) for name, place in export.twins),
        "Places that fit as well",
    )
