"""Photographs and files of a find: the original kept as it came, a small copy to look at, one entry each."""

from __future__ import annotations

from typing import Any

from oakum.desk.finds.measures import measure_of
from oakum.record import Entry, Logbook
from oakum.record.files.pictures import HEIC_ADVICE, NotAPicture, read_picture, thumbnail
from oakum.record.files.store import FileStore


def attach_photo(
    logbook: Logbook,
    find_id: str,
    name: str,
    content: bytes,
    *,
    author: str,
    caption: str = "",
    scale: str = "",
) -> Entry:
    """Keep a photograph and link it to a find; `scale` is the true length of the scale bar in the picture.

    A HEIC photograph is kept without a small copy where the part that reads it is not installed. Raises
    `NotAPicture` where the file is no readable picture (nothing is kept then), `QuantityError` for the
    scale, `FileStoreError` where the disk refuses.
    """
    body: dict[str, Any] = {"scale": measure_of(scale, "length")} if scale.strip() else {}
    if caption.strip():
        body["caption"] = caption.strip()
    store = FileStore(logbook.files_folder)
    try:
        picture, small = read_picture(content), thumbnail(content)
    except NotAPicture as finding:
        if str(finding) != HEIC_ADVICE:
            raise
    else:
        body |= {"width_px": picture.width_px, "height_px": picture.height_px}
        if picture.taken_at:
            body["taken_at"] = picture.taken_at
        body["thumbnail"] = store.put(small, name=f"small copy of {name}").sha256
    kept = store.put(content, name=name)
    body |= {"sha256": kept.sha256, "name": name, "size": kept.size, "media_type": kept.media_type}
    return logbook.append("photo.linked", find_id, body, author=author)


def attach_file(
    logbook: Logbook, find_id: str, name: str, content: bytes, *, author: str, caption: str = ""
) -> Entry:
    """Keep a file of any kind and link it to a find. Raises `FileStoreError` where the disk refuses."""
    kept = FileStore(logbook.files_folder).put(content, name=name)
    body: dict[str, Any] = {
        "sha256": kept.sha256,
        "name": name,
        "size": kept.size,
        "media_type": kept.media_type,
    }
    if caption.strip():
        body["caption"] = caption.strip()
    return logbook.append("file.linked", find_id, body, author=author)
