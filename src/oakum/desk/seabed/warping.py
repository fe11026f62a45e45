"""The picture of a drawing as it lies on the site: pulled straight, north up, clear where there is nothing."""

from __future__ import annotations

import io

import numpy as np
from PIL import Image

from oakum.desk.lifts.kept import Kept
from oakum.desk.seabed.registering import KeptDrawing
from oakum.record import Logbook
from oakum.record.files.pictures import thumbnail
from oakum.record.files.store import FileStore

MOST_PX = 1400
SOURCE_PX = 2400
_kept: Kept[bytes] = Kept(12)


def laid_picture(logbook: Logbook, one: KeptDrawing, most_px: int = MOST_PX) -> bytes:
    """Return a PNG that fills `one.box`; the drawing must have a picture."""
    assert one.registration is not None and one.size is not None
    key = (one.sha256, one.registration.matrix.tobytes(), most_px)
    made = _kept.get(key)
    if made is None:
        content = FileStore(logbook.files_folder).get(one.sha256)
        made = warped(content, one.size, one.registration.matrix, one.box, most_px)
        _kept.put(key, made)
    return made


def warped(
    content: bytes,
    size: tuple[int, int],
    matrix: np.ndarray,
    box: tuple[float, float, float, float],
    most_px: int,
) -> bytes:
    """Pull a picture of this size (upright, units of `matrix`) into a box of the site, at most `most_px` long."""
    upright = Image.open(io.BytesIO(thumbnail(content, longest_px=SOURCE_PX))).convert("RGBA")
    west, south, east, north = box
    metre_px = most_px / max(east - west, north - south)
    wide, high = (max(1, round(metre_px * span)) for span in (east - west, north - south))
    to_site = np.array([[(east - west) / wide, 0, west], [0, -(north - south) / high, north], [0, 0, 1.0]])
    to_source = np.diag([upright.width / size[0], upright.height / size[1], 1.0])
    found = to_source @ np.linalg.inv(matrix) @ to_site
    found = found / found[2, 2]
    pulled = upright.transform(
        (wide, high),
        Image.Transform.PERSPECTIVE,
        tuple(float(v) for v in found.ravel()[:8]),
        Image.Resampling.BILINEAR,
        fillcolor=(255, 255, 255, 0),
    )
    out = io.BytesIO()
    pulled.save(out, "PNG")
    return out.getvalue()
