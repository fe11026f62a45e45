"""Laws of the logbook: canonical form, clock, heads, and tables that any history leaves as a rebuild would."""

from __future__ import annotations

import contextlib
import sqlite3
from dataclasses import dataclass, field
from typing import Any

import rfc8785
from hypothesis import given, settings
from hypothesis import strategies as st
from sqlalchemy import Connection, create_engine
from sqlalchemy.pool import StaticPool

from oakum.record import Draft, Entry, RecordError, pooled
from oakum.record.finds.numbers import NumberError
from oakum.record.finds.readings import Reading, standing_readings
from oakum.record.finds.search import match_expression
from oakum.record.log.canonical import canonical_body, check_plain
from oakum.record.log.clock import Stamp, receive, tick
from oakum.record.log.entries import as_dict, hash_of, hashed_text
from oakum.record.log.entry_table import filtered
from oakum.record.log.heads import heads, standing
from oakum.record.log.schema import create_all
from oakum.record.log.view_table import differences, dump, rebuild
from oakum.record.log.views import rows_of
from oakum.record.log.writer import Writer, receive_entries
from oakum.record.people import add

keys = st.text(st.characters(max_codepoint=126, min_codepoint=32), max_size=8)
texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=20)
scalars = st.none() | st.booleans() | st.integers(-(2**53) + 1, 2**53 - 1) | texts
plain = st.recursive(
    scalars, lambda s: st.lists(s, max_size=3) | st.dictionaries(keys, s, max_size=4), max_leaves=8
)


@given(st.dictionaries(keys, plain, max_size=5))
def test_the_fast_canonical_form_is_that_of_rfc_8785(body: dict[str, Any]) -> None:
    # General library: rfc8785
    check_plain(body)
    assert canonical_body(body).encode() == rfc8785.dumps(body)


words = st.from_regex(r"[A-Za-z0-9][A-Za-z0-9._:/+-]{0,20}", fullmatch=True)


@given(
    st.dictionaries(keys, plain, max_size=3), words, words, st.lists(words, max_size=3), st.integers(1, 2**40)
)
def test_what_is_hashed_is_the_canonical_form_of_the_whole_entry(
    body: dict[str, Any], subject: str, station: str, over: list[str], seq: int
) -> None:
    entry = Entry(
        "i", station, seq, Stamp(seq, 0), "diver", "note", subject, body, tuple(over), "0" * 64, "h"
    )
    whole = as_dict(entry)
    del whole["hash"]
    text = hashed_text(
        id="i",
        station=station,
        seq=seq,
        at=(seq, 0),
        author="diver",
        kind="note",
        subject=subject,
        body_text=canonical_body(body),
        over=tuple(over),
        prev="0" * 64,
    )
    assert text.encode() == rfc8785.dumps(whole) and len(hash_of(entry)) == 64


stamps = st.builds(Stamp, st.integers(0, 20), st.integers(0, 5))


@given(stamps, stamps, st.integers(0, 20))
def test_the_clock_never_runs_back_nor_behind_what_it_has_seen(
    last: Stamp, message: Stamp, wall: int
) -> None:
    assert tick(last, wall) > last and tick(last, wall).ms >= wall
    assert receive(last, message, wall) > max(last, message)


@given(st.lists(st.tuples(st.floats(99, 101), st.floats(1, 5)), min_size=1, max_size=6))
def test_pooling_lies_between_the_readings_and_is_never_less_sure(pairs: list[tuple[float, float]]) -> None:
    entry = Entry("i", "s", 1, Stamp(1, 0), "diver", "reading", "x", {}, (), "", "")
    several = [Reading(entry, "mass", "air", "t", v, "kg", sd, None, None, False) for v, sd in pairs]
    together = pooled(several)
    assert together.value is not None and together.sd is not None
    assert min(v for v, _ in pairs) - 1e-9 <= together.value <= max(v for v, _ in pairs) + 1e-9
    assert together.sd <= min(sd for _, sd in pairs) * (1 + 1e-9)


_index = sqlite3.connect(":memory:", check_same_thread=False)
_index.execute("CREATE VIRTUAL TABLE finds USING fts5(words)")
_index.execute("INSERT INTO finds VALUES ('jar of oak')")


