"""The shipped scripts: others' as published, with their licence; our built one from the sources beside it."""

from __future__ import annotations

import hashlib
import re
import shutil
import subprocess
from importlib.resources import files
from pathlib import Path

STATIC = files("oakum.web").joinpath("static")
FRONTEND = Path(__file__).resolve().parents[2] / "frontend"
VIEW = "view3d-three-0.187.0.min.js"


def digest(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def sums(text: str) -> dict[str, str]:
    return {name: value for value, name in (line.split("  ") for line in text.splitlines())}


def test_every_vendored_file_has_its_published_digest_and_a_licence() -> None:
    listed = sums(STATIC.joinpath("vendor/SHA256SUMS").read_text())
    scripts = [entry.name for entry in STATIC.joinpath("vendor").iterdir() if entry.name.endswith(".js")]
    assert sorted(listed) == sorted(scripts) == ["htmx-4.0.1.min.js", VIEW]
    for name, value in listed.items():
        assert digest(STATIC.joinpath("vendor", name).read_bytes()) == value
    assert "with or without fee" in STATIC.joinpath("vendor/htmx-LICENSE.txt").read_text()
    assert "three.js authors" in STATIC.joinpath("vendor/three-LICENSE.txt").read_text()
    assert "three-LICENSE.txt" in STATIC.joinpath("vendor", VIEW).read_text()[:200]


def test_the_built_view_is_that_of_its_sources() -> None:
    listed = sums((FRONTEND / "BUILT.sha256").read_text())
    assert listed.pop(VIEW) == digest(STATIC.joinpath("vendor", VIEW).read_bytes())
    sources = ["build.mjs", "package.json", *(f"src/{p.name}" for p in (FRONTEND / "src").iterdir())]
    assert sorted(listed) == sorted(sources)
    changed = [name for name, value in listed.items() if digest((FRONTEND / name).read_bytes()) != value]
    assert changed == [], "changed without a new build: `npm run build` in frontend/"


def test_built_again_the_view_has_the_same_bytes(tmp_path: Path) -> None:
    """Where the maintainers' tools are installed; elsewhere the digests above have to do."""
    node = shutil.which("node")
    if node is None or not (FRONTEND / "node_modules/esbuild").is_dir():
        assert digest(STATIC.joinpath("vendor", VIEW).read_bytes()) in (FRONTEND / "BUILT.sha256").read_text()
        return
    before = (FRONTEND / "BUILT.sha256").read_bytes()
    words = [node, str(FRONTEND / "build.mjs"), "--to", str(tmp_path)]
    built = subprocess.run(words, capture_output=True, text=True, timeout=120)
    assert built.returncode == 0, built.stderr
    for name in (VIEW, "three-LICENSE.txt"):
        assert (tmp_path / name).read_bytes() == STATIC.joinpath("vendor", name).read_bytes()
    assert (FRONTEND / "BUILT.sha256").read_bytes() == before


def test_the_frontend_pins_exact_versions_and_names_no_address() -> None:
    text = (FRONTEND / "package.json").read_text()
    pins = re.findall(r'"(three|esbuild)": "([^"]+)"', text)
    assert len(pins) == 2 and all(re.fullmatch(r"\d+\.\d+\.\d+", version) for _, version in pins)
    assert dict(pins)["three"] in VIEW
    assert "://" not in "".join(p.read_text() for p in [FRONTEND / "package.json", *(FRONTEND / "src").iterdir()])


def test_fonts_carry_their_licence_and_are_small() -> None:
    fonts = [entry for entry in STATIC.joinpath("fonts").iterdir() if entry.name.endswith(".woff2")]
    assert len(fonts) == 5 and all(font.read_bytes()[:4] == b"wOF2" for font in fonts)
    assert sum(len(font.read_bytes()) for font in fonts) < 250_000
    assert "SIL OPEN FONT LICENSE Version 1.1" in STATIC.joinpath("fonts/OFL.txt").read_text()


def test_our_own_files_ask_no_other_host() -> None:
    for name in ("oakum.css", "oakum.js", "scene.css", "scene.js"):
        assert "//" not in STATIC.joinpath(name).read_text().replace("/*", "").replace("*/", "")
