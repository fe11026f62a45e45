"""What the logbook knows of the dig: squares with their corners, spits with their levels, hours of the dives."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from oakum.desk.seabed.survey import survey_of
from oakum.record import Entry, Head, Logbook
from oakum.record.log.heads import current, heads, standing
from oakum.record.log.kinds_seabed import SITE
from oakum.seabed.dig import DigError, Dive, Level, Outline, Point, outline
from oakum.seabed.network.names import natural

Marks = Callable[[], Mapping[str, Point]]
"""Places of marks by name, worked out only where somebody asks."""

WATER = "water"
STAGES = ("top", "bottom")


@dataclass(frozen=True, slots=True)
class KeptThing:
    """A square or a spit: its fields now, their heads, and every entry about it."""

    id: str
    fields: Mapping[str, Any]
    heads: Mapping[str, tuple[Head, ...]]
    history: tuple[Entry, ...]

    def word(self, name: str) -> str:
        """A text by name, "" where it is not known."""
        return str(self.fields.get(name) or "")

    def number(self, name: str) -> float | None:
        """A number by name, None where it is not known."""
        value = self.fields.get(name)
        return None if value is None else float(value)


@dataclass(frozen=True, slots=True)
class DigFacts:
    """All that stands: squares and spits in the order people count, dives in the order of their days."""

    squares: tuple[KeptThing, ...]
    spits: tuple[KeptThing, ...]
    hours: tuple[Entry, ...]

    def square(self, name_or_id: str) -> KeptThing | None:
        """Return a square by its id or its name (capitals play no part), None where there is none."""
        wanted = " ".join(name_or_id.split()).casefold()
        return next((s for s in self.squares if wanted in (s.id, s.word("name").casefold())), None)

    def spits_of(self, square: KeptThing) -> tuple[KeptThing, ...]:
        """Return the spits of a square, from the top down."""
        return tuple(spit for spit in self.spits if spit.word("square") == square.id)

    def spit(self, square: KeptThing, name: str) -> KeptThing | None:
        """Return a spit of a square by its name."""
        wanted = " ".join(name.split()).casefold()
        return next((s for s in self.spits_of(square) if s.word("spit").casefold() == wanted), None)

    def dives(self) -> tuple[Dive, ...]:
        """Return the hours as the dig counts them, squares by their names."""
        names = {square.id: square.word("name") for square in self.squares}
        return tuple(dive_of(entry, names) for entry in self.hours)


def dig_facts(logbook: Logbook) -> DigFacts:
    """Collect squares, spits and hours; what is struck out is left out."""
    squares = _things(logbook, "dig.square", "corners")
    spits = _things(logbook, "dig.spit", "spit")
    hours = [entry for entry in standing(logbook.entries(SITE)) if entry.kind == "dig.hours"]
    return DigFacts(
        tuple(sorted(squares, key=lambda one: natural(one.word("name")))),
        tuple(sorted(spits, key=lambda one: natural(one.word("spit")))),
        tuple(sorted(hours, key=lambda entry: (entry.body["on"], entry.at))),
    )


def marks_of(logbook: Logbook) -> Marks:
    """Return what gives the places of the survey's marks, under every spelling; asked once where it is needed."""
    held: dict[str, Point] = {}

    def found() -> Mapping[str, Point]:
        if not held:
            answer = survey_of(logbook)
            for datum in answer.site.datums:  # one that no reading touches yet has no place in the solution
                if datum.x_m is not None and datum.y_m is not None:
                    held[datum.mark] = (datum.x_m, datum.y_m)
            held.update({mark.name: (mark.x_m, mark.y_m) for mark in answer.solution.marks})
            for mark in answer.marks:
                held.update({also: held[mark.name] for also in mark.also if mark.name in held})
        return held

    return found


def corners_of(corners: Sequence[Mapping[str, str]], marks: Marks) -> Outline:
    """Return the outline of a square from its corners as kept. Raises `DigError` naming a mark without a place."""
    points = []
    for corner in corners:
        if "mark" not in corner:
            points.append((float(corner["x"]), float(corner["y"])))
        elif corner["mark"] in marks():
            points.append(marks()[corner["mark"]])
        else:
            raise DigError(
                f"corner {corner['name']}: the survey gives no place to the mark {corner['mark']}; tape it, or give "
                "the corner by x and y"
            )
    return outline(points, [corner["name"] for corner in corners])


def place_named(name: str, where: Outline, marks: Marks) -> Point | None:
    """Return a place by its name: a corner, "middle" (or M), the middle of a side (AB), a mark; None for none."""
    wanted = "".join(name.split()).casefold()
    names = [each.casefold() for each in where.names]
    if wanted in names:
        return where.corners[names.index(wanted)]
    if wanted in ("m", "middle"):
        return where.centre
    for index, first in enumerate(names):
        second = names[(index + 1) % len(names)]
        if wanted in (first + second, second + first):
            (ax, ay), (bx, by) = where.sides[index]
            return (0.5 * (ax + bx), 0.5 * (ay + by))
    exact = " ".join(name.split())
    return marks().get(exact)


def levels_of(spit: KeptThing, stage: str, where: Outline, marks: Marks) -> tuple[Level, ...]:
    """Return the levels of a stage as heights: the zero they hang on less what was read down from it."""
    zero = spit.number(f"{stage}_zero") or 0.0
    found = []
    for one in spit.fields.get(stage) or ():
        if "at" in one:
            place = place_named(one["at"], where, marks)
            if place is None:
                raise DigError(
                    f"level at {one['at']}: no corner and no mark is called so; give the place as x, y in metres"
                )
        else:
            place = (float(one["x"]), float(one["y"]))
        name = one.get("at") or f"{float(one['x']):g}, {float(one['y']):g}"
        found.append(Level(name, *place, zero - float(one["down"])))
    return tuple(found)


def dive_of(entry: Entry, names: Mapping[str, str]) -> Dive:
    """Return one entry of hours as the dig counts it."""
    body = entry.body
    square = str(body.get("square") or "")
    litres = body.get("litres")
    return Dive(
        str(body.get("dive") or ""),
        str(body["on"]),
        float(body["hours"]),
        names.get(square, square),
        str(body.get("spit") or ""),
        body.get("buckets"),
        None if litres is None else float(litres),
    )


def _things(logbook: Logbook, kind: str, needs: str) -> list[KeptThing]:
    found = []
    for subject in dict.fromkeys(entry.subject for entry in logbook.entries(kind=kind)):
        history = tuple(logbook.entries(subject))
        now = heads(history)
        fields = current(now)
        if needs in fields:
            found.append(KeptThing(subject, fields, now, history))
    return found
