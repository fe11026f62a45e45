"""Writing entries: admitted, sealed onto the chain, put into the views, in one transaction."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import Connection

from oakum.record.errors import ChainError
from oakum.record.log import entry_table as log_table
from oakum.record.log import view_table
from oakum.record.log.admission import Admission
from oakum.record.log.canonical import canonical_body, check_plain
from oakum.record.log.clock import START, Stamp, receive, tick
from oakum.record.log.entries import FIRST_PREV, Draft, Entry, check_word, hash_of, seal
from oakum.record.log.facts import check_fact


def read_clock(connection: Connection) -> Stamp:
    """Return the newest stamp this copy has made or received."""
    row = connection.exec_driver_sql("SELECT value FROM project WHERE key = 'clock'").first()
    if row is None:
        return START
    ms, counter = row[0].split(".")
    return Stamp(int(ms), int(counter))


def write_clock(connection: Connection, stamp: Stamp) -> None:
    """Keep the newest stamp."""
    _keep(connection, "clock", f"{stamp.ms}.{stamp.counter}")


def _keep(connection: Connection, key: str, value: str) -> None:
    connection.exec_driver_sql(
        "INSERT INTO project (key, value) VALUES (?, ?) "
        "ON CONFLICT (key) DO UPDATE SET value = excluded.value",
        (key, value),
    )


class Writer:
    """Writes a batch for this station. Lives inside one BEGIN IMMEDIATE."""

    def __init__(self, connection: Connection, station: str, wall_ms: int) -> None:
        self.connection = connection
        self.station = station
        self.wall_ms = wall_ms
        tail = log_table.tail_of(connection, station)
        self.seq, self.prev = (tail[0], tail[1]) if tail else (0, FIRST_PREV)
        self.clock = read_clock(connection)
        if tail and tail[2] > self.clock:
            self.clock = tail[2]

    def write(self, drafts: Sequence[Draft]) -> list[Entry]:
        """Admit, seal and insert every draft, and bring the views up to date."""
        admission = Admission(self.connection, self.station)
        written: list[Entry] = []
        touched: dict[str, None] = {}
        for draft in drafts:
            subject, body = admission.admit(draft)
            self.clock = tick(self.clock, self.wall_ms)
            self.seq += 1
            entry = seal(
                station=self.station,
                seq=self.seq,
                at=self.clock,
                author=draft.author,
                kind=draft.kind,
                subject=subject,
                body=body,
                over=draft.over,
                prev=self.prev,
            )
            self.prev = entry.hash
            admission.entries[subject].append(entry)
            touched[subject] = None
            written.append(entry)
        if written:
            log_table.insert(self.connection, written)
            write_clock(self.connection, self.clock)
            # So that cutting off the newest entries shows in a check; a chain alone cannot tell.
            _keep(self.connection, "tail", f"{self.station} {self.seq} {self.prev}")
            changed = {subject: admission.entries[subject] for subject in touched}
            view_table.update(self.connection, changed, admission.known & touched.keys())
        return written


def receive_entries(connection: Connection, entries: Sequence[Entry], own: str, wall_ms: int) -> int:
    """Take in entries of other stations whose chains fit what is here; return how many were new."""
    clock = read_clock(connection)
    new: list[Entry] = []
    tails: dict[str, tuple[int, str]] = {}
    for entry in sorted(entries, key=lambda e: (e.station, e.seq)):
        row = connection.exec_driver_sql(
            "SELECT hash FROM entry WHERE id = ? OR (station = ? AND seq = ?)",
            (entry.id, entry.station, entry.seq),
        ).first()
        _check_sound(entry)
        if row is not None:
            if row[0] != entry.hash:
                raise ChainError(
                    f"Station {entry.station} has two different entries number {entry.seq}: one copy was "
                    "restored or edited and went on under the same name. Nothing was taken in."
                )
            continue
        if entry.station == own:
            raise ChainError(
                f"These entries carry this station's own name ({own}) but are not in its logbook: another "
                "copy went on under the same name. Nothing was taken in."
            )
        if entry.station not in tails:
            tail = log_table.tail_of(connection, entry.station)
            tails[entry.station] = (tail[0], tail[1]) if tail else (0, FIRST_PREV)
        seq, prev = tails[entry.station]
        if (entry.seq, entry.prev) != (seq + 1, prev):
            raise ChainError(
                f"Entry {entry.seq} of station {entry.station} does not follow entry {seq}: some are missing "
                "or were changed. Nothing was taken in; ask for all entries after that one."
            )
        tails[entry.station] = (entry.seq, entry.hash)
        clock = receive(clock, entry.at, wall_ms)
        new.append(entry)
    if new:
        log_table.insert(connection, new)
        write_clock(connection, clock)
        subjects = log_table.of_subjects(connection, dict.fromkeys(entry.subject for entry in new))
        view_table.update(connection, subjects, subjects)
    return len(new)


def _check_sound(entry: Entry) -> None:
    for word, what in (
        (entry.id, "id"),
        (entry.station, "station"),
        (entry.kind, "kind"),
        (entry.author, "author"),
    ):
        check_word(word, what)
    check_word(entry.subject, "subject")
    for id in entry.over:
        check_word(id, "over")
    check_plain(entry.body)
    check_fact(entry.kind, entry.body, entry.over)
    if entry.body_text != canonical_body(entry.body) or hash_of(entry) != entry.hash:
        raise ChainError(f"Entry {entry.seq} of station {entry.station} was changed: its hash does not fit.")
