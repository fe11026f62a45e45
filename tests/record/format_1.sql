-- The tables of a project of format 1, as that version made them.
PRAGMA application_id=1329679181;
PRAGMA user_version=1;
CREATE TABLE entry (
    station TEXT NOT NULL,
    seq INTEGER NOT NULL,
    id TEXT NOT NULL,
    at_ms INTEGER NOT NULL,
    at_counter INTEGER NOT NULL,
    author TEXT NOT NULL,
    kind TEXT NOT NULL,
    subject TEXT NOT NULL,
    body TEXT NOT NULL,
    over TEXT NOT NULL,
    prev TEXT NOT NULL,
    hash TEXT NOT NULL,
    PRIMARY KEY (station, seq),
    UNIQUE (id)
)
 WITHOUT ROWID,
 STRICT;
CREATE INDEX entry_of_subject ON entry (subject);
CREATE INDEX entry_of_block ON entry (subject) WHERE kind = 'block.given';
CREATE INDEX entry_in_order ON entry (at_ms, at_counter);
CREATE TABLE project (
    "key" TEXT NOT NULL,
    value TEXT NOT NULL,
    PRIMARY KEY ("key")
)
 STRICT;
CREATE TABLE person (
    id TEXT NOT NULL,
    name TEXT NOT NULL,
    role TEXT NOT NULL,
    PRIMARY KEY (id)
)
 STRICT;
CREATE TABLE find (
    "row" INTEGER NOT NULL,
    id TEXT NOT NULL,
    sort TEXT NOT NULL,
    number TEXT,
    title TEXT,
    material TEXT,
    count INTEGER NOT NULL,
    parent TEXT,
    sample_of TEXT,
    sample INTEGER,
    struck INTEGER NOT NULL,
    entries INTEGER NOT NULL,
    last_ms INTEGER NOT NULL,
    words TEXT NOT NULL,
    PRIMARY KEY ("row"),
    UNIQUE (id)
)
 STRICT;
CREATE INDEX find_in_order ON find (sort, id);
CREATE INDEX find_sample ON find (sample_of) WHERE sample_of IS NOT NULL;
CREATE INDEX find_parent ON find (parent) WHERE parent IS NOT NULL;
CREATE TABLE earlier_number (
    text TEXT NOT NULL,
    subject TEXT NOT NULL,
    PRIMARY KEY (text, subject)
)
 WITHOUT ROWID,
 STRICT;
CREATE INDEX ix_earlier_number_subject ON earlier_number (subject);
CREATE TABLE joined (
    entry TEXT NOT NULL,
    subject TEXT NOT NULL,
    other TEXT NOT NULL,
    PRIMARY KEY (entry)
)
 STRICT;
CREATE INDEX ix_joined_other ON joined (other);
CREATE INDEX ix_joined_subject ON joined (subject);
CREATE TABLE reading (
    entry TEXT NOT NULL,
    subject TEXT NOT NULL,
    quantity TEXT NOT NULL,
    state TEXT NOT NULL,
    value TEXT NOT NULL,
    unit TEXT NOT NULL,
    sd TEXT,
    settled INTEGER NOT NULL,
    PRIMARY KEY (entry)
)
 STRICT;
CREATE INDEX ix_reading_subject ON reading (subject);
CREATE TABLE question (
    subject TEXT NOT NULL,
    "key" TEXT NOT NULL,
    body TEXT NOT NULL,
    PRIMARY KEY (subject, "key")
)
 STRICT;
CREATE VIRTUAL TABLE find_words USING fts5(words, content='find', content_rowid='row', tokenize="unicode61 remove_diacritics 2");
CREATE TRIGGER entry_no_update BEFORE UPDATE ON entry BEGIN SELECT RAISE(ABORT, 'entries are never changed; correct by a new entry'); END;
CREATE TRIGGER entry_no_delete BEFORE DELETE ON entry BEGIN SELECT RAISE(ABORT, 'entries are never deleted; strike out by a new entry'); END;
