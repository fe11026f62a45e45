"""A program that is killed while it writes.

What this does not prove: a killed process loses nothing that the system had already taken, so these kills are
milder than a power cut, a disk that lies about having written, or a network share. The settings for those
(synchronous EXTRA or FULL, rollback journal) are SQLite's own promise, which is not tested here.
"""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
from pathlib import Path

from oakum.record import Logbook

WRITER = """
import sys
from oakum.record import Logbook
log = Logbook.open(sys.argv[1])
print("ready", flush=True)
while True:
    entry = log.append("find.entered", None, {"title": "jar " + "x" * 500}, author="recorder")
    print(entry.id, flush=True)
"""
KILLS = 20


def kill_a_writer(folder: Path, after: int) -> list[str]:
    """Start a writer, kill it once it has acknowledged `after` entries, and return all it acknowledged."""
    writer = subprocess.Popen(
        [sys.executable, "-c", WRITER, str(folder)], stdout=subprocess.PIPE, text=True, bufsize=1
    )
    assert writer.stdout is not None
    lines = [writer.stdout.readline() for _ in range(after + 1)]
    os.kill(writer.pid, signal.SIGKILL)
    lines += writer.stdout.readlines()
    writer.stdout.close()
    assert writer.wait(timeout=20) == -signal.SIGKILL and lines[0] == "ready\n"
    return [line.strip() for line in lines[1:] if len(line) == 37]


def test_twenty_kills_lose_no_acknowledged_entry_and_leave_the_chain_whole(tmp_path: Path) -> None:
    rng = random.Random(20)
    acknowledged: list[str] = []
    with Logbook.create(tmp_path, "Tolmarren") as log:
        for _ in range(KILLS):
            acknowledged += kill_a_writer(log.folder, rng.randint(1, 12))
            kept = {entry.id for entry in log.entries()}
            assert set(acknowledged) <= kept
        assert len(acknowledged) >= KILLS and log.check().ok
        # At most the one entry a kill caught between commit and print is there without being acknowledged.
        assert len(kept) - 3 - len(acknowledged) <= KILLS
        numbers = [entry.body["number"] for entry in log.entries(kind="find.entered")]
        assert len(set(numbers)) == len(numbers)
