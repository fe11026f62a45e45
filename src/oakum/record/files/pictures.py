"""Pictures: whether a file is one, a small copy without any trace of its place, and when it was taken.

The original is kept as a file and never altered. What is shown on pages is a fresh small copy: position,
camera, comments and embedded previews stay behind in the original.
"""

from __future__ import annotations

import importlib
import io
import re
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from PIL import ExifTags, Image, ImageCms

from oakum.record.errors import RecordError
from oakum.record.files.media_types import HEAD_BYTES, media_type

if TYPE_CHECKING:
    from collections.abc import Iterator

PIXEL_LIMIT = 89_000_000
"""Pixels a picture may have to be opened (89 megapixels take about 270 MB of memory)."""

THUMBNAIL_PX = 480
HEIC_ADVICE = (
    "This is a HEIC photograph; the part that reads them is not installed. The file itself is kept. "
    'To see it here, install the extra "heic" (pip install "oakum[heic]"), or set the phone to save JPEG.'
)

_READERS = {
    "image/jpeg": "JPEG",
    "image/png": "PNG",
    "image/tiff": "TIFF",
    "image/webp": "WEBP",
    "image/gif": "GIF",
    "image/bmp": "BMP",
    "image/avif": "AVIF",
    "image/heic": "HEIF",
}
_NO_PICTURES = {
    "image/svg+xml": "an SVG drawing, which can carry programs",
    "text/html": "a web page",
    "application/xml": "an XML file",
    "application/pdf": "a PDF",
    "video/mp4": "a video",
}
_UPRIGHT = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
_EXIF_TIME = re.compile(r"(\d{4})[:\-](\d\d)[:\-](\d\d)[ T](\d\d):(\d\d):(\d\d)")
_EXIF_OFFSET = re.compile(r"[+-]\d\d:\d\d|Z")


class NotAPicture(RecordError):
    """The file cannot be shown as a picture; the text says why. It can still be kept as a file."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A readable picture as it hangs upright: kind, size in pixels, and what its camera wrote.

    `taken_at` is the camera's own clock as ISO 8601, with offset only if the camera gave one; None: not
    known. `has_position` tells that the original names a place on the earth, which must not leave with a
    public copy.
    """

    media_type: str
    width_px: int
    height_px: int
    taken_at: str | None
    has_position: bool


def read_picture(content: bytes) -> Picture:
    """Read the whole picture, so that one that breaks off in the middle is found. Raises `NotAPicture`."""
    with _opened(content) as image:
        exif = image.getexif()
        width, height = image.size
        if exif.get(ExifTags.Base.Orientation) in (5, 6, 7, 8):
            width, height = height, width
        taken = _taken_at(exif)
        position = bool(exif.get_ifd(ExifTags.IFD.GPSInfo))
        kind = media_type(content[:HEAD_BYTES])
        image.load()
    return Picture(kind, width, height, taken, position)


def thumbnail(content: bytes, *, longest_px: int = THUMBNAIL_PX) -> bytes:
    """A fresh upright JPEG at most `longest_px` wide and high, in sRGB, carrying nothing but its pixels.

    Grey pictures of more than eight bits (X-rays) are stretched from their darkest to their lightest. Raises
    `NotAPicture`.
    """
    with _opened(content) as image:
        turn = _UPRIGHT.get(image.getexif().get(ExifTags.Base.Orientation, 1))
        image.draft("RGB", (longest_px * 2, longest_px * 2))
        small = _to_rgb(image)
        small.thumbnail((longest_px, longest_px), Image.Resampling.LANCZOS)
    upright = small if turn is None else small.transpose(turn)
    fresh = Image.new("RGB", upright.size)  # a new picture takes no notes over from the old one
    fresh.paste(upright)
    out = io.BytesIO()
    fresh.save(out, "JPEG", quality=82, optimize=True)
    return out.getvalue()


