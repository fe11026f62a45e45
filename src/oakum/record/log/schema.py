"""The tables of a project: the log itself (append-only), the people (erasable) and the views (rebuilt).

One SQLAlchemy Core schema. Views hold nothing that the log does not hold; `FORMAT` is the file version.
"""

from __future__ import annotations

from sqlalchemy import Column, Connection, ForeignKey, Index, Integer, MetaData, Table, Text

APPLICATION_ID = 0x4F414B4D  # "OAKM"
FORMAT = 2

meta = MetaData()

entry = Table(
    "entry",
    meta,
    Column("station", Text, primary_key=True),
    Column("seq", Integer, primary_key=True, autoincrement=False),
    Column("id", Text, nullable=False, unique=True),
    Column("at_ms", Integer, nullable=False),
    Column("at_counter", Integer, nullable=False),
    Column("author", Text, nullable=False),
    Column("kind", Text, nullable=False),
    Column("subject", Text, nullable=False),
    Column("body", Text, nullable=False),
    Column("over", Text, nullable=False),
    Column("prev", Text, nullable=False),
    Column("hash", Text, nullable=False),
    Index("entry_of_subject", "subject"),
    Index("entry_in_order", "at_ms", "at_counter"),
    sqlite_strict=True,
    sqlite_with_rowid=False,
)

Index("entry_of_block", entry.c.subject, sqlite_where=entry.c.kind == "block.given")

project = Table(
    "project",
    meta,
    Column("key", Text, primary_key=True),
    Column("value", Text, nullable=False),
    sqlite_strict=True,
)

person = Table(
    "person",
    meta,
    Column("id", Text, primary_key=True),
    Column("name", Text, nullable=False),
    Column("role", Text, nullable=False),
    sqlite_strict=True,
)

competence = Table(
    "competence",
    meta,
    Column("person", Text, ForeignKey("person.id", ondelete="CASCADE"), primary_key=True),
    Column("competence", Text, primary_key=True),
    Column("until", Text),
    Column("evidence", Text),
    sqlite_strict=True,
    sqlite_with_rowid=False,
)

find = Table(
    "find",
    meta,
    Column("row", Integer, primary_key=True),
    Column("id", Text, nullable=False, unique=True),
    Column("sort", Text, nullable=False),
    Column("number", Text),
    Column("title", Text),
    Column("material", Text),
    Column("count", Integer, nullable=False),
    Column("parent", Text),
    Column("sample_of", Text),
    Column("sample", Integer),
    Column("struck", Integer, nullable=False),
    Column("entries", Integer, nullable=False),
    Column("last_ms", Integer, nullable=False),
    Column("words", Text, nullable=False),
    Index("find_in_order", "sort", "id"),
    sqlite_strict=True,
)
Index("find_parent", find.c.parent, sqlite_where=find.c.parent.is_not(None))
Index("find_sample", find.c.sample_of, sqlite_where=find.c.sample_of.is_not(None))

earlier_number = Table(
    "earlier_number",
    meta,
    Column("text", Text, primary_key=True),
    Column("subject", Text, primary_key=True, index=True),
    sqlite_strict=True,
    sqlite_with_rowid=False,
)

joined = Table(
    "joined",
    meta,
    Column("entry", Text, primary_key=True),
    Column("subject", Text, nullable=False, index=True),
    Column("other", Text, nullable=False, index=True),
    sqlite_strict=True,
)

reading = Table(
    "reading",
    meta,
    Column("entry", Text, primary_key=True),
    Column("subject", Text, nullable=False, index=True),
    Column("quantity", Text, nullable=False),
    Column("state", Text, nullable=False),
    Column("value", Text, nullable=False),
    Column("unit", Text, nullable=False),
    Column("sd", Text),
    Column("settled", Integer, nullable=False),
    sqlite_strict=True,
)

question = Table(
    "question",
    meta,
    Column("subject", Text, primary_key=True),
    Column("key", Text, primary_key=True),
    Column("body", Text, nullable=False),
    sqlite_strict=True,
)

gear = Table(
    "gear",
    meta,
    Column("subject", Text, primary_key=True),
    Column("sort", Text, nullable=False, index=True),
    Column("kind", Text, nullable=False),
    Column("identity", Text, nullable=False),
    Column("struck", Integer, nullable=False),
    sqlite_strict=True,
    sqlite_with_rowid=False,
)

VIEWS = (find, earlier_number, joined, reading, question, gear)
SINCE = {2: (competence, gear)}
"""Tables that came with a later format; the log itself is the same in all."""

TRIGGERS = (
    "CREATE TRIGGER entry_no_update BEFORE UPDATE ON entry BEGIN "
    "SELECT RAISE(ABORT, 'entries are never changed; correct by a new entry'); END",
    "CREATE TRIGGER entry_no_delete BEFORE DELETE ON entry BEGIN "
    "SELECT RAISE(ABORT, 'entries are never deleted; strike out by a new entry'); END",
)
SEARCH = (
    "CREATE VIRTUAL TABLE find_words USING fts5(words, content='find', content_rowid='row', "
    'tokenize="unicode61 remove_diacritics 2")'
)


def create_all(connection: Connection) -> None:
    """Write the tables, the search index and the triggers into an empty database."""
    meta.create_all(connection)
    connection.exec_driver_sql(SEARCH)
    for statement in TRIGGERS:
        connection.exec_driver_sql(statement)
    connection.exec_driver_sql(f"PRAGMA application_id={APPLICATION_ID}")
    connection.exec_driver_sql(f"PRAGMA user_version={FORMAT}")
