"""The store of files: photographs, drawings, reports, each kept once under the SHA-256 of its content.

A file is written to a temporary name, forced to disk and only then given its place, so that a power cut or a
full disk leaves either the whole file or none. Originals are never altered. Source of the digest: FIPS 180-4,
SHA-256.
"""

from __future__ import annotations

import errno
import hashlib
import io
import os
import re
import time
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO
from uuid import uuid4

from oakum.record.errors import DiskFullError, ReadOnlyError, RecordError
from oakum.record.files.media_types import HEAD_BYTES, media_type

DEFAULT_LIMIT_BYTES = 2 * 1024**3
LEFTOVER_AGE_S = 24 * 3600.0

_CHUNK_BYTES = 1024**2
_DIGEST = re.compile(r"[0-9a-f]{64}")
_PART = ".part-"


class FileStoreError(RecordError):
    """A file could not be kept or found; the text says why and what to do."""


@dataclass(frozen=True, slots=True)
class StoredFile:
    """A file in the store: digest of its content (64 hex digits), size in bytes, and what kind it is."""

    sha256: str
    size: int
    media_type: str


@dataclass(frozen=True, slots=True)
class FixityReport:
    """What `FileStore.verify_all` found.

    `missing`, `changed` (the content no longer fits) and `unasked` (there, but not asked for) are digests.
    """

    checked: int
    missing: tuple[str, ...]
    changed: tuple[str, ...]
    unasked: tuple[str, ...]

    @property
    def whole(self) -> bool:
        """True if every file that was asked for is there and unchanged."""
        return not self.missing and not self.changed

    def words(self) -> str:
        """The finding as a sentence, with what to do where something is wrong."""
        if self.whole:
            return f"{self.checked} files read again, each as it was when it was kept."
        return (
            f"{self.checked} files read again: {len(self.missing)} missing, "
            f"{len(self.changed)} changed on the disk. Bring them back from a backup; "
            "putting the same file in again also heals it. First: " + (self.missing + self.changed)[0]
        )