@contextmanager
def _opened(content: bytes) -> Iterator[Image.Image]:
    """The picture, open; every way in which reading it may fail is told as `NotAPicture`."""
    kind = media_type(content[:HEAD_BYTES])
    if not content:
        raise NotAPicture("The file is empty: copying it from the camera probably failed. Copy it once more.")
    if kind in _NO_PICTURES:
        raise NotAPicture(
            f"This is {_NO_PICTURES[kind]}, not a photograph. It can be kept as a file; "
            "to show it as a picture, save it as PNG or JPEG."
        )
    reader = _reader(kind)
    try:
        with Image.open(io.BytesIO(content), formats=(reader,)) as image:
            width, height = image.size
            if width * height > PIXEL_LIMIT:
                raise NotAPicture(_too_large(width, height))
            yield image
    except Image.DecompressionBombError as error:
        raise NotAPicture(_too_large(None, None)) from error
    except NotAPicture:
        raise
    except Exception as error:  # readers of pictures fail in any way on damaged files
        raise NotAPicture(
            f"The picture is damaged or breaks off ({error}). Copy it from the camera once more; "
            "this file can be kept as a file."
        ) from error


def _too_large(width: int | None, height: int | None) -> str:
    size = f"{width} x {height} pixels" if width else "too many pixels"
    return (
        f"The picture has {size}, more than {PIXEL_LIMIT // 10**6} million, and is not opened here. "
        "The file can be kept as a file; save a smaller copy to see it as a picture."
    )


def _reader(kind: str) -> str:
    """Name of the reader for this kind of file; only these are ever tried on what somebody uploads."""
    if kind == "image/heic":
        try:
            importlib.import_module("pillow_heif").register_heif_opener()
        except ImportError as error:
            raise NotAPicture(HEIC_ADVICE) from error
    Image.init()
    reader = _READERS.get(kind)
    if reader not in Image.OPEN:
        raise NotAPicture(
            "This is no picture that can be read here: expected JPEG, PNG, TIFF, WebP, GIF, BMP or AVIF. "
            "It can be kept as a file."
        )
    return reader


def _to_rgb(image: Image.Image) -> Image.Image:
    """Eight-bit sRGB; what is transparent shows white."""
    if image.mode.startswith(("I", "F")):
        return _stretched(image).convert("RGB")
    if "A" in image.getbands() or "transparency" in image.info:
        rgba = image.convert("RGBA")
        rgb = Image.new("RGB", rgba.size, "white")
        rgb.paste(rgba, mask=rgba.getchannel("A"))
        return rgb
    return _in_srgb(image).convert("RGB")


def _stretched(image: Image.Image) -> Image.Image:
    """A grey picture of many bits, its darkest made black and its lightest white."""
    grey = np.asarray(image, dtype=np.float64)
    low, high = float(grey.min()), float(grey.max())
    return Image.fromarray(np.round((grey - low) * (255 / ((high - low) or 1))).astype(np.uint8))


def _in_srgb(image: Image.Image) -> Image.Image:
    profile = image.info.get("icc_profile")
    if not profile or image.mode not in ("RGB", "CMYK", "L"):
        return image
    try:
        source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        turned = ImageCms.profileToProfile(image, source, ImageCms.createProfile("sRGB"), outputMode="RGB")
    except (ImageCms.PyCMSError, OSError):
        return image  # a broken colour profile costs a shade of colour, not the picture
    return turned or image


def _taken_at(exif: Image.Exif) -> str | None:
    """DateTimeOriginal with OffsetTimeOriginal. Source: CIPA DC-008 (Exif 2.31), mark: memory, verify."""
    inner = exif.get_ifd(ExifTags.IFD.Exif)
    found = _EXIF_TIME.match(str(inner.get(ExifTags.Base.DateTimeOriginal, "")))
    if not found or found[1] == "0000":
        return None
    year, month, day, hour, minute, second = found.groups()
    offset = str(inner.get(ExifTags.Base.OffsetTimeOriginal, "")).strip("\x00 ")
    zone = offset if _EXIF_OFFSET.fullmatch(offset) else ""
    return f"{year}-{month}-{day}T{hour}:{minute}:{second}{zone}"
