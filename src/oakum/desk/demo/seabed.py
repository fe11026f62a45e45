"""The invented survey of the Tolmarren site: forty marks, 250 tapes, a gauge that begins and ends on one pin.

The trouble is meant: two tapes are misread (a whole metre, two digits swapped), one tape is a little long, and the
ring of an anchor hangs on four tapes alone, whose mirrored place fits as well.
"""

from __future__ import annotations

import csv
from collections.abc import Iterator, Mapping
from importlib.resources import files
from typing import Any

from oakum.record import Draft, Logbook
from oakum.record.log.kinds_seabed import SITE

HELD = (
    ("D01", {"x": "25.52", "y": "11.87", "z": "-12.82"}),
    ("D08", {"x": "2.59", "y": "11.96", "sd": "0.03"}),
)
"""The plan's own grid: one pin is given a place, one more keeps it from turning. No map grid, no position."""

BENCH = "D01"
MIRRORED = "anchor ring"
MISREAD = (("D01", "gun breech", "8.56"), ("mast step", "D07", "10.70"))
_FIRST_DIVE = "2026-06-08"


def enter_survey(logbook: Logbook, finds: Mapping[str, str], director: str) -> None:
    """Enter marks, instruments, every tape and depth as the slates have them; `finds` are ids by the table's key."""
    marks = logbook.append_many([*_marks(finds)])
    ids = {entry.body["name"]: entry.subject for entry in marks}
    logbook.append_many(
        [
            Draft(
                "site.named",
                SITE,
                {
                    "name": "Tolmarren",
                    "anticlockwise": ["D01", "D04", "D08"],
                    "note": "Local grid: x to the east, y to the north, z upward from the water of the first dive.",
                },
                director,
            ),
            *(
                Draft("site.held", ids[name], at | {"source": "chosen, not measured"}, director)
                for name, at in HELD
            ),
            Draft("site.water", SITE, {"bench": BENCH, "note": "read at the start and the end of each dive"}, director),
            Draft("survey.instrument", None, _tape("tape 1"), "recorder"),
            Draft("survey.instrument", None, _tape("tape 2") | {"solve": ["scale"]}, "recorder"),
            Draft("survey.instrument", None, {"name": "gauge 1", "kind": "gauge", "sd": "0.05"}, "recorder"),
            *_tapes(),
            *_depths(),
        ]
    )


def _tape(name: str) -> dict[str, Any]:
    return {"name": name, "kind": "tape", "sd": "0.02", "sd_per_m": "0.0005", "longest": "30"}


def _marks(finds: Mapping[str, str]) -> Iterator[Draft]:
    for row in _rows("marks.csv"):
        body = {"name": row["name"], "what": "find" if row["find"] else row["what"]}
        if row["note"]:
            body["note"] = row["note"]
        if row["find"]:
            body["find"] = finds[row["find"]]
        yield Draft("mark.named", None, body, "recorder")


def _tapes() -> Iterator[Draft]:
    for row in _rows("tapes.csv"):
        body = {
            "what": "tape",
            "marks": [row["from"], row["to"]],
            "text": row["read"],
            "value": row["read"],
            "unit": "m",
            "instrument": row["tape"],
            "dive": row["dive"],
        }
        yield Draft("survey.read", None, body, "recorder", seen=_seen(_FIRST_DIVE, "day"))


def _depths() -> Iterator[Draft]:
    for row in _rows("depths.csv"):
        body = {
            "what": "depth",
            "marks": [row["mark"]],
            "text": row["read"],
            "value": row["read"],
            "unit": "m",
            "instrument": row["gauge"],
            "dive": row["dive"],
        }
        yield Draft("survey.read", None, body, "recorder", seen=_seen(row["at"], "minute"))


def _seen(at: str, precision: str) -> dict[str, str]:
    return {"at": at, "zone": "Europe/London", "precision": precision, "by": "diver", "from": "slate"}


def _rows(name: str) -> list[dict[str, str]]:
    text = files("oakum.desk.demo").joinpath(f"tolmarren/{name}").read_text("utf-8")
    return list(csv.DictReader(text.splitlines()))
