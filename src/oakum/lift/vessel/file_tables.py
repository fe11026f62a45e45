"""Load charts and motions of a vessel file: the TOML says what a CSV means, the CSV has the numbers."""

from __future__ import annotations

from oakum.lift.body.cursor import Cursor
from oakum.lift.body.single import degrees, named_twice, one, pick, rows
from oakum.lift.vessel.chart_file import read_load_chart
from oakum.lift.vessel.errors import VesselError
from oakum.lift.vessel.file_problems import VesselReading
from oakum.lift.vessel.load_chart import Derating, LoadChart, Waters
from oakum.lift.vessel.motions import ResponseTable
from oakum.lift.vessel.motions_file import Per, read_motions
from oakum.lift.vessel.motions_seen import SeenMotion, SeenMotions
from oakum.lift.vessel.papers import Motions, heading_key

_WATERS: tuple[Waters, ...] = ("sheltered", "open")
_PER: tuple[Per, ...] = ("wave amplitude", "wave height")
_HEADING = 'how the waves come, such as heading = "beam"'


def read_charts(top: Cursor, reading: VesselReading) -> tuple[LoadChart, ...]:
    """Return the load charts, none where the file has none; at most one for each kind of water."""
    cursors = rows(top, "chart", "chart", "[[chart]]")
    read = [(cursor, _chart(cursor, reading)) for cursor in cursors]
    found = [(cursor, chart) for cursor, chart in read if chart is not None]
    named_twice([(cursor, chart.name) for cursor, chart in found], "chart")
    seen: dict[Waters | None, LoadChart] = {}
    for cursor, chart in found:
        other = seen.setdefault(chart.holds_in, chart)
        if other is not chart:
            where = f"in {chart.holds_in} water" if chart.holds_in else "in water that is not said"
            cursor.problem(
                "waters",
                f'"{chart.name}" and "{other.name}" both hold {where}: keep the one for the boom as it is rigged, or '
                'say which is for waters = "sheltered" and which for "open"',
            )
    return tuple(chart for _, chart in found)


def _chart(cursor: Cursor, reading: VesselReading) -> LoadChart | None:
    table = reading.table(cursor, "load chart")
    column = cursor.text("column") or None
    radius_unit, load_unit = cursor.text("radius_unit") or None, cursor.text("load_unit") or None
    waters = pick(cursor, "waters", _WATERS)
    derating = _derating(cursor)
    limit, page = degrees(cursor, "list_limit"), cursor.text("page")
    if limit is not None and limit <= 0.0:
        cursor.problem("list_limit", "must be above 0 deg; leave it out where the papers do not say it")
    name = cursor.text("name") or (f"{table[0]}, {column}" if table and column else table[0] if table else "")
    cursor.finish()
    if table is None:
        return None
    try:
        return read_load_chart(
            table[1],
            name=name,
            column=column,
            radius_unit=radius_unit,
            load_unit=load_unit,
            holds_in=waters,
            derating=derating,
            list_limit_deg=limit,
            page=page,
        )
    except ValueError as error:
        cursor.problem("column" if column and "column" in str(error) else "file", f"{table[0]}: {error}")
        return None


def _derating(cursor: Cursor) -> Derating | None:
    inner = cursor.table_of("derating", f"derating of {cursor.what}")
    if inner is None:
        return None
    factor = one(
        inner, "factor", "fraction", needed="what the chart is multiplied with in a seaway", unit="1"
    )
    source = inner.text("source", needed="the page of the papers, or who gave it")
    inner.finish()
    if factor is None or not source:
        return None
    try:
        return Derating(factor, source)
    except VesselError as error:
        inner.problem("factor", str(error))
        return None


def read_all_motions(top: Cursor, reading: VesselReading) -> tuple[Motions, ...]:
    """Return the motions by heading, none where the file has none; at most one for each heading."""
    found: list[Motions] = []
    for cursor in rows(top, "motions", "motions", "[[motions]]"):
        motions = _motions(cursor, reading)
        if motions is None:
            continue
        other = next((m for m in found if heading_key(m.heading) == heading_key(motions.heading)), None)
        if other is not None:
            cursor.problem(
                "heading", f'"{motions.heading}" is the heading of "{other.name}" too; keep one of the two'
            )
        found.append(motions)
    return tuple(found)


def _motions(cursor: Cursor, reading: VesselReading) -> Motions | None:
    heading = cursor.text("heading", needed=_HEADING)
    source = cursor.text("source")
    name = cursor.text("name") or f"{heading or 'motions'}"
    if cursor.has("seen"):
        cursor.has("file")
        seen = [_seen(c) for c in rows(cursor, "seen", "sea watched", "[[motions.seen]]")]
        if "file" in cursor.table:
            cursor.problem("file", "give the CSV or what was seen, each in its own [[motions]]")
        cursor.finish()
        kept = tuple(s for s in seen if s is not None)
        if not kept or not heading:
            return None
        return _sourced(SeenMotions(name, heading, kept, source), reading)
    table = reading.table(cursor, "motions")
    per = pick(cursor, "per", _PER)
    amplitude = one(cursor, "wave_amplitude", "length")
    cursor.finish()
    if table is None or not heading:
        return None
    try:
        found = read_motions(
            table[1],
            name=name,
            heading_words=heading,
            per=per,
            source=source or "source not said",
            wave_amplitude_m=amplitude,
        )
    except ValueError as error:
        cursor.problem(_key_of(str(error)), f"{table[0]}: {error}")
        return None
    reading.questions += [
        f'motions "{name}", {table[0]}, {note.words}' for note in found.notes if note.why != "blank"
    ]
    return _sourced(found, reading, source)


def _key_of(said: str) -> str:
    """Return the key that a remark about a table of motions is for."""
    return "per" if "wave height" in said else "wave_amplitude" if "amplitude of the wave" in said else "file"


def _sourced(
    found: ResponseTable | SeenMotions, reading: VesselReading, source: str | None = None
) -> Motions:
    if not (found.source if source is None else source):
        reading.questions.append(f'motions "{found.name}": not said who measured or computed them')
    return found


def _seen(cursor: Cursor) -> SeenMotion | None:
    hs = one(cursor, "hs", "length", needed="the significant wave height it was seen in")
    tz = one(cursor, "tz", "time", needed="the mean period of the waves it was seen in")
    heave = one(cursor, "heave", "length", needed="the greatest heave up or down, from the middle")
    heave_period = one(cursor, "heave_period", "time", needed="seconds from one rise to the next")
    roll = one(cursor, "roll", "angle", needed="the greatest roll to one side")
    roll_period = one(cursor, "roll_period", "time", needed="seconds of a full roll, there and back")
    pitch, pitch_period = one(cursor, "pitch", "angle"), one(cursor, "pitch_period", "time")
    cursor.finish()
    if (
        hs is None
        or tz is None
        or heave is None
        or heave_period is None
        or roll is None
        or roll_period is None
    ):
        return None
    grade = 57.29577951308232
    try:
        return SeenMotion(
            hs, tz, heave, heave_period, roll * grade, roll_period,
            None if pitch is None else pitch * grade, pitch_period,
        )  # fmt: skip
    except VesselError as error:
        cursor.problem("pitch", str(error))
        return None
