"""The README is true: its first command and every example run as written, from another folder."""

from __future__ import annotations

import os
import re
import shlex
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PAGES = [ROOT / "README.md", *sorted((ROOT / "docs").glob("*.md"))]
FENCE = re.compile(r"^```sh\n(.*?)^```", re.MULTILINE | re.DOTALL)
TEST_COMMAND = "python3 dev.py test"
DEMO_COMMAND = "python3 dev.py run demo"


def commands(page: Path) -> list[str]:
    return [line for block in FENCE.findall(page.read_text()) for line in block.splitlines() if line.strip()]


def words(line: str) -> list[str]:
    return [
        sys.executable if w == "python3" else str(ROOT / w) if w == "dev.py" else w for w in shlex.split(line)
    ]


def examples(page: Path) -> list[str]:
    return [line for line in commands(page) if line not in (TEST_COMMAND, DEMO_COMMAND)]


def test_the_two_commands_stand_in_the_readme() -> None:
    assert commands(ROOT / "README.md")[:2] == [DEMO_COMMAND, TEST_COMMAND]


def test_ci_calls_exactly_the_test_command_of_the_readme() -> None:
    assert (ROOT / ".ci/run").read_text().strip().splitlines()[-1] == f"exec {TEST_COMMAND}"


def test_the_first_command_prints_the_weights_and_serves_at_a_link(tmp_path: Path) -> None:
    with subprocess.Popen(
        words(DEMO_COMMAND),
        cwd=tmp_path,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        env={**os.environ, "PYTHONUNBUFFERED": "1"},
        start_new_session=True,
    ) as child:
        assert child.stdout is not None
        seen, deadline = "", time.monotonic() + 90
        while not re.search(r"http://127\.0\.0\.1:\d+/\S+", seen) and time.monotonic() < deadline:
            line = child.stdout.readline()
            if not line and child.poll() is not None:
                break
            seen += line
        os.killpg(child.pid, signal.SIGINT)
        child.wait(timeout=20)
    assert re.search(r"http://127\.0\.0\.1:\d+/\S+", seen), seen
    assert "likely" in seen and "9 in 10 within" in seen
    assert list(tmp_path.glob("*.oakum/logbook.sqlite"))


@pytest.mark.parametrize("page", [p for p in PAGES if examples(p)], ids=lambda p: p.name)
def test_every_example_of_the_page_runs_as_written(page: Path, tmp_path: Path) -> None:
    (tmp_path / "docs").symlink_to(ROOT / "docs")
    for line in examples(page):
        done = subprocess.run(words(line), cwd=tmp_path, capture_output=True, text=True, timeout=120)
        assert done.returncode == 0, f"{line}\n{done.stdout}\n{done.stderr}"
        assert done.stdout.strip(), f"{line} printed nothing"