@given(st.text(max_size=30))
def test_no_text_that_people_type_is_an_error_of_the_search_index(query: str) -> None:
    expression = match_expression(query.encode("utf-8", "ignore").decode())
    if expression is not None:
        _index.execute("SELECT * FROM finds WHERE finds MATCH ?", (expression,)).fetchall()


@dataclass
class Copy:
    """A project in memory, written through the same code as a file."""

    station: str
    first: int
    wall: int = 1000
    connection: Connection = field(init=False)

    def __post_init__(self) -> None:
        self.connection = create_engine("sqlite://", poolclass=StaticPool).connect()
        create_all(self.connection)
        self.person = add(self.connection, "Somebody", "director").id
        self.write("station.opened", self.station, {"title": self.station})
        self.write("block.given", self.station, {"prefix": "T", "first": self.first, "last": self.first + 99})

    def write(self, kind: str, subject: str | None, body: dict[str, Any], over: tuple[str, ...] = ()) -> None:
        self.wall += 1
        author = self.person if kind == "settled" or kind.startswith("plan.") else "recorder"
        # What is refused must leave nothing behind: the comparison with a rebuild would show it.
        with contextlib.suppress(RecordError, NumberError):
            Writer(self.connection, self.station, self.wall).write([Draft(kind, subject, body, author, over)])

    def all(self) -> list[Entry]:
        return filtered(self.connection, {}, False, None, 0)

    def take(self, other: Copy) -> None:
        receive_entries(self.connection, other.all(), self.station, self.wall)


texts_of_fields = st.sampled_from(["oak", "elm", "ash"])
TWICE = ["enter", "describe", "correct", "read", "strike", "settle"]
LIFT = ["list", "list", "describe gear", "withdraw", "bring back", "strike gear", "settle gear", "hazard", "role"]
LIFT += ["rig", "brief", "release", "abandon"]
step = st.tuples(
    st.sampled_from([*TWICE, *TWICE, "part", "join", "sample", *LIFT]),
    st.integers(0, 7),
    st.integers(0, 30),
    texts_of_fields,
)


def take_step(copy: Copy, what: str, which: int, entry: int, text: str) -> None:
    """Do one thing to some find or piece of gear, aiming at some of its entries; the logbook may refuse it."""
    if "gear" in what or what in ("list", "withdraw", "bring back"):
        take_gear_step(copy, what, which, entry, text)
        return
    finds = sorted({e.subject for e in copy.all() if e.kind in ("find.entered", "find.sample")})
    if what == "enter" or not finds:
        copy.write("find.entered", None, {"material": text, "earlier_numbers": [text]})
        return
    find, other = finds[which % len(finds)], finds[entry % len(finds)]
    held = filtered(copy.connection, {"subject": find}, False, None, 0)
    aim = (held[entry % len(held)].id,)
    if what == "describe":
        copy.write("find.described", find, {"title": text})
    elif what == "correct":
        copy.write("find.described", find, {"title": text, "material": text, "reason": "r"}, aim)
    elif what == "strike":
        copy.write("struck", find, {"reason": "r"}, aim)
    elif what == "read":
        value = {"oak": "1", "elm": "2", "ash": "9"}[text]
        body = {"quantity": "mass", "state": "air", "text": text, "value": value, "unit": "kg"}
        copy.write("reading", find, body | ({"sd": "0.5"} if entry % 3 else {}))
    elif what == "settle":
        readings = standing_readings(held)
        if entry % 2 and readings:
            chosen = {"quantity": "mass", "state": "air", "text": text, "value": "3", "unit": "kg", "sd": "1"}
            over = tuple(one.entry.id for one in readings)
            copy.write("settled", find, {"reading": chosen, "reason": "r"}, over)
        else:
            over = tuple(head.entry.id for head in heads(held).get("title", ()))
            copy.write("settled", find, {"fields": {"title": text}, "reason": "r"}, over)
    elif what in LIFT:
        take_lift_step(copy, what, find, held, entry, text)
    elif what == "part":
        copy.write("find.part_of", find, {"parent": other})
    elif what == "join":
        copy.write("find.joined", find, {"other": other})
    else:
        copy.write("find.sample", None, {"of": find, "purpose": text})


