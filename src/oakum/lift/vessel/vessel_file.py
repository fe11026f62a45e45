"""A vessel from a TOML text and its CSVs. The format is described, with an example that the tests run, in
docs/vessel-file.md.

Reading goes on after an error, so that one run lists everything that is to be put right.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping

from oakum.lift.body.cursor import Cursor, Notes
from oakum.lift.body.errors import BodyFileError
from oakum.lift.body.lines import key_lines
from oakum.lift.body.single import one, pick, tag_kg
from oakum.lift.body.toml_text import toml_table
from oakum.lift.vessel.derrick import Derrick
from oakum.lift.vessel.file_particulars import read_particulars
from oakum.lift.vessel.file_problems import VesselReading
from oakum.lift.vessel.file_tables import read_all_motions, read_charts
from oakum.lift.vessel.papers import Pivot, Side, VesselPapers, WindArea

_SIDES: tuple[Side, ...] = ("port", "starboard")


class VesselFileError(BodyFileError):
    """A vessel file that cannot be taken; `problems` lists all that is wrong, in the order of the file."""


def parse_vessel(
    toml_text: str, files: Mapping[str, bytes] | None = None, name: str = "vessel"
) -> VesselPapers:
    """Return what a TOML text and its CSVs say about a vessel.

    `files` holds the bytes of each CSV the text names (see `vessel_files`); `name` is what messages call the text.
    Raises `VesselFileError` with every problem, its line and key; a problem inside a CSV names file and row. What is
    left out is not known.
    """
    table = toml_table(toml_text, name, VesselFileError)
    notes = Notes(key_lines(toml_text))
    top = Cursor(table, (), notes)
    reading = VesselReading(files or {})
    title = top.text("title", needed='what the vessel is called, such as title = "Workboat Anna"')
    vessel, spread = read_particulars(top, title, reading)
    charts, motions = read_charts(top, reading), read_all_motions(top, reading)
    pivot, derrick = _pivot(top), _derrick(top)
    boom = pivot.boom_m if pivot is not None else None
    if derrick is not None and boom is not None and abs(boom - derrick.boom_m) > 1e-6:
        top.problem(
            "derrick",
            f"its boom is {derrick.boom_m:g} m and that of [pivot] {boom:g} m; keep the one that is rigged",
        )
    papers = VesselPapers(
        title=title,
        vessel=vessel,
        charts=charts,
        motions=motions,
        derrick=derrick,
        pivot=pivot,
        wind=_wind(top),
        notes=top.text("notes"),
        source=top.text("source"),
        mark=top.text("mark"),
        spread=spread,
        questions=tuple(dict.fromkeys(reading.questions)),
    )
    top.finish()
    if notes.problems:
        raise VesselFileError(name, notes.problems)
    return papers


def vessel_files(toml_text: str) -> tuple[str, ...]:
    """Return the CSVs that a vessel text asks for, each once; empty if it is no TOML."""
    try:
        table = tomllib.loads(toml_text)
    except tomllib.TOMLDecodeError:
        return ()
    found: dict[str, None] = {}
    for key in ("chart", "motions"):
        listed = table.get(key)
        for row in listed if isinstance(listed, list) else []:
            name = row.get("file") if isinstance(row, dict) else None
            if isinstance(name, str) and name.strip():
                found[name.strip()] = None
    return tuple(found)


def _pivot(top: Cursor) -> Pivot | None:
    cursor = top.table_of("pivot", "pivot")
    if cursor is None:
        return None
    across = one(cursor, "across", "length", sign=True)
    if across is None and "across" not in cursor.table:
        cursor.problem(
            "across", 'is missing: how far the boom foot is off the centreline, such as across = "0 m"'
        )
    height = one(cursor, "height", "length", needed="the height of the boom foot above the keel")
    along = one(cursor, "along", "length", sign=True)
    side = pick(cursor, "side", _SIDES) or ""
    boom, head = one(cursor, "boom", "length"), one(cursor, "head_height", "length")
    if boom is not None and head is not None:
        cursor.problem("head_height", "follows from the boom at each radius; give the one or the other")
    cursor.finish()
    return None if across is None or height is None else Pivot(across, height, along, side, boom, head)


def _derrick(top: Cursor) -> Derrick | None:
    cursor = top.table_of("derrick", "derrick")
    if cursor is None:
        return None
    name = cursor.text("name") or "derrick"
    boom = one(cursor, "boom", "length", needed="the length of the boom from foot to head")
    mast = one(cursor, "mast", "length", needed="the height of the mast head above the boom foot")
    parts = cursor.number("runner_parts", low=0, default=-1)
    topping, bears = tag_kg(cursor, "topping_lift"), tag_kg(cursor, "boom_bears")
    cursor.finish()
    if boom is None or mast is None:
        return None
    return Derrick(name, boom, mast, None if parts < 0 else parts, topping, bears)


def _wind(top: Cursor) -> WindArea | None:
    cursor = top.table_of("wind", "wind")
    if cursor is None:
        return None
    area = one(cursor, "area", "area", needed="what the wind takes hold of abeam, hull and house and load")
    lever = one(cursor, "lever", "length", needed="from half draught to the middle of that area")
    drag = one(cursor, "drag", "fraction", needed="the drag coefficient", unit="1")
    cursor.finish()
    return None if area is None or lever is None or drag is None else WindArea(area, lever, drag)