class FileStore:
    """Files under `folder`, each named by its SHA-256. Several programs may put and read at the same time."""

    def __init__(self, folder: Path, *, limit_bytes: int = DEFAULT_LIMIT_BYTES) -> None:
        self.folder = folder
        self.limit_bytes = limit_bytes

    def put(self, source: bytes | BinaryIO, *, name: str = "") -> StoredFile:
        """Keep the whole of `source`, of any kind, and say under which digest.

        A file that is there already is kept once. `name` is only for messages and the media type. Raises
        `FileStoreError` for a file above the limit, `DiskFullError` or `ReadOnlyError` for a disk that cannot
        take it; nothing of the file remains then.
        """
        stream: BinaryIO = io.BytesIO(source) if isinstance(source, bytes) else source
        part = self.folder / f"{_PART}{uuid4().hex}"
        with _told(self.folder, name):
            self.folder.mkdir(parents=True, exist_ok=True)
            try:
                stored = self._write(stream, part, name)
                os.replace(part, self.folder / stored.sha256)
                _flush_folder(self.folder)
            finally:
                part.unlink(missing_ok=True)
        return stored

    def _write(self, stream: BinaryIO, part: Path, name: str) -> StoredFile:
        digest, size, head = hashlib.sha256(), 0, b""
        with open(part, "xb") as out:
            while chunk := stream.read(_CHUNK_BYTES):
                size += len(chunk)
                if size > self.limit_bytes:
                    raise FileStoreError(
                        f"{name or 'The file'} is larger than {_size_words(self.limit_bytes)}, the limit for "
                        "one file; nothing of it was kept. Make it smaller, cut it in parts, or keep it "
                        "elsewhere and note where."
                    )
                if len(head) < HEAD_BYTES:
                    head += chunk[: HEAD_BYTES - len(head)]
                digest.update(chunk)
                out.write(chunk)
            out.flush()
            os.fsync(out.fileno())
        return StoredFile(digest.hexdigest(), size, media_type(head, name))

    def path(self, sha256: str) -> Path:
        """Where the file of this digest lies; raises `FileStoreError` if it is no digest or not there."""
        if not _DIGEST.fullmatch(sha256):
            raise FileStoreError(
                f"{sha256[:80]!r} names no file: expected the 64 digits and letters of a SHA-256."
            )
        path = self.folder / sha256
        if not path.is_file():
            raise FileStoreError(
                f"The file {sha256} is not in {self.folder}. Bring it back from a backup, or put the same "
                "file in again."
            )
        return path

    def __contains__(self, sha256: str) -> bool:
        return bool(_DIGEST.fullmatch(sha256)) and (self.folder / sha256).is_file()

    def open(self, sha256: str) -> BinaryIO:
        """The file of this digest, open for reading."""
        return open(self.path(sha256), "rb")

    def get(self, sha256: str) -> bytes:
        """The whole content, checked against its digest; `FileStoreError` if it is missing or changed."""
        content = self.path(sha256).read_bytes()
        if hashlib.sha256(content).hexdigest() != sha256:
            raise FileStoreError(
                f"The file {sha256} was changed on the disk: its content no longer fits its name. "
                "Bring it back from a backup, or put the same file in again."
            )
        return content

    def digests(self) -> tuple[str, ...]:
        """Every digest that has a file, in order."""
        if not self.folder.is_dir():
            return ()
        return tuple(sorted(path.name for path in self.folder.iterdir() if _DIGEST.fullmatch(path.name)))

    def verify_all(
        self, expected: Iterable[str] | None = None, *, progress: Callable[[int, int], None] | None = None
    ) -> FixityReport:
        """Read every file again and compare it with its digest.

        `expected` are the digests the logbook knows (None: whatever is there). `progress(done, total)` is
        called after each file.
        """
        present = set(self.digests())
        asked = present if expected is None else set(expected)
        there = sorted(present)
        changed = []
        for done, sha256 in enumerate(there, start=1):
            if self._digest_of(sha256) != sha256:
                changed.append(sha256)
            if progress:
                progress(done, len(there))
        missing, unasked = sorted(asked - present), sorted(present - asked)
        return FixityReport(len(there), tuple(missing), tuple(changed), tuple(unasked))

    def _digest_of(self, sha256: str) -> str:
        try:
            with open(self.folder / sha256, "rb") as stream:
                return hashlib.file_digest(stream, "sha256").hexdigest()
        except OSError:
            return ""

    def remove_leftovers(self, *, older_than_s: float = LEFTOVER_AGE_S) -> int:
        """Delete half-written temporary files of programs that were killed long ago; gives how many."""
        leftovers = [path for path in self.folder.glob(f"{_PART}*") if _age_s(path) > older_than_s]
        for path in leftovers:
            path.unlink(missing_ok=True)
        return len(leftovers)


def _age_s(path: Path) -> float:
    try:
        return time.time() - path.stat().st_mtime
    except FileNotFoundError:
        return 0.0


def _flush_folder(folder: Path) -> None:
    """Force the new name itself to disk; systems that cannot open a folder keep names their own way."""
    if os.name != "posix":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


@contextmanager
def _told(folder: Path, name: str) -> Iterator[None]:
    """Turn what the system says about a disk into a sentence that says what to do."""
    try:
        yield
    except OSError as error:
        what = f"{name or 'The file'} was not kept, nothing of it was written: "
        if error.errno in (errno.ENOSPC, errno.EDQUOT, errno.EFBIG):
            raise DiskFullError(
                f"{what}the disk is full or its limit is reached. Free some space and try again."
            ) from error
        if error.errno in (errno.EACCES, errno.EPERM, errno.EROFS):
            raise ReadOnlyError(
                f"{what}{folder} may not be written. Check the rights of this folder."
            ) from error
        raise FileStoreError(
            f"{what}{error.strerror or error}. Check the disk that holds {folder}."
        ) from error


def _size_words(size: int) -> str:
    value, units = float(size), ["bytes", "KiB", "MiB", "GiB"]
    while value >= 1024 and len(units) > 1:
        value /= 1024
        units.pop(0)
    return f"{value:.4g} {units[0]}"
