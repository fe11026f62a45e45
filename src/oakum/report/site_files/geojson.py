"""Released positions as GeoJSON (RFC 7946): WGS 84 longitude and latitude in degrees, no heights, no other system.

This is the only writer that says where the site lies, and it takes the release that permits it.
"""

from __future__ import annotations

import json

from oakum.desk.seabed.exports import MarkOut, SiteExport
from oakum.desk.seabed.geo import Release, SiteFrame

_DECIMALS = 8  # a millimetre


def site_geojson(export: SiteExport, frame: SiteFrame, release: Release) -> bytes:
    """Return the marks of the kinds released, and nothing else of the site."""
    features = [_feature(one, frame) for one in export.marks if f"{one.what}s" in release.what]
    accuracy = "not known" if frame.accuracy_m is None else f"{frame.accuracy_m:g} m"
    said = {
        "released to": release.to,
        "because": release.because,
        "release": release.entry.id,
        **({"until": release.until} if release.until else {}),
        "tied by": f"EPSG:{frame.grid.epsg} {frame.grid.name}, scale {frame.fit.scale:.6f}, "
        f"{len(frame.fit.residuals)} control marks, "
        + ("unchecked" if frame.fit.rms_m is None else f"rms {frame.fit.rms_m:.3f} m"),
        "map grid to WGS 84": accuracy,
        "heights": frame.vertical or "of the site, datum not stated",
        **{name: words for name, words in export.about if name != "positions"},
    }
    made = {"type": "FeatureCollection", "features": features, "about": said}
    return (json.dumps(made, ensure_ascii=False, indent=1) + "\n").encode()


def _feature(one: MarkOut, frame: SiteFrame) -> dict[str, object]:
    lon, lat = frame.lon_lat(one.place_m[0], one.place_m[1])
    return {
        "type": "Feature",
        "id": one.name,
        "geometry": {"type": "Point", "coordinates": [round(lon, _DECIMALS), round(lat, _DECIMALS)]},
        "properties": {
            "name": one.name,
            "what": one.what,
            "find": one.number,
            "title": one.title,
            "height_site_m": round(one.place_m[2], 3),
            "sd_x_m": round(one.sd_m[0], 4),
            "sd_y_m": round(one.sd_m[1], 4),
            "sd_z_m": round(one.sd_m[2], 4),
        },
    }
