"""What kind of file some bytes are, told by how they begin and never by the name alone.

The name a camera or a person gave decides only among plain texts (CSV, Markdown), where the bytes
cannot tell.
"""

from __future__ import annotations

HEAD_BYTES = 4096
"""How many bytes of the beginning `media_type` wants to see."""

UNKNOWN = "application/octet-stream"

_BEGINNINGS = (
    (b"\xff\xd8\xff", "image/jpeg"),
    (b"\x89PNG\r\n\x1a\n", "image/png"),
    (b"GIF87a", "image/gif"),
    (b"GIF89a", "image/gif"),
    (b"II*\x00", "image/tiff"),
    (b"MM\x00*", "image/tiff"),
    (b"BM", "image/bmp"),
    (b"%PDF-", "application/pdf"),
    (b"PK\x03\x04", "application/zip"),
    (b"SQLite format 3\x00", "application/vnd.sqlite3"),
    (b"glTF", "model/gltf-binary"),
    (b"ply\n", "model/ply"),
    (b"ply\r\n", "model/ply"),
)
_HEIF_BRANDS = {b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1"}
_AVIF_BRANDS = {b"avif", b"avis"}
_TEXT_BY_NAME = {
    ".csv": "text/csv",
    ".tsv": "text/tab-separated-values",
    ".md": "text/markdown",
    ".json": "application/json",
    ".toml": "application/toml",
}


def media_type(head: bytes, name: str = "") -> str:
    """Media type of a file that begins with `head` (its first `HEAD_BYTES`) and is called `name`."""
    for beginning, kind in _BEGINNINGS:
        if head.startswith(beginning):
            return kind
    if head[:4] == b"RIFF" and head[8:12] == b"WEBP":
        return "image/webp"
    if head[4:8] == b"ftyp":
        return _boxed(head)
    return _text(head, name.lower())


def _boxed(head: bytes) -> str:
    """Files of the ISO base media family name their brands in the first box."""
    size = int.from_bytes(head[:4], "big")
    brands = {head[8:12]} | {head[at : at + 4] for at in range(16, min(size, len(head), 256), 4)}
    if brands & _AVIF_BRANDS:
        return "image/avif"
    if brands & _HEIF_BRANDS:
        return "image/heic"
    return "video/mp4"


def _text(head: bytes, name: str) -> str:
    if not head or b"\x00" in head:
        return UNKNOWN
    start = head.removeprefix(b"\xef\xbb\xbf").lstrip().lower()
    if b"<svg" in start and start.startswith(b"<"):
        return "image/svg+xml"
    if start.startswith((b"<!doctype html", b"<html")):
        return "text/html"
    if start.startswith(b"<?xml"):
        return "application/xml"
    try:
        # The last character may be cut in two by the end of `head`.
        head[: max(len(head) - 3, 0)].decode("utf-8")
    except UnicodeDecodeError:
        return UNKNOWN
    ending = name[name.rfind(".") :] if "." in name else ""
    return _TEXT_BY_NAME.get(ending, "text/plain")