def take_gear_step(copy: Copy, what: str, which: int, entry: int, text: str) -> None:
    """List, describe, withdraw, bring back, strike out or settle some piece; tags are few, so that some are alike."""
    pieces = sorted({e.subject for e in copy.all() if e.kind == "gear.listed"})
    kind = ("shackle", "hook")[entry % 2]
    if what == "list" or not pieces:
        copy.write("gear.listed", None, {"kind": kind, "identity": f"{text} {which % 2}"})
        return
    piece = pieces[which % len(pieces)]
    held = filtered(copy.connection, {"subject": piece}, False, None, 0)
    aim = (held[entry % len(held)].id,)
    if what == "describe gear":
        copy.write("gear.described", piece, {"identity": text.upper(), "where": text, "reason": "r"}, aim)
    elif what == "withdraw":
        copy.write("gear.withdrawn", piece, {"withdrawn": text, "reason": "r"}, aim if entry % 2 else ())
    elif what == "bring back":
        body = {"withdrawn": None, "passed_by": copy.person, "reason": "r"}
        copy.write("gear.brought_back", piece, body, aim)
    elif what == "strike gear":
        copy.write("struck", piece, {"reason": "r"}, aim)
    else:
        over = tuple(head.entry.id for head in heads(held)["identity"]) if "identity" in heads(held) else aim
        copy.write("settled", piece, {"fields": {"identity": text}, "reason": "r"}, over)


def take_lift_step(copy: Copy, what: str, find: str, held: list[Entry], entry: int, text: str) -> None:
    """Say something about the lift of a find, over what some entry of it said."""
    aim = (held[entry % len(held)].id,) if entry % 2 else ()
    why = {"reason": "r"} if aim else {}
    if what == "hazard":
        said = {"answer": "excluded", "by": copy.person, "on": "2026-06-01", "note": text}
        copy.write("find.hazard", find, {"hazard_charge": said, **why}, aim)
    elif what == "role":
        said = {"role": "lift leader", "person": copy.person, "confirmed": entry % 3 == 0}
        copy.write("role.confirmed", find, {"role_lift_leader": said, **why}, aim)
    elif what == "rig":
        copy.write("rig.described", find, {"rig": f'title = "{text}"', **why}, aim)
    elif what == "abandon":
        copy.write("plan.abandoned", find, {"why": text})
    else:
        mark = {"oak": "a", "elm": "b", "ash": "c"}[text] * 64
        ends = [e.id for e in held if e.kind == "plan.abandoned"]
        body = {"fingerprint": mark, "rests_on": [["body", mark]], "after": ends[: entry % 3]}
        copy.write("plan.briefed" if what == "brief" else "plan.released", find, body)


@settings(max_examples=60, deadline=None)
@given(st.lists(step, max_size=25))
def test_live_tables_equal_a_rebuild_after_any_sequence_of_entries(
    steps: list[tuple[str, int, int, str]],
) -> None:
    copy = Copy("hut", 1)
    for one in steps:
        take_step(copy, *one)
    live = dump(copy.connection)
    assert differences(copy.connection) == []
    rebuild(copy.connection)
    assert dump(copy.connection) == live and differences(copy.connection) == []
    copy.connection.close()


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 4), step), max_size=25), st.randoms(use_true_random=False))
def test_two_copies_that_exchange_everything_say_the_same_in_whatever_order(
    steps: list[tuple[int, tuple[str, int, int, str]]], rng: Any
) -> None:
    hut, lab, third = Copy("hut", 1), Copy("lab", 200, wall=1300), Copy("office", 400, wall=5)
    for where, one in steps:
        if where == 4:
            taker, giver = rng.sample((hut, lab, third), 2)
            taker.take(giver)
        else:
            take_step((hut, lab, third)[where % 3], *one)
    copies = [hut, lab, third]
    for _ in range(2):
        rng.shuffle(copies)
        for a in copies:
            for b in copies:
                if a is not b:
                    a.take(b)
    dumps = [dump(copy.connection) for copy in copies]
    assert dumps[0] == dumps[1] == dumps[2] and hut.all() == lab.all() == third.all()
    assert all(differences(copy.connection) == [] for copy in copies)
    entries = hut.all()
    shuffled = list(entries)
    rng.shuffle(shuffled)
    for subject in {entry.subject for entry in entries}:
        some, other = ([e for e in one if e.subject == subject] for one in (entries, shuffled))
        assert heads(some) == heads(other) and standing(some) == standing(other)
        assert rows_of(subject, some) == rows_of(subject, other)
    for copy in copies:
        copy.connection.close()
