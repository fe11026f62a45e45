"""The plan as an SVG whose user unit is the metre of the site (y turned down), with grid, scale bar and metadata."""

from __future__ import annotations

import math

from oakum.desk.seabed.exports import MarkOut, SiteExport
from oakum.draw import svg
from oakum.draw.scale import PRINT_SCALES, bar_length_m, length_words, nice_step

_MARGIN_M = 0.06
_WIDEST_MM = 380.0
_INK = "#000000"
_PALE = "#b8b8b8"


def site_svg(export: SiteExport) -> bytes:
    """Return the drawing at the largest round scale that fits onto 380 mm; one user unit is one metre."""
    west, south, east, north = export.bounds_m
    pad = max(_MARGIN_M * max(east - west, north - south), 0.5)
    west, south, east, north = west - pad, south - 2 * pad, east + pad, north + pad
    wide, high = east - west, north - south
    scale = next((n for n in PRINT_SCALES if 1000 * max(wide, high) / n <= _WIDEST_MM), PRINT_SCALES[-1])
    mm = scale / 1000.0  # a millimetre of the paper, in metres of the site
    bar = bar_length_m(0.3 * wide)
    said = "\n".join(f"{name}: {words}" for name, words in export.about)
    title = f"Plan of {export.project}, 1:{scale}"
    drawing = svg.element(
        "svg",
        svg.element("title", svg.clean(title)),
        svg.element("desc", svg.clean(said)),
        svg.element("metadata", *(_datum(name, words) for name, words in export.about)),
        svg.group(*_grid(west, south, east, north, mm), id="grid"),
        *(svg.group(*_outlines(export, layer, mm), id=layer) for layer in ("squares", "outlines", "drawings")),
        svg.group(*_readings(export, mm), id="tapes"),
        svg.group(*(_ellipse(one, mm) for one in export.marks), id="ellipses"),
        *(
            svg.group(*(_mark(one, mm) for one in export.marks if one.what == what), id=f"{what}s")
            for what in ("datum", "detail", "find")
        ),
        svg.group(*_twins(export, mm), id="second-places"),
        svg.group(*_bar(west + pad / 2, south + pad / 2, bar, mm), id="scale-bar"),
        xmlns=svg.NAMESPACE,
        viewBox=f"{_n(west)} {_n(-north)} {_n(wide)} {_n(high)}",
        width=f"{1000 * wide / scale:.2f}mm",
        height=f"{1000 * high / scale:.2f}mm",
        role="img",
        font_family="Inter, sans-serif",
    )
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{drawing}\n'.encode()


def _n(value: float) -> str:
    """Write metres to a tenth of a millimetre."""
    return f"{value:.4f}".rstrip("0").rstrip(".") if abs(value) >= 5e-5 else "0"


def _datum(name: str, words: str) -> str:
    return svg.element("oakum:about", svg.clean(words), name=name, **{"xmlns:oakum": "urn:oakum:survey:1"})


def _line(a: tuple[float, float], b: tuple[float, float], width: float, **style: str) -> str:
    return svg.element("line", x1=_n(a[0]), y1=_n(-a[1]), x2=_n(b[0]), y2=_n(-b[1]), stroke_width=_n(width), **style)


def _text(x: float, y: float, words: str, size: float, **style: str) -> str:
    return svg.element("text", svg.clean(words), x=_n(x), y=_n(-y), font_size=_n(size), fill=_INK, **style)


def _grid(west: float, south: float, east: float, north: float, mm: float) -> list[str]:
    step = nice_step(max(east - west, north - south), 8)
    drawn = []
    for i in range(math.ceil(west / step), math.floor(east / step) + 1):
        drawn.append(_line((i * step, south), (i * step, north), 0.15 * mm, stroke=_PALE))
        drawn.append(_text(i * step + 0.4 * mm, north - 3 * mm, f"{i * step:g}", 2.2 * mm))
    for i in range(math.ceil(south / step), math.floor(north / step) + 1):
        drawn.append(_line((west, i * step), (east, i * step), 0.15 * mm, stroke=_PALE))
        drawn.append(_text(west + 0.4 * mm, i * step + 0.4 * mm, f"{i * step:g}", 2.2 * mm))
    return drawn


