"""Drawings and mosaics laid on the plan: kept with their control marks, fitted anew to wherever the marks lie now."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from oakum.desk.finds.entering import FieldErrors
from oakum.desk.finds.saying import say
from oakum.desk.seabed.survey import SurveyAnswer, survey_of
from oakum.ground.errors import OakumError
from oakum.record import Entry, Head, Logbook, UnknownSubjectError, decimal_text
from oakum.record.files.pictures import NotAPicture, Picture, read_picture
from oakum.record.files.store import FileStore
from oakum.record.log.heads import current, heads
from oakum.seabed.frame import FITS, Control, FrameError, Registration, register
from oakum.seabed.network import SiteSolution

Flat = tuple[float, float]
KIND = "plan.registered"
_FARTHEST = 4.0


@dataclass(frozen=True, slots=True, eq=False)
class KeptDrawing:
    """A drawing as the logbook has it, and how it lies on the marks now.

    `control` are (mark, u, v) in units of the upright picture from its upper left corner. `registration` None: it
    cannot be laid, `why_not` says why. `size` None: the file is no picture that can be read here.
    """

    subject: str
    name: str
    sha256: str
    what: str
    fit: str
    square: str
    note: str
    control: tuple[tuple[str, float, float], ...]
    size: tuple[int, int] | None
    registration: Registration | None
    why_not: str
    version: str
    heads: Mapping[str, tuple[Head, ...]]
    history: tuple[Entry, ...]

    @property
    def has_picture(self) -> bool:
        """Whether there is something to see."""
        return self.size is not None and self.registration is not None

    @property
    def outline(self) -> tuple[Flat, ...]:
        """The corners on the site, anticlockwise from the lower left; the control marks where there is no picture."""
        if self.registration is None:
            return ()
        if self.size is None:
            return tuple(self.registration.place(u, v) for _, u, v in self.control)
        return held_near(self.registration, self.size, self.control)

    @property
    def box(self) -> tuple[float, float, float, float]:
        """West, south, east, north round the outline, in site metres."""
        xs, ys = [p[0] for p in self.outline], [p[1] for p in self.outline]
        return (min(xs), min(ys), max(xs), max(ys))


def held_near(
    registration: Registration, size: tuple[int, int], control: tuple[tuple[str, float, float], ...]
) -> tuple[Flat, ...]:
    """Return the corners, none farther from the control marks than a few times their spread.

    A slanting photograph reaches to its horizon, which no plan can hold.
    """
    marks = [registration.place(u, v) for _, u, v in control]
    x = [p[0] for p in marks]
    y = [p[1] for p in marks]
    reach = _FARTHEST * max(max(x) - min(x), max(y) - min(y), 0.5)
    low, high = (min(x) - reach, min(y) - reach), (max(x) + reach, max(y) + reach)
    return tuple(
        (min(max(px, low[0]), high[0]), min(max(py, low[1]), high[1]))
        for px, py in registration.outline(float(size[0]), float(size[1]))
    )


def drawings_of(logbook: Logbook, solution: SiteSolution) -> tuple[KeptDrawing, ...]:
    """Return every drawing that stands, laid on the marks of this solution."""
    found = []
    for subject in dict.fromkeys(entry.subject for entry in logbook.entries(kind=KIND)):
        one = _kept(logbook, subject, solution)
        if one is not None:
            found.append(one)
    return tuple(found)


def drawing_of(logbook: Logbook, subject: str) -> KeptDrawing:
    """Return one drawing; `UnknownSubjectError` where there is none."""
    one = _kept(logbook, subject, survey_of(logbook).solution)
    if one is None:
        raise UnknownSubjectError(f"There is no drawing with the id {subject} in the logbook.")
    return one


def _kept(logbook: Logbook, subject: str, solution: SiteSolution) -> KeptDrawing | None:
    history = tuple(logbook.entries(subject))
    held = heads(history)
    fields = current(held)
    if "sha256" not in fields or not any(entry.kind == KIND for entry in history):
        return None
    control = tuple(
        (str(one["mark"]), float(one["u"]), float(one["v"])) for one in fields.get("control", ()) if "u" in one
    )
    fit = str(fields.get("fit") or "similarity")
    registration, why_not = None, ""
    try:
        registration = laid(control, fit, solution)
    except FrameError as error:
        why_not = str(error)
    return KeptDrawing(
        subject,
        str(fields["name"]),
        str(fields["sha256"]),
        str(fields.get("what") or "drawing"),
        fit,
        str(fields.get("square") or ""),
        str(fields.get("note") or ""),
        control,
        _size(logbook, str(fields["sha256"])),
        registration,
        why_not,
        history[-1].id,
        held,
        history,
    )


def laid(
    control: tuple[tuple[str, float, float], ...], fit: str, solution: SiteSolution
) -> Registration:
    """Lay control marks on the solution. `FrameError` naming marks without a place, or why no fit is made."""
    places = {mark.name: (mark.x_m, mark.y_m) for mark in solution.marks}
    without = [mark for mark, _, _ in control if mark not in places]
    if without:
        raise FrameError(
            f"{', '.join(without)}: no such mark has a place in the plan. Write the name as the plan has it, or tape "
            "it."
        )
    return register([Control(mark, u, v, *places[mark]) for mark, u, v in control], fit)


def control_typed(text: str, survey: SurveyAnswer) -> tuple[tuple[str, float, float], ...]:
    """Read control marks, one a line: the name of the mark, then u and v in the picture.

    `FieldErrors` with the line that cannot be read. Other spellings of a mark count as the mark.
    """
    rename = {also: mark.name for mark in survey.marks for also in mark.also}
    found = []
    for number, line in enumerate(text.splitlines(), 1):
        if not line.strip():
            continue
        parts = line.replace(";", " ").replace("\t", " ").split()
        try:
            u, v = float(parts[-2].rstrip(",")), float(parts[-1])
            name = " ".join(parts[:-2]).rstrip(",")
        except (ValueError, IndexError):
            name = ""
        if not name:
            raise FieldErrors(
                {"control": f'Line {number}, "{line.strip()}": write the mark, then u and v, such as: A 412 1085'}
            )
        found.append((rename.get(name, name), u, v))
    return tuple(found)


def keep_drawing(
    logbook: Logbook,
    content: bytes,
    typed: Mapping[str, str],
    *,
    author: str,
) -> Entry:
    """Keep a new drawing with its control marks (`name, control, fit, what, square, note`), once it can be laid.

    `FieldErrors` for what cannot be read or laid; `NotAPicture` for a file that is none; nothing is kept then.
    """
    survey = survey_of(logbook)
    body = _body(typed, survey)
    picture = read_picture(content)
    _inside(body["control"], picture)
    kept = FileStore(logbook.files_folder).put(content, name=typed.get("name", ""))
    body |= {"sha256": kept.sha256, "media_type": kept.media_type}
    return logbook.append(KIND, None, body, author=author)


def change_drawing(
    logbook: Logbook, subject: str, typed: Mapping[str, str], *, author: str, reason: str
) -> Entry:
    """Lay a kept drawing anew, over what stands, with a reason. `OakumError` where nothing changes."""
    one = drawing_of(logbook, subject)
    body = _body(typed, survey_of(logbook))
    entry = say(logbook, KIND, subject, one.heads, {**body, "sha256": one.sha256}, author=author, reason=reason)
    if entry is None:
        raise OakumError("The drawing lies like this already; nothing was entered.")
    return entry


def strike_drawing(logbook: Logbook, subject: str, reason: str, *, author: str) -> Entry:
    """Take a drawing off the plan; the entry and the file stay, with the reason."""
    if not reason.strip():
        raise FieldErrors({"reason": "Say why the drawing is taken off the plan."})
    one = drawing_of(logbook, subject)
    over = [entry.id for entry in one.history if entry.kind == KIND]
    return logbook.append("struck", subject, {"reason": reason.strip()}, author=author, over=over)


def _body(typed: Mapping[str, str], survey: SurveyAnswer) -> dict[str, Any]:
    name, fit = typed.get("name", "").strip(), typed.get("fit", "").strip() or "similarity"
    if not name:
        raise FieldErrors({"name": "Give the drawing a name, such as: Frame 3, square B2."})
    if fit not in FITS:
        raise FieldErrors({"fit": f"Choose one of {', '.join(FITS)}."})
    control = control_typed(typed.get("control", ""), survey)
    try:
        laid(control, fit, survey.solution)
    except FrameError as error:
        raise FieldErrors({"control": str(error)}) from None
    body: dict[str, Any] = {
        "name": name,
        "fit": fit,
        "what": typed.get("what", "").strip() or "drawing",
        "control": [{"mark": mark, "u": decimal_text(u), "v": decimal_text(v)} for mark, u, v in control],
    }
    body |= {key: typed[key].strip() for key in ("square", "note") if typed.get(key, "").strip()}
    return body


def _inside(control: list[dict[str, str]], picture: Picture) -> None:
    for one in control:
        if not (-0.5 * picture.width_px <= float(one["u"]) <= 1.5 * picture.width_px) or not (
            -0.5 * picture.height_px <= float(one["v"]) <= 1.5 * picture.height_px
        ):
            raise FieldErrors(
                {
                    "control": f"{one['mark']}: ({one['u']}, {one['v']}) lies far outside the picture of "
                    f"{picture.width_px} by {picture.height_px}; u and v are counted from its upper left corner"
                }
            )


@lru_cache(maxsize=64)
def _size_of(folder: str, sha256: str) -> tuple[int, int] | None:
    from pathlib import Path

    store = FileStore(Path(folder))
    if sha256 not in store:
        return None
    try:
        picture = read_picture(store.get(sha256))
    except NotAPicture:
        return None
    return (picture.width_px, picture.height_px)


def _size(logbook: Logbook, sha256: str) -> tuple[int, int] | None:
    return _size_of(str(logbook.files_folder), sha256)
