"""Finds as log entries against plain rows, in the same run: what chain, views and search cost.

    python bench/logbook.py [number of finds, default 100000]

The plain baseline is sqlite3.executemany of rows of nine columns in one transaction into a bare table with the
same settings of journal and durability. The second baseline is a plain register that answers the same questions
(unique number, order, full-text search), in batches like ours, without a log. The logbook writes the same nine
facts a find, checked, canonical, hashed onto the chain, with the register and the full-text index kept up. CPU
seconds of the process. Most of the first ratio is the register itself; the second is what the log adds to it.
"""

from __future__ import annotations

import random
import sqlite3
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from oakum.record import Draft, Logbook

BATCH = 5000
KINDS = ("jar", "shoe", "shot", "timber", "ingot", "plate", "spoon", "hoop", "block", "sheave")
MATERIALS = ("oak", "iron", "leather", "stoneware", "pewter", "lead", "bronze", "elm")
PLACES = tuple(f"{letter}{number}" for letter in "ABCDEFGH" for number in range(1, 13))
FIELDS = ["title", "material", "count", "place", "found_on", "context", "condition", "description", "marks"]


def facts(count: int) -> list[dict[str, str | int]]:
    rng = random.Random(1670)
    made: list[dict[str, str | int]] = []
    for index in range(count):
        kind, material = rng.choice(KINDS), rng.choice(MATERIALS)
        made.append(
            {
                "title": f"{kind} of {material}",
                "material": material,
                "count": 1 + index % 40,
                "place": rng.choice(PLACES),
                "found_on": f"2026-06-{1 + index % 28:02d}",
                "context": f"layer {index % 7}",
                "condition": "waterlogged, firm",
                "description": f"{material} {kind}, lot {index}, edge worn",
                "marks": f"mark {index % 500}",
            }
        )
    return made


def plain(rows: list[dict[str, str | int]], folder: Path) -> None:
    connection = sqlite3.connect(folder / "plain.sqlite")
    connection.execute("PRAGMA synchronous=EXTRA")
    connection.execute(f"CREATE TABLE find (id INTEGER PRIMARY KEY, {', '.join(FIELDS)})")
    marks = ",".join("?" * len(FIELDS))
    with connection:
        connection.executemany(
            f"INSERT INTO find ({', '.join(FIELDS)}) VALUES ({marks})", (tuple(row.values()) for row in rows)
        )
    connection.close()


def register(rows: list[dict[str, str | int]], folder: Path) -> None:
    connection = sqlite3.connect(folder / "register.sqlite", isolation_level=None)
    connection.execute("PRAGMA synchronous=EXTRA")
    connection.execute(
        f"CREATE TABLE find (id INTEGER PRIMARY KEY, number TEXT UNIQUE, {', '.join(FIELDS)}, words TEXT)"
    )
    connection.execute(
        "CREATE VIRTUAL TABLE find_words USING fts5(words, content='find', content_rowid='id')"
    )
    marks = ",".join("?" * (len(FIELDS) + 3))
    for start in range(0, len(rows), BATCH):
        batch = [
            (index, f"B-{index:09d}", *row.values(), " ".join(map(str, row.values())))
            for index, row in enumerate(rows[start : start + BATCH], start + 1)
        ]
        connection.execute("BEGIN IMMEDIATE")
        connection.executemany(f"INSERT INTO find VALUES ({marks})", batch)
        connection.execute(
            "INSERT INTO find_words (rowid, words) SELECT id, words FROM find WHERE id > ?", (start,)
        )
        connection.execute("COMMIT")
    connection.close()


def logged(rows: list[dict[str, str | int]], log: Logbook) -> None:
    for start in range(0, len(rows), BATCH):
        log.append_many(Draft("find.entered", None, row, "recorder") for row in rows[start : start + BATCH])


def cpu(work: Callable[[], object]) -> tuple[float, float]:
    cpu_start, wall_start = time.process_time(), time.perf_counter()
    work()
    return time.process_time() - cpu_start, time.perf_counter() - wall_start


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 100_000
    rows = facts(count)
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        log = Logbook.create(folder, "Bench", numbers=(1, max(count, 1)))
        log.append("find.entered", None, {"title": "warm up", "number": None}, author="recorder")
        log.close()
        log = Logbook.create(folder / "timed", "Bench", numbers=(1, max(count, 1)))
        base, base_wall = cpu(lambda: plain(rows, folder))
        lines = [("plain rows, executemany", base, base_wall)]
        lines.append(("plain register with search", *cpu(lambda: register(rows, folder))))
        lines.append(("logbook: chain, views, search", *cpu(lambda: logged(rows, log))))
        lines.append(("rebuild of all views", *cpu(log.rebuild)))
        report = None

        def check() -> None:
            nonlocal report
            report = log.check()

        lines.append(("check: every hash, every view", *cpu(check)))
        assert report is not None and report.ok and report.entries == count + 3
        lines.append(("search, a rare word", *cpu(lambda: log.finds(f"lot {count // 2}"))))
        lines.append(("search, a word in every tenth", *cpu(lambda: log.finds("jar"))))
        lines.append(("a page of 50", *cpu(lambda: log.finds())))
        size = log.path.stat().st_size / 1e6
        log.close()
    print(f"{count:,} finds of nine facts; SQLite {sqlite3.sqlite_version}; file {size:.0f} MB")
    print(f"{'':32}{'CPU s':>9}{'wall s':>9}{'to rows':>9}{'to register':>13}")
    second = lines[1][1]
    for title, used, wall in lines:
        print(f"{title:32}{used:9.3f}{wall:9.3f}{used / base:9.2f}{used / second:13.2f}")


if __name__ == "__main__":
    main()
