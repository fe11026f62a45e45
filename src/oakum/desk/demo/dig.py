"""The invented dig of the Tolmarren site: two squares over the ingots, their spits, and the hours of the season."""

from __future__ import annotations

from oakum.desk.seabed.dig_entering import enter_hours, enter_levels, enter_square
from oakum.record import Logbook

_SQUARES = (
    ("E12", "A 12 10\nB 14 10\nC 14 12\nD 12 12", "0.6 m"),
    ("E14", "A 14 10\nB 16 10\nC 16 12\nD 14 12", "0.6 m"),
)
_SPITS = (
    ("E12", "1", "top", "2026-06-09", "A 1.20\nB 1.22\nC 1.25\nD 1.18\nmiddle 1.21\nAB 1.22\nCD 1.23"),
    ("E12", "1", "bottom", "2026-06-11", "A 1.40\nB 1.43\nC 1.44\nD 1.38\nmiddle 1.41\nAB 1.42\nCD 1.42"),
    ("E12", "2", "bottom", "2026-06-13", "A 1.61\nB 1.62\nC 1.66\nD 1.57\nmiddle 1.63\nAB 1.63\nCD 1.62"),
    ("E14", "1", "top", "2026-06-12", "A 1.24\nB 1.27\nC 1.31\nD 1.26\nmiddle 1.27\nAB 1.25\nCD 1.28"),
    ("E14", "1", "bottom", "2026-06-15", "A 1.43\nB 1.48\nC 1.50\nD 1.44\nmiddle 1.47\nAB 1.45\nCD 1.49"),
)
"""Levels down from one string a square, kept level from corner to corner."""

_HOURS = (
    ("2026-06-10", "1", "E12", "1", "1.8", "44"),
    ("2026-06-11", "2", "E12", "1", "1.5", "35"),
    ("2026-06-13", "3", "E12", "2", "3.1", "79"),
    ("2026-06-14", "4", "E14", "1", "1.6", "41"),
    ("2026-06-15", "5", "E14", "1", "1.9", ""),
)


def enter_dig(logbook: Logbook, director: str) -> None:
    """Enter squares, levels and hours as the sheets have them; on one dive nobody counted the buckets."""
    for name, corners, planned in _SQUARES:
        enter_square(logbook, {"name": name, "corners": corners, "planned_depth": planned}, author=director)
    for square, spit, stage, on, levels in _SPITS:
        typed = {"square": square, "spit": spit, "stage": stage, "on": on, "levels": levels}
        enter_levels(logbook, typed | {"from": f"string {square}", "sd": "1 cm"}, author="recorder")
    for on, dive, square, spit, hours, buckets in _HOURS:
        typed = {"on": on, "dive": dive, "square": square, "spit": spit, "hours": hours, "buckets": buckets}
        enter_hours(logbook, typed, author="recorder")
