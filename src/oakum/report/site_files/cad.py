"""The plan as DXF (R2010, metres): a layer a class, places and lines with their height, ellipses as ELLIPSE."""

from __future__ import annotations

import io
import math
from typing import Any

from oakum.desk.seabed.exports import MarkOut, SiteExport

METRES = 6
"""$INSUNITS of metres (the DXF reference's table of drawing units; memory, verify; read back in the tests)."""
LAYERS = {
    "DATUMS": 7, "DETAILS": 7, "FINDS": 1, "NAMES": 7, "TAPES": 8, "TAPES_DOUBTED": 1, "TAPES_SET_ASIDE": 9,
    "ELLIPSES": 5, "SQUARES": 7, "OUTLINES": 3, "DRAWINGS": 4, "SECOND_PLACES": 6, "ABOUT": 7,
}  # fmt: skip
_TEXT_M = 0.12
_LEAST_RATIO = 1e-6


def site_dxf(export: SiteExport) -> bytes:
    """Return the drawing; x is site east, y site north, z up."""
    from ezdxf.filemanagement import new

    document = new("R2010", setup=["linetypes"])
    document.header["$INSUNITS"] = METRES
    document.header["$MEASUREMENT"] = 1
    for name, words in export.about:
        document.header.custom_vars.append(f"oakum {name}", words)
    for name, colour in LAYERS.items():
        document.layers.add(name, color=colour)
    document.layers.get("TAPES_DOUBTED").dxf.linetype = "DASHED"
    document.layers.get("TAPES_SET_ASIDE").dxf.linetype = "DOTTED"
    space = document.modelspace()
    for mark in export.marks:
        _mark(space, mark)
    for reading in export.readings:
        if reading.kind == "tape" and reading.ends is not None:
            layer = "TAPES_DOUBTED" if reading.doubt else "TAPES" if reading.counted else "TAPES_SET_ASIDE"
            space.add_line(*reading.ends, dxfattribs={"layer": layer})
    for outline in export.outlines:
        layer = outline.layer.upper()
        space.add_lwpolyline(outline.points_m, close=outline.closed, dxfattribs={"layer": layer})
        at = (*outline.points_m[0], 0.0)
        space.add_text(outline.name, height=_TEXT_M, dxfattribs={"layer": layer, "insert": at})
    for name, place in export.twins:
        space.add_circle(place, radius=_TEXT_M, dxfattribs={"layer": "SECOND_PLACES"})
        _named(space, f"{name} or here?", place, "SECOND_PLACES")
    west, south, *_ = export.bounds_m
    said = "\n".join(f"{name}: {words}" for name, words in export.about)
    space.add_mtext(said, dxfattribs={"layer": "ABOUT", "char_height": _TEXT_M, "insert": (west, south - 0.5, 0.0)})
    out = io.StringIO()
    document.write(out)
    return out.getvalue().encode("utf-8")


def _mark(space: Any, mark: MarkOut) -> None:
    space.add_point(mark.place_m, dxfattribs={"layer": f"{mark.what.upper()}S"})
    _named(space, " ".join(part for part in (mark.name, mark.number) if part), mark.place_m, "NAMES")
    shape = mark.ellipse
    if shape.major_m > 0:
        turn = math.radians(shape.angle_deg)
        axis = (shape.major_m * math.cos(turn), shape.major_m * math.sin(turn), 0.0)
        ratio = max(shape.minor_m / shape.major_m, _LEAST_RATIO)
        space.add_ellipse(mark.place_m, major_axis=axis, ratio=ratio, dxfattribs={"layer": "ELLIPSES"})


def _named(space: Any, words: str, place: tuple[float, float, float], layer: str) -> None:
    x, y, z = place
    space.add_text(words, height=_TEXT_M, dxfattribs={"layer": layer, "insert": (x + _TEXT_M, y, z)})
