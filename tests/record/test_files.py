"""The file store: whole or not at all, found by content, checked again."""

from __future__ import annotations

import hashlib
import io
import os
import subprocess
import sys
import textwrap
import threading

import pytest

from oakum.record.errors import DiskFullError, RecordError
from oakum.record.files.media_types import media_type
from oakum.record.files.store import FileStore, FileStoreError


@pytest.fixture
def store(tmp_path):
    return FileStore(tmp_path / "files")


def test_a_file_is_kept_under_the_sha256_of_fips_180(store):
    stored = store.put(b"abc")
    # FIPS 180-4 example value, mark: read.
    assert stored.sha256 == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert stored.size == 3
    assert store.get(stored.sha256) == b"abc"
    assert [p.name for p in store.folder.iterdir()] == [stored.sha256]


def test_a_stream_of_several_pieces_is_kept_whole(store):
    content = os.urandom(3 * 1024**2 + 17)
    stored = store.put(io.BytesIO(content))
    assert stored.sha256 == hashlib.sha256(content).hexdigest()
    assert store.open(stored.sha256).read() == content
    assert stored.sha256 in store


def test_the_same_content_is_kept_once(store):
    assert store.put(b"a photograph", name="a.jpg") == store.put(b"a photograph", name="a.jpg")
    assert len(store.digests()) == 1


def test_any_file_is_kept_even_an_empty_one(store):
    assert store.put(b"").size == 0
    assert store.put(b"\x00\x01\x02 no known kind").media_type == "application/octet-stream"


def test_a_file_above_the_limit_leaves_nothing(tmp_path):
    store = FileStore(tmp_path / "files", limit_bytes=1024**2)
    with pytest.raises(FileStoreError, match=r"dive\.mp4 is larger than 1 MiB.*nothing of it was kept"):
        store.put(io.BytesIO(b"x" * (2 * 1024**2)), name="dive.mp4")
    assert list(store.folder.iterdir()) == []


class _BreaksOff(io.RawIOBase):
    def __init__(self):
        self.given = False

    def read(self, size=-1):
        if self.given:
            raise ConnectionResetError("the phone left the network")
        self.given = True
        return b"half"


def test_an_upload_that_breaks_off_leaves_nothing(store):
    with pytest.raises(FileStoreError, match="nothing of it was written"):
        store.put(_BreaksOff())
    assert list(store.folder.iterdir()) == []


FULL_DISK = """
import resource, sys
from pathlib import Path
from oakum.record.errors import DiskFullError
from oakum.record.files.store import FileStore
resource.setrlimit(resource.RLIMIT_FSIZE, (200_000, 200_000))
store = FileStore(Path(sys.argv[1]))
try:
    store.put(b"x" * 3_000_000, name="trench.tif")
except DiskFullError as error:
    print(error)
    print(sorted(p.name for p in store.folder.iterdir()))
"""


def test_a_full_disk_is_said_and_leaves_nothing(tmp_path):
    done = subprocess.run(
        [sys.executable, "-c", textwrap.dedent(FULL_DISK), str(tmp_path / "files")],
        capture_output=True,
        text=True,
        check=True,
    )
    said, left = done.stdout.splitlines()
    assert "trench.tif was not kept" in said
    assert "Free some space" in said
    assert left == "[]"
    assert issubclass(DiskFullError, RecordError)


def test_a_folder_that_is_a_file_is_told(tmp_path):
    (tmp_path / "files").write_text("in the way")
    with pytest.raises(FileStoreError, match="was not kept"):
        FileStore(tmp_path / "files").put(b"abc")


@pytest.mark.parametrize("digest", ["../../etc/passwd", "abc", "A" * 64, "a" * 63, "a" * 65])
def test_only_a_digest_names_a_file(store, digest):
    with pytest.raises(FileStoreError, match="names no file"):
        store.get(digest)
    assert digest not in store


def test_a_digest_that_is_not_there_is_told(store):
    with pytest.raises(FileStoreError, match="is not in"):
        store.open("0" * 64)


def test_fixity_finds_what_is_missing_changed_and_extra(store):
    whole, bent, gone = (store.put(text).sha256 for text in (b"one", b"two", b"three"))
    (store.folder / bent).write_bytes(b"tw0")
    (store.folder / gone).unlink()
    seen = []
    report = store.verify_all({bent, gone}, progress=lambda done, total: seen.append((done, total)))
    assert (report.checked, report.missing, report.changed, report.unasked) == (2, (gone,), (bent,), (whole,))
    assert seen == [(1, 2), (2, 2)]
    assert not report.whole
    assert "1 missing, 1 changed" in report.words()
    with pytest.raises(FileStoreError, match="was changed on the disk"):
        store.get(bent)


def test_putting_the_same_file_in_again_heals_a_changed_one(store):
    bent = store.put(b"two").sha256
    (store.folder / bent).write_bytes(b"tw0")
    store.put(b"two")
    report = store.verify_all()
    assert report.whole
    assert report.words() == "1 files read again, each as it was when it was kept."
    assert store.get(bent) == b"two"


def test_leftovers_of_killed_programs_are_no_files_and_can_be_removed(store):
    store.put(b"kept")
    leftover = store.folder / ".part-0123"
    leftover.write_bytes(b"half")
    assert store.verify_all().checked == 1
    assert store.remove_leftovers() == 0
    os.utime(leftover, (0, 0))
    assert store.remove_leftovers() == 1
    assert len(store.digests()) == 1


def test_two_programs_may_put_the_same_files_at_once(store):
    contents = [bytes([i]) * 100_000 for i in range(12)]
    failures = []

    def put_all():
        try:
            for content in contents:
                store.put(content)
        except Exception as error:
            failures.append(error)

    threads = [threading.Thread(target=put_all) for _ in range(3)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failures == []
    assert store.verify_all().checked == 12
    assert store.verify_all().whole


@pytest.mark.parametrize(
    ("head", "name", "kind"),
    [
        (b"\xff\xd8\xff\xe1..", "x.txt", "image/jpeg"),
        (b"\x89PNG\r\n\x1a\n..", "", "image/png"),
        (b"RIFF\x00\x00\x00\x00WEBPVP8 ", "", "image/webp"),
        (b"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic", "", "image/heic"),
        (b"\x00\x00\x00\x1cftypmif1\x00\x00\x00\x00mif1avif", "", "image/avif"),
        (b"\x00\x00\x00\x18ftypmp42\x00\x00\x00\x00isommp42", "", "video/mp4"),
        (b"%PDF-1.7", "", "application/pdf"),
        (b'<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg">', "a.jpg", "image/svg+xml"),
        (b"\xef\xbb\xbf<!DOCTYPE html><p>", "a.jpg", "text/html"),
        (b"number;name\n14;bell\n", "finds.CSV", "text/csv"),
        ("Glocke für Boot".encode(), "", "text/plain"),
        (b"caf\xe9 in an old code page", "", "application/octet-stream"),
        (b"", "", "application/octet-stream"),
    ],
)
def test_the_kind_of_a_file_is_told_by_its_beginning(head, name, kind):
    assert media_type(head, name) == kind
