"""Reading what a rig file has besides the files of body, vessel and cradle: pieces of gear, points of the frame."""

from __future__ import annotations

from oakum.lift.body.cursor import Cursor
from oakum.lift.body.single import degrees, named_twice, one, pick, point, point2, rows, tag_kg, texts, yes
from oakum.lift.raising.rig_plan import Piece, Point

__all__ = [
    "degrees",
    "named_twice",
    "one",
    "pick",
    "piece",
    "piece_of",
    "point",
    "point2",
    "point3",
    "rows",
    "tag_kg",
    "texts",
    "yes",
]


def point3(cursor: Cursor, key: str, *, needed: bool = False) -> Point | None:
    """Return a point of the body's frame."""
    found = point(cursor, key, needed=needed)
    return None if found is None else (found[0], found[1], found[2])


def piece_of(cursor: Cursor) -> Piece:
    """Return the piece of gear that a table names by `gear` or `wll`."""
    return Piece(cursor.text("gear"), tag_kg(cursor, "wll"))


def piece(cursor: Cursor, key: str) -> Piece:
    """Return a piece of gear written as its key, `"S-01"`, or as a table `{ gear = "S-01", wll = "2 t" }`."""
    value = cursor.raw(key)
    if value is None:
        return Piece()
    if isinstance(value, str):
        return Piece() if value.strip().lower() == "not known" else Piece(value.strip())
    if not isinstance(value, dict):
        cursor.problem(
            key, f'write the key of the register, {key} = "S-01", or a tag, {key} = {{ wll = "2 t" }}'
        )
        return Piece()
    inner = Cursor(
        value, (*cursor.path, key), cursor.notes, f"{key} of {cursor.what}" if cursor.what else key
    )
    found = piece_of(inner)
    inner.finish()
    return found
