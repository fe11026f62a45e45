"""Which files the logbook links: photographs, drawings, certificates, logs of the load cell, tables of vessels."""

from __future__ import annotations

import json
from typing import Any

from sqlalchemy import Connection

_PLACES = ("sha256", "thumbnail", "certificate_file")
_WITH_FILES = (
    "SELECT body FROM entry WHERE body LIKE '%\"sha256\":\"%' OR body LIKE '%\"certificate_file\":\"%' "
    "OR (kind IN ('find.hazard', 'settled') AND body LIKE '%\"file\":\"%')"
)


def linked_files(connection: Connection) -> frozenset[str]:
    """Return the SHA-256 of every file that some entry, struck out or not, says is kept."""
    found: set[str] = set()
    for (text,) in connection.exec_driver_sql(_WITH_FILES):
        body = json.loads(text)
        fields = body.get("fields") if isinstance(body.get("fields"), dict) else body
        found.update(fields[place] for place in _PLACES if isinstance(fields.get(place), str))
        found.update(_listed(fields.get("files")))
        found.update(
            value["file"]
            for value in fields.values()
            if isinstance(value, dict) and isinstance(value.get("file"), str)
        )
    return frozenset(found)


def _listed(files: Any) -> list[str]:
    """Return the digests of a list of {name, sha256}."""
    rows = files if isinstance(files, list) else []
    return [row["sha256"] for row in rows if isinstance(row, dict) and isinstance(row.get("sha256"), str)]
