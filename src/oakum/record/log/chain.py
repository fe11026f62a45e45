"""Walking the chains: every entry hashed again, every link followed, the first that fails named."""

from __future__ import annotations

import json
from dataclasses import dataclass

from sqlalchemy import Connection

from oakum.record.log import entry_table as log_table
from oakum.record.log import view_table
from oakum.record.log.canonical import sha256_hex
from oakum.record.log.entries import FIRST_PREV, hashed_text


@dataclass(frozen=True, slots=True)
class Failure:
    """The first entry that does not hold, and how."""

    station: str
    seq: int
    id: str
    how: str

    def words(self) -> str:
        """Return the failure as a sentence."""
        return f"Entry {self.seq} of station {self.station} ({self.id}): {self.how}."


@dataclass(frozen=True, slots=True)
class CheckReport:
    """What `check` found. `heads` are the hashes to print in a report: later changes cannot keep them."""

    entries: int
    heads: dict[str, tuple[int, str]]
    failure: Failure | None
    damage: tuple[str, ...]
    notes: tuple[str, ...] = ()

    @property
    def ok(self) -> bool:
        """Whether everything held."""
        return self.failure is None and not self.damage

    def words(self) -> str:
        """Return the result in words."""
        if self.ok:
            ends = "; ".join(f"{name}: {seq}, {hash[:16]}" for name, (seq, hash) in self.heads.items())
            return f"{self.entries} entries, every chain whole ({ends})."
        first = self.failure.words() if self.failure else ""
        return " ".join([first, *self.damage]).strip()


def check_log(connection: Connection) -> CheckReport:
    """Check the file, the triggers, every chain, and whether the views are what the log says."""
    damage = _check_file(connection)
    total, ends, failure = _walk(connection)
    if failure is None and not damage:
        damage += _check_views(connection)
    return CheckReport(total, ends, failure, tuple(damage))


def _check_file(connection: Connection) -> list[str]:
    found = [row[0] for row in connection.exec_driver_sql("PRAGMA integrity_check(5)")]
    damage = [] if found == ["ok"] else [f"The file is damaged: {'; '.join(found)}."]
    triggers = {
        row[0] for row in connection.exec_driver_sql("SELECT name FROM sqlite_master WHERE type = 'trigger'")
    }
    if not {"entry_no_update", "entry_no_delete"} <= triggers:
        damage.append("The triggers that keep entries from being changed are missing: someone removed them.")
    return damage


def _walk(connection: Connection) -> tuple[int, dict[str, tuple[int, str]], Failure | None]:
    """Follow every chain; report how far it holds."""
    ends: dict[str, tuple[int, str]] = {}
    total = 0
    sql = f"SELECT {log_table.COLUMNS} FROM entry ORDER BY station, seq"
    for row in connection.exec_driver_sql(sql):
        total += 1
        id, station, seq, ms, counter, author, kind, subject, text, over, prev, digest = row
        last_seq, last_hash = ends.get(station, (0, FIRST_PREV))
        if seq != last_seq + 1:
            return total, ends, Failure(station, seq, id, f"entries {last_seq + 1} to {seq - 1} are missing")
        if prev != last_hash:
            return total, ends, Failure(station, seq, id, "it does not link to the entry before it")
        ids = () if over == "[]" else _ids(over)
        whole = hashed_text(
            id=id,
            station=station,
            seq=seq,
            at=(ms, counter),
            author=author,
            kind=kind,
            subject=subject,
            body_text=text,
            over=ids,
            prev=prev,
        )
        if sha256_hex(whole.encode("utf-8")) != digest:
            return (
                total,
                ends,
                Failure(station, seq, id, "it was changed; its hash does not fit what it says"),
            )
        ends[station] = (seq, digest)
    return total, ends, _cut_off(connection, ends)


def _cut_off(connection: Connection, ends: dict[str, tuple[int, str]]) -> Failure | None:
    """Compare the end of the station's own chain with what its last writer noted."""
    row = connection.exec_driver_sql("SELECT value FROM project WHERE key = 'tail'").first()
    station, seq, digest = row[0].split(" ") if row else ("?", "0", FIRST_PREV)
    last_seq, last_hash = ends.get(station, (0, FIRST_PREV))
    if last_seq < int(seq):
        return Failure(
            station, last_seq + 1, "no id left", f"entries {last_seq + 1} to {seq} were cut off the end"
        )
    if (last_seq, last_hash) != (int(seq), digest):
        return Failure(station, last_seq, "the newest", "it is not the entry this program wrote last")
    return None


def _ids(over: str) -> tuple[str, ...]:
    """Return the ids an entry stands over; what is no list any more cannot fit its hash."""
    try:
        ids = json.loads(over)
    except ValueError:
        return (over,)
    return tuple(map(str, ids)) if isinstance(ids, list) else (over,)


def _check_views(connection: Connection) -> list[str]:
    stale = view_table.differences(connection)
    if not stale:
        return []
    return [
        f"The tables for screens differ from the log ({', '.join(stale)}): rebuild them. No fact is lost."
    ]
