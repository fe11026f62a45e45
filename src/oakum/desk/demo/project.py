"""The invented Tolmarren wreck as a project: every figure is made up, and the trouble in it is meant.

A cast-iron lump that was opened into child finds, a bag of forty nails under one number, two sherds that join,
a sample under a timber, a corrected material, two weighings of one ingot that disagree, a gun whose charge is not
known, and a capstan in a timber cradle whose lift from a workboat is planned to the last shackle while two load
cells disagree about its weight.
"""

from __future__ import annotations

import csv
from datetime import date
from importlib.resources import files
from pathlib import Path
from tempfile import TemporaryDirectory

from oakum.desk.demo.dig import enter_dig
from oakum.desk.demo.lifts import enter_lifts, measured
from oakum.desk.demo.seabed import enter_survey
from oakum.desk.finds.measures import reading_of
from oakum.desk.lifts.toml_rows import rows_of, without_row
from oakum.lift import starting_bodies
from oakum.record import Draft, Logbook
from oakum.record.project_folder import refuse_existing

NAME = "Tolmarren"
FOLDER = "tolmarren.oakum"
CAPSTAN = "T-0001"
DIRECTOR, CONSERVATOR = "Director", "Conservator"
MARK = "The Tolmarren wreck is invented; so are its figures."


def make_demo(folder: Path, *, on: date | None = None) -> Path:
    """Make the demo project in `folder`, whole or not at all, and return its own folder.

    Papers of its gear and people hold, or have lapsed, on the day `on`: today. Raises `ProjectExistsError`
    where one stands already; nothing is touched then.
    """
    target = folder / FOLDER
    refuse_existing(target)
    with TemporaryDirectory(prefix=".demo-", dir=folder) as workshop:
        with Logbook.create(
            Path(workshop), NAME, station="hut", author="director", prefix="T", note=MARK
        ) as logbook:
            director = logbook.add_person(DIRECTOR, "directs the excavation").id
            conservator = logbook.add_person(CONSERVATOR, "county laboratory").id
            ids = _enter_finds(logbook)
            _tell_their_lives(logbook, ids, director, conservator)
            _weigh_some(logbook, ids)
            enter_lifts(logbook, ids, director, conservator, on=on or date.today())
            enter_survey(logbook, ids, director)
            enter_dig(logbook, director)
        refuse_existing(target)
        logbook.folder.rename(target)
    return target


def is_demo(logbook: Logbook) -> bool:
    """Tell whether every figure of this project is invented, so that its sheets say so."""
    return logbook.note == MARK


def _enter_finds(logbook: Logbook) -> dict[str, str]:
    """Enter every row of the table, in its order, and return the ids by the table's own key."""
    rows = list(
        csv.DictReader(files("oakum.desk.demo").joinpath("tolmarren/finds.csv").read_text("utf-8").splitlines())
    )
    fields = ("material", "description", "place", "period")
    drafts = []
    for row in rows:
        body = {
            "title": row["name"],
            "count": int(row["count"]),
            "found_on": row["found"],
            "found_by": "diver",
        }
        body |= {field: row[field] for field in fields if row[field]}
        if row["earlier"]:
            body["earlier_numbers"] = [row["earlier"]]
        seen = {
            "at": row["found"],
            "zone": "Europe/London",
            "precision": "day",
            "by": "diver",
            "from": "slate",
        }
        drafts.append(Draft("find.entered", None, body, "recorder", seen=seen))
    entries = logbook.append_many(drafts)
    return {row["key"]: entry.subject for row, entry in zip(rows, entries, strict=True)}


def _tell_their_lives(logbook: Logbook, ids: dict[str, str], director: str, conservator: str) -> None:
    """Parts, joins, a sample, a correction and the bodies of the lifts."""
    opened = logbook.append_many(
        [
            Draft("find.entered", None, {"title": title, "material": material, "count": count}, conservator)
            for title, material, count in (("buckle", "copper alloy", 1), ("musket ball", "lead", 6))
        ]
    )
    first = logbook.entries(ids["deadeye"])[0]
    bodies = starting_bodies()
    capstan = _in_its_cradle(measured(bodies["capstan"].toml))
    logbook.append_many(
        [
            *(Draft("find.part_of", one.subject, {"parent": ids["lump"]}, conservator) for one in opened),
            Draft(
                "find.joined",
                ids["sherd1"],
                {"other": ids["sherd2"], "note": "fresh break, fits"},
                conservator,
            ),
            Draft("find.sample", None, {"of": ids["frame1"], "title": "slice for tree rings"}, conservator),
            Draft(
                "find.described",
                ids["deadeye"],
                {"material": "ash, iron", "reason": "ring-porous under the lens, not elm"},
                conservator,
                over=(first.id,),
            ),
            Draft("body.described", ids["capstan"], {"toml": capstan}, director),
            Draft("body.described", ids["gun"], {"toml": measured(bodies["gun"].toml)}, director),
            Draft("note", ids["gun"], {"text": "Charge not excluded: nobody drills or heats it."}, director),
        ]
    )


def _in_its_cradle(toml: str) -> str:
    """Return the capstan without the steel frame and tray of the body to begin with: its own cradle is of timber."""
    for name in ("cradle frame", "water in the tray"):
        index = next(i for i, row in enumerate(rows_of(toml, ("part",))) if row["name"] == name)
        toml = without_row(toml, ("part",), index)
    return toml


def _weigh_some(logbook: Logbook, ids: dict[str, str]) -> None:
    """Weighings on deck; two of one ingot do not fit each other."""
    logbook.append_many(
        [
            Draft(
                "reading",
                ids[key],
                reading_of(text, "mass", quantity=quantity, state=state, instrument=by),
                "recorder",
            )
            for key, quantity, state, text, by in (
                ("ingot2", "mass", "in air", "61.4 ± 0.3 kg", "spring balance"),
                ("ingot2", "mass", "in air", "64.9 ± 0.3 kg", "platform scale"),
                ("shot", "mass", "in air", "38.2 ± 0.2 kg", "platform scale"),
            )
        ]
    )
