"""The shipped script of others is the one that was published, with its licence beside it."""

from __future__ import annotations

import hashlib
from importlib.resources import files

STATIC = files("oakum.web").joinpath("static")


def test_every_vendored_file_has_its_published_digest_and_a_licence() -> None:
    listed = dict(
        reversed(line.split("  ")) for line in STATIC.joinpath("vendor/SHA256SUMS").read_text().splitlines()
    )
    scripts = [entry.name for entry in STATIC.joinpath("vendor").iterdir() if entry.name.endswith(".js")]
    assert sorted(listed) == sorted(scripts) == ["htmx-4.0.1.min.js"]
    for name, digest in listed.items():
        assert hashlib.sha256(STATIC.joinpath("vendor", name).read_bytes()).hexdigest() == digest
    assert "with or without fee" in STATIC.joinpath("vendor/htmx-LICENSE.txt").read_text()


def test_fonts_carry_their_licence_and_are_small() -> None:
    fonts = [entry for entry in STATIC.joinpath("fonts").iterdir() if entry.name.endswith(".woff2")]
    assert len(fonts) == 5 and all(font.read_bytes()[:4] == b"wOF2" for font in fonts)
    assert sum(len(font.read_bytes()) for font in fonts) < 250_000
    assert "SIL OPEN FONT LICENSE Version 1.1" in STATIC.joinpath("fonts/OFL.txt").read_text()


def test_our_own_files_ask_no_other_host() -> None:
    for name in ("oakum.css", "oakum.js"):
        assert "//" not in STATIC.joinpath(name).read_text().replace("/*", "").replace("*/", "")
