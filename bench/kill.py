"""Kill a writing program 200 times and count what was acknowledged and lost.

    python bench/kill.py [kills, default 200]

A killed process is milder than a power cut: what the system had taken is not lost. See tests/record/test_log_kill.py.
"""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import tempfile
import time

from oakum.record import Logbook

WRITER = """
import sys
from oakum.record import Logbook
log = Logbook.open(sys.argv[1])
print("ready", flush=True)
while True:
    print(log.append("find.entered", None, {"title": "jar " + "x" * 500}, author="recorder").id, flush=True)
"""


def one_kill(folder: str, wait_s: float) -> list[str]:
    with subprocess.Popen(
        [sys.executable, "-c", WRITER, folder], stdout=subprocess.PIPE, text=True
    ) as writer:
        assert writer.stdout is not None
        assert writer.stdout.readline() == "ready\n"
        time.sleep(wait_s)
        os.kill(writer.pid, signal.SIGKILL)
        return [line.strip() for line in writer.stdout.readlines() if len(line) == 37]


def main() -> None:
    kills = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    rng = random.Random(200)
    acknowledged: set[str] = set()
    lost, broken, began = 0, 0, time.perf_counter()
    with tempfile.TemporaryDirectory() as name, Logbook.create(name, "Kill", numbers=(1, 999_999)) as log:
        for _ in range(kills):
            acknowledged |= set(one_kill(str(log.folder), rng.uniform(0.0, 0.12)))
            kept = {entry.id for entry in log.entries()}
            lost += len(acknowledged - kept)
        report = log.check()
        broken += not report.ok
        unprinted = len(kept) - 3 - len(acknowledged)
    print(f"{'kills':36}{kills:8}")
    print(f"{'entries acknowledged':36}{len(acknowledged):8}")
    print(f"{'acknowledged and lost':36}{lost:8}")
    print(f"{'kept, killed before it was printed':36}{unprinted:8}")
    print(f"{'chain and file after the last kill':36}{'whole' if not broken else 'BROKEN':>8}")
    print(f"{'seconds':36}{time.perf_counter() - began:8.1f}")
    if lost or broken:
        print(report.words())
        sys.exit(1)


if __name__ == "__main__":
    main()
