"""Photographs and files: taking them in, and giving them out again so that nothing in them can run."""

from __future__ import annotations

import re
from urllib.parse import quote

from fastapi import APIRouter, Request
from starlette.exceptions import HTTPException
from starlette.responses import FileResponse, Response

from oakum.desk.finds.attach import attach_file, attach_photo
from oakum.ground.errors import OakumError
from oakum.web.ask import TheHouse, author_in, done, find_or_404
from oakum.web.forms import SentForm
from oakum.web.pages.find import find_page

router = APIRouter()
_DIGEST = re.compile(r"[0-9a-f]{64}")
KEEP = {"Cache-Control": "private, max-age=31536000, immutable"}


@router.post("/finds/{find_id}/photos")
def enter_photos(request: Request, house: TheHouse, find_id: str, form: SentForm) -> Response:
    """Keep photographs; one that is no picture is refused as a picture, the good ones before it are kept."""
    find = find_or_404(house, find_id)
    author, uploads = author_in(form), form.uploads("photo")
    if not uploads:
        form.wrong("photo", "Choose at least one photograph.")
    kept = 0
    if form.good:
        for upload in uploads:
            try:
                attach_photo(
                    house.logbook,
                    find.id,
                    upload.name,
                    upload.data,
                    author=author,
                    caption=form.text("caption"),
                    scale=form.text("scale"),
                )
                kept += 1
            except (OakumError, ValueError) as error:
                field = "scale" if form.value("scale") and "scale" in type(error).__module__ else "photo"
                form.wrong(field, f"{upload.name}: {error}")
    if not form.good:
        form.partly = kept > 0
        if kept:
            form.wrong("", f"{kept} of {len(uploads)} photographs were kept; send only the others again.")
        return find_page(request, house, house.logbook.find(find.id), form, status=422, at="photo")
    return done(f"/finds/{find.id}", "photo", author=author, anchor="photographs")


@router.post("/finds/{find_id}/files")
def enter_file(request: Request, house: TheHouse, find_id: str, form: SentForm) -> Response:
    """Keep files of any kind."""
    find = find_or_404(house, find_id)
    author, uploads = author_in(form), form.uploads("file")
    if not uploads:
        form.wrong("file", "Choose a file.")
    if form.good:
        for upload in uploads:
            try:
                attach_file(
                    house.logbook,
                    find.id,
                    upload.name,
                    upload.data,
                    author=author,
                    caption=form.text("caption"),
                )
            except OakumError as error:
                form.wrong("file", f"{upload.name}: {error}")
    if not form.good:
        return find_page(request, house, find, form, status=422, at="file")
    return done(f"/finds/{find.id}", "file", author=author, anchor="files")


@router.get("/files/{sha256}/{name}")
def give_file(house: TheHouse, sha256: str, name: str) -> Response:
    """Give a kept file to save, never to be opened in the page: it came from outside."""
    if not _DIGEST.fullmatch(sha256) or sha256 not in house.files:
        raise HTTPException(404, "There is no file with this content here. It may lie in a backup.")
    headers = {
        "Content-Disposition": f"attachment; filename*=UTF-8''{quote(name, safe='')}",
        "Content-Security-Policy": "sandbox; default-src 'none'",
        **KEEP,
    }
    return FileResponse(house.files.path(sha256), media_type="application/octet-stream", headers=headers)


@router.get("/thumbs/{sha256}")
def give_thumbnail(house: TheHouse, sha256: str) -> Response:
    """Give a small copy that Oakum itself made: a fresh JPEG, or nothing."""
    if not _DIGEST.fullmatch(sha256) or sha256 not in house.files:
        raise HTTPException(404, "There is no small copy of this photograph here.")
    content = house.files.get(sha256)
    if not content.startswith(b"\xff\xd8\xff"):
        raise HTTPException(404, "This is no small copy that was made here.")
    return Response(content, media_type="image/jpeg", headers=KEEP)
