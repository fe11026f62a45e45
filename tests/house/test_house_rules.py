"""The rules of the house that a machine can hold: layers, lint, types, file sizes, words."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SOURCES = sorted((ROOT / "src").rglob("*.py"))


def run(*words: str) -> subprocess.CompletedProcess[str]:
    env = {**os.environ, "NO_COLOR": "1"}
    return subprocess.run([sys.executable, "-m", *words], cwd=ROOT, capture_output=True, text=True, env=env)


def tracked() -> list[Path]:
    listing = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True).stdout
    return [ROOT / name for name in listing.split("\0") if name and (ROOT / name).is_file()]


def test_imports_run_one_way_only() -> None:
    found = subprocess.run(
        [str(Path(sys.executable).parent / "lint-imports"), "--no-cache"],
        cwd=ROOT,
        capture_output=True,
        text=True,
    )
    assert found.returncode == 0, found.stdout + found.stderr


def test_ruff_finds_nothing() -> None:
    found = run("ruff", "check", "--no-cache", "src", "tests", "bench", "dev.py")
    assert found.returncode == 0, found.stdout


def test_mypy_strict_finds_nothing() -> None:
    found = run("mypy", "--strict", "src")
    assert found.returncode == 0, found.stdout


def test_no_source_file_is_over_400_lines() -> None:
    long = {
        p.relative_to(ROOT).as_posix(): n for p in SOURCES if (n := len(p.read_text().splitlines())) > 400
    }
    assert SOURCES and not long


def test_no_machine_path_or_registry_address_is_in_a_text_file() -> None:
    halves = [("py", "pi.org"), ("python", "hosted"), ("registry.", "npmjs"), ("deb.", "debian")]
    pattern = re.compile(
        "|".join([r"(?<![\w.])/(?:root|farm|home/[a-z]+)/\w+", *(re.escape(a + b) for a, b in halves)])
    )
    hits = []
    for path in tracked():
        if path.suffix in {
            ".py",
            ".md",
            ".toml",
            ".lock",
            ".in",
            ".html",
            ".css",
            ".typ",
            ".csv",
            ".txt",
            "",
        }:
            text = path.read_text(encoding="utf-8", errors="replace")
            hits += [f"{path.relative_to(ROOT)}: {m.group()}" for m in pattern.finditer(text)]
    assert not hits


def test_locks_pin_every_package_by_hash_and_name_no_address() -> None:
    for lock in sorted((ROOT / "locks").glob("*.lock")):
        text = lock.read_text()
        blocks = re.split(r"\n(?=\S)", text.strip())
        assert blocks and all("--hash=sha256:" in b and "==" in b for b in blocks), lock.name
        assert "://" not in text, lock.name


def test_version_is_answered_without_loading_numbers_pages_or_the_database() -> None:
    code = (
        "import sys, runpy; sys.argv=['oakum','--version']\n"
        "try: runpy.run_module('oakum', run_name='__main__')\n"
        "except SystemExit: pass\n"
        "print([m for m in ('numpy','scipy','sqlalchemy','fastapi','typst','trimesh','pydantic') if m in sys.modules])"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True).stdout.splitlines()
    assert out[-1] == "[]" and re.match(r"\d+\.\d+\.\d+", out[0])


def test_no_page_sheet_or_message_calls_anything_safe() -> None:
    verdict = re.compile(r"\b(is|are|as) safe\b|\bsafe to\b|\bsafely\b", re.IGNORECASE)
    denial = re.compile(r"never|not|no\b", re.IGNORECASE)
    hits = []
    for path in [
        *SOURCES,
        *(ROOT / "src").rglob("*.html"),
        *(ROOT / "src").rglob("*.typ"),
        *(ROOT / "docs").glob("*.md"),
    ]:
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
            if verdict.search(line) and not denial.search(line):
                hits.append(f"{path.relative_to(ROOT)}:{number}: {line.strip()}")
    assert not hits