def _outlines(export: SiteExport, layer: str, mm: float) -> list[str]:
    drawn = []
    for one in export.outlines:
        if one.layer == layer:
            d = "M" + " ".join(f"{_n(x)},{_n(-y)}" for x, y in one.points_m) + ("Z" if one.closed else "")
            name = svg.element("title", svg.clean(one.name))
            drawn.append(svg.element("path", name, d=d, fill="none", stroke=_INK, stroke_width=_n(0.35 * mm)))
            drawn.append(_text(one.points_m[0][0] + mm, one.points_m[0][1] + mm, one.name, 2.5 * mm))
    return drawn


def _readings(export: SiteExport, mm: float) -> list[str]:
    drawn = []
    for one in export.readings:
        if one.ends is None or one.kind != "tape":
            continue
        style = {"stroke": _INK, "class": "counted"}
        width = 0.13 * mm
        if one.doubt:
            style, width = {"stroke": _INK, "class": "doubted", "stroke-dasharray": f"{_n(2 * mm)} {_n(mm)}"}, 0.6 * mm
        elif not one.counted:
            style = {"stroke": _INK, "class": "set-aside", "stroke-dasharray": f"{_n(0.3 * mm)} {_n(mm)}"}
        a, b = one.ends
        drawn.append(_line((a[0], a[1]), (b[0], b[1]), width, **style))
    return drawn


def _ellipse(one: MarkOut, mm: float) -> str:
    shape = one.ellipse
    at = f"translate({_n(one.place_m[0])} {_n(-one.place_m[1])}) rotate({_n(shape.bearing_deg - 90.0)})"
    said = svg.element("title", svg.clean(f"{one.name}: {100 * shape.inside:g} % ellipse at true scale"))
    return svg.element(
        "ellipse",
        said,
        rx=f"{shape.major_m:.5f}",
        ry=f"{shape.minor_m:.5f}",
        transform=at,
        fill="none",
        stroke=_INK,
        stroke_width=_n(0.13 * mm),
    )


def _mark(one: MarkOut, mm: float) -> str:
    x, y = one.place_m[0], -one.place_m[1]
    style = {"fill": "none", "stroke": _INK, "stroke-width": _n(0.3 * mm)}
    r = 1.2 * mm
    if one.what == "datum":
        d = f"M{_n(x)},{_n(y - 1.2 * r)} {_n(x + r)},{_n(y + 0.7 * r)} {_n(x - r)},{_n(y + 0.7 * r)}Z"
        sign = svg.element("path", d=d, **style)
    elif one.what == "find":
        sign = svg.element("rect", x=_n(x - r), y=_n(y - r), width=_n(2 * r), height=_n(2 * r), **style)
    else:
        sign = svg.element("circle", cx=_n(x), cy=_n(y), r=_n(0.8 * r), **style)
    dot = svg.element("circle", cx=_n(x), cy=_n(y), r=_n(0.15 * mm), fill=_INK)
    said = ", ".join(part for part in (one.name, one.number, one.title, one.remark) if part)
    place = f"{one.place_m[0]:.3f} {one.place_m[1]:.3f} {one.place_m[2]:.3f}"
    name = _text(x + 1.5 * r, one.place_m[1] - 0.5 * r, one.name, 2.8 * mm)
    title = svg.element("title", svg.clean(f"{said}: {place} m"))
    return svg.group(title, sign, dot, name, id=f"mark-{svg.identifier(one.name)}", data_name=one.name)


def _twins(export: SiteExport, mm: float) -> list[str]:
    drawn = []
    for name, (x, y, _) in export.twins:
        dash = f"{_n(0.8 * mm)} {_n(0.6 * mm)}"
        ring = {"fill": "none", "stroke": _INK, "stroke-width": _n(0.3 * mm), "stroke-dasharray": dash}
        drawn.append(svg.element("circle", cx=_n(x), cy=_n(-y), r=_n(1.6 * mm), **ring))
        drawn.append(_text(x + 2 * mm, y, f"{name} or here?", 2.5 * mm, font_style="italic"))
    return drawn


def _bar(x: float, y: float, length: float, mm: float) -> list[str]:
    ticks = [_line((x + part * length, y), (x + part * length, y + mm), 0.3 * mm, stroke=_INK) for part in (0, 0.5, 1)]
    words = _text(x + length + mm, y, f"{length_words(length)}; site north is up", 2.8 * mm)
    return [_line((x, y), (x + length, y), 0.5 * mm, stroke=_INK), *ticks, words]
