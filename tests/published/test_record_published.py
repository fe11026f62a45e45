"""The logbook against published vectors and worked examples; the mark after each source says how it was had."""

from __future__ import annotations

import struct
import uuid
from pathlib import Path

import pytest

from oakum.record import Logbook
from oakum.record.log.canonical import canonical, sha256_hex
from oakum.record.log.clock import START, Stamp, receive, tick
from oakum.record.log.entries import new_id


def test_sha_256_of_abc() -> None:
    # FIPS 180-4, example "abc" [read]
    assert sha256_hex(b"abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


def test_sha_256_of_two_blocks() -> None:
    # FIPS 180-4, example of 448 bits [memory, verify]
    message = b"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq"
    assert sha256_hex(message) == "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1"


def test_the_sample_of_rfc_8785() -> None:
    # RFC 8785, section 3.2.2 and 3.2.3 [read]
    sample = {
        "numbers": [333333333.33333329, 1e30, 4.50, 2e-3, 0.000000000000000000000000001],
        "string": '\u20ac$\u000f\nA\'B"\\\\"/',
        "literals": [None, True, False],
    }
    expected = (
        '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],'
        '"string":"\u20ac$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}'
    )
    assert canonical(sample).decode("utf-8") == expected


def test_keys_are_sorted_by_utf_16_units_as_in_rfc_8785() -> None:
    # RFC 8785, section 3.2.3, the example of sorting [memory, verify]
    sample = {"\u20ac": "Euro Sign", "\r": "Carriage Return", "\ufb33": "Hebrew Letter Dalet With Dagesh",
              "1": "One", "\U0001f600": "Emoji: Grinning Face", "\u0080": "Control",
              "\u00f6": "Latin Small Letter O With Diaeresis"}  # fmt: skip
    order = ["Carriage", "One", "Control", "Latin", "Euro", "Emoji", "Hebrew"]
    text = canonical(sample).decode("utf-8")
    places = [text.index(f'"{word}') for word in order]
    assert places == sorted(places)


@pytest.mark.parametrize(
    ("bits", "text"),
    [
        (0x0000000000000000, "0"),
        (0x8000000000000000, "0"),
        (0x0000000000000001, "5e-324"),
        (0x7FEFFFFFFFFFFFFF, "1.7976931348623157e+308"),
        (0x4340000000000000, "9007199254740992"),
        (0x44B52D02C7E14AF6, "1e+23"),
        (0x444B1AE4D6E2EF50, "1e+21"),
        (0x3EB0C6F7A0B5ED8D, "0.000001"),
    ],
)
def test_numbers_are_written_as_in_appendix_b_of_rfc_8785(bits: int, text: str) -> None:
    # RFC 8785, appendix B, IEEE 754 bits and the text of the number [memory, verify]
    (value,) = struct.unpack(">d", bits.to_bytes(8, "big"))
    assert canonical(value).decode() == text


def test_a_chain_of_two_entries_and_what_a_change_of_one_minute_does() -> None:
    # own calculation: three digests worked out once with hashlib and the library rfc8785
    e1 = {
        "actor": "hut",
        "at": "2026-06-01T10:20:00Z",
        "find": "WK26-0001",
        "prev": "0" * 64,
        "type": "raised",
    }
    h1 = sha256_hex(canonical(e1))
    assert h1 == "ba30cdc07318c98019a8dba7e10ac4de0eccbb868689fbfa26288e4d8ab1e69d"
    e2 = {
        "actor": "lab",
        "at": "2026-06-01T18:05:00Z",
        "find": "WK26-0001",
        "mass_kg": 12.4,
        "prev": h1,
        "type": "received",
    }
    assert sha256_hex(canonical(e2)) == "65410a8da45a59c57ce7e2b15adb74c2bf5f4824a418953e468f1781db33b9be"
    changed = sha256_hex(canonical({**e1, "at": "2026-06-01T10:21:00Z"}))
    assert changed == "e180ceb6bc7490525b68876385c9ec50280b72f7e689c1e2813e1cebfe8c327d" != e2["prev"]


def test_a_uuid_of_version_7_begins_with_its_milliseconds() -> None:
    # RFC 9562, appendix A.6 [read]: 2022-02-22T19:22:22Z
    example = uuid.UUID("017F22E2-79B0-7CC3-98C4-DC0C0C07398F")
    assert example.int >> 80 == 1645557742000 and example.version == 7
    made = [uuid.UUID(new_id()) for _ in range(200)]
    assert all(one.version == 7 and one.variant == uuid.RFC_4122 for one in made)
    assert made == sorted(made) and abs((made[0].int >> 80) - (made[-1].int >> 80)) < 10_000


def test_the_hybrid_logical_clock_through_an_exchange_of_two_places() -> None:
    # S. Kulkarni et al. 2014, algorithm; the run of numbers is own calculation
    hut = tick(START, 10)
    lab = tick(START, 5)
    assert (hut, lab) == ((10, 0), (5, 0))
    sent = hut = tick(hut, 10)
    assert sent == (10, 1)
    lab = receive(lab, sent, 7)
    assert lab == (10, 2)
    lab = tick(lab, 8)
    assert lab == (10, 3)
    sent = lab = tick(lab, 9)
    assert sent == (10, 4)
    hut = receive(hut, sent, 12)
    assert hut == (12, 0)
    hut = tick(hut, 12)
    assert hut == (12, 1) and tick(hut, 11) == Stamp(12, 2)


def test_two_places_correct_one_mass_and_then_agree(tmp_path: Path) -> None:
    # own calculation: 340 known to both; 341 and 333 written apart; 333 written over both
    hut = Logbook.create(tmp_path / "hut", "Tolmarren")
    lab = Logbook.create(tmp_path / "lab", "Tolmarren", station="lab", numbers=(5000, 5999))
    mass = {value: {"text": f"{value} kg", "value": value, "unit": "kg"} for value in ("340", "341", "333")}
    first = hut.append("find.entered", None, {"mass": mass["340"]}, author="recorder")
    lab.receive(hut.entries())
    for log, value in ((hut, "341"), (lab, "333")):
        body = {"mass": mass[value], "reason": "weighed again"}
        log.append("find.described", first.subject, body, author="recorder", over=[first.id])

    def exchange() -> None:
        hut.receive(lab.entries())
        lab.receive(hut.entries())

    exchange()
    for log in (hut, lab):
        (question,) = log.open_questions()
        assert {value["value"] for value in question.values} == {"341", "333"}
    body = {"fields": {"mass": mass["333"]}, "reason": "the tag of the other scale was read"}
    person = hut.add_person("A. N. Other", "director")
    hut.append("settled", first.subject, body, author=person.id, over=hut.open_questions()[0].entries)
    exchange()
    for log in (hut, lab):
        assert log.open_questions() == () and [h.value for h in log.heads(first.subject)["mass"]] == [
            mass["333"]
        ]
    assert hut.views() == lab.views()
