"""The dig as it stands: what was taken out of every square and spit, the season, and what is open."""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot

from oakum.desk.lifts.kept import Kept
from oakum.desk.seabed.dig_facts import (
    WATER,
    DigFacts,
    KeptThing,
    Marks,
    corners_of,
    dig_facts,
    levels_of,
    marks_of,
)
from oakum.ground.estimate import Spread
from oakum.record import Logbook, OpenQuestion
from oakum.seabed.dig import (
    GOVERNS,
    DigError,
    Dug,
    Epoch,
    Outline,
    Part,
    Season,
    SpitDone,
    dug,
    season,
    spread_from,
)

PLANNED = "Planning support only: figures of a dig steer nobody under water."


@dataclass(frozen=True, slots=True)
class SpitAnswer:
    """One spit: what was dug, or why that is not known; on what it rests and what somebody has to answer."""

    kept: KeptThing
    name: str
    dug: Dug | None
    refused: str
    objections: tuple[str, ...]
    assumptions: tuple[str, ...]
    open_questions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SquareAnswer:
    """One square with its spits; `where` is None where `refused` says why. `volume` sums the spits that are known.

    `no_width` names the spits whose width is not known: then the sum has none either (`volume` is None).
    """

    kept: KeptThing
    name: str
    where: Outline | None
    refused: str
    spits: tuple[SpitAnswer, ...]
    best_m3: float
    volume: Spread | None
    no_width: tuple[str, ...]
    planned_m3: float | None

    @property
    def area_m2(self) -> float | None:
        """Area in plan, None where the corners do not stand."""
        return None if self.where is None else self.where.area_m2

    @property
    def depth_m(self) -> float | None:
        """Mean depth dug so far."""
        return None if not self.area_m2 else self.best_m3 / self.area_m2


@dataclass(frozen=True, slots=True)
class DigAnswer:
    """The whole dig; `questions` are those of the logbook about squares and spits."""

    facts: DigFacts
    squares: tuple[SquareAnswer, ...]
    season: Season
    objections: tuple[str, ...]
    open_questions: tuple[str, ...]
    questions: tuple[OpenQuestion, ...]
    cautions: tuple[str, ...]

    def square(self, name_or_id: str) -> SquareAnswer | None:
        """Return a square by its id or name, None where there is none."""
        kept = self.facts.square(name_or_id)
        return next((one for one in self.squares if kept is not None and one.kept.id == kept.id), None)


_answers: Kept[DigAnswer] = Kept(4)


def dig_of(logbook: Logbook) -> DigAnswer:
    """Return the dig as it stands, or the same answer again while nothing was entered since."""
    key = (str(logbook.path), logbook.count())
    found = _answers.get(key)
    if found is None:
        found = _dig(logbook)
        _answers.put(key, found)
    return found


def _dig(logbook: Logbook) -> DigAnswer:
    facts, marks = dig_facts(logbook), marks_of(logbook)
    squares = tuple(square_answer(facts, square, marks) for square in facts.squares)
    done = [
        SpitDone(
            square.name,
            spit.name,
            spit.kept.word("bottom_on"),
            spit.dug.area_m2,
            spit.dug.best_m3,
            spit.dug.volume.sd if spit.dug.volume else None,
        )
        for square in squares
        for spit in square.spits
        if spit.dug is not None
    ]
    planned = [square for square in squares if square.planned_m3 is not None]
    rest = sum(max(0.0, (square.planned_m3 or 0.0) - square.best_m3) for square in planned)
    whole = sum(one.volume_m3 for one in done) + rest if planned else None
    about = {thing.id for thing in (*facts.squares, *facts.spits)}
    said = [(f"{sq.name} spit {sp.name}", sp) for sq in squares for sp in sq.spits]
    return DigAnswer(
        facts,
        squares,
        season(facts.dives(), done, whole),
        tuple(f"{where}: {text}" for where, spit in said for text in spit.objections)
        + tuple(f"{sq.name}: {sq.refused}" for sq in squares if sq.refused),
        tuple(f"{where}: {text}" for where, spit in said for text in spit.open_questions)
        + _unknown_squares(facts),
        tuple(one for one in logbook.open_questions() if one.subject in about),
        (PLANNED, GOVERNS),
    )


def square_answer(facts: DigFacts, square: KeptThing, marks: Marks) -> SquareAnswer:
    """Work out one square."""
    name = square.word("name")
    try:
        where = corners_of(square.fields["corners"], marks)
    except DigError as error:
        return SquareAnswer(square, name, None, str(error), (), 0.0, None, (), None)
    spits: list[SpitAnswer] = []
    above: KeptThing | None = None
    for kept in facts.spits_of(square):
        spits.append(spit_answer(kept, above, where, marks))
        above = kept
    known = [spit for spit in spits if spit.dug is not None]
    parts: dict[str, float] = {}
    for spit in known:
        for part in spit.dug.parts if spit.dug else ():
            parts[part.cause] = hypot(parts.get(part.cause, 0.0), part.sd)
    no_width = tuple(spit.name for spit in known if spit.dug is not None and spit.dug.volume is None)
    best = sum(spit.dug.best_m3 for spit in known if spit.dug)
    width = spread_from(best, [Part(cause, sd) for cause, sd in parts.items()], "m3")
    depth = square.number("planned_depth")
    return SquareAnswer(
        square,
        name,
        where,
        "",
        tuple(spits),
        best,
        width if known and not no_width else None,
        no_width,
        None if depth is None else where.area_m2 * depth,
    )


def spit_answer(spit: KeptThing, above: KeptThing | None, where: Outline, marks: Marks) -> SpitAnswer:
    """Work out one spit; without levels before, those after the spit above stand for them."""
    assumptions: list[str] = []
    objections: list[str] = []
    questions: list[str] = []
    before, stage = (spit, "top"), "top"
    if not spit.fields.get("top") and above is not None and above.fields.get("bottom"):
        before, stage = (above, "bottom"), "bottom"
        assumptions.append(f"The levels after spit {above.word('spit')} stand for those before this one.")
    refused, answer = "", None
    try:
        bias = _bias(spit, *before, objections, assumptions)
        if not before[0].fields.get(stage):
            raise DigError(
                "no levels before it; read them before the spit is dug, or enter those of the spit above"
            )
        if not spit.fields.get("bottom"):
            raise DigError("no levels after it yet; read them when the spit is down")
        answer = dug(
            where,
            Epoch(levels_of(before[0], stage, where, marks), before[0].number("sd")),
            Epoch(levels_of(spit, "bottom", where, marks), spit.number("sd")),
            bias_sd_m=bias,
        )
    except DigError as error:
        refused = str(error)
        objections = [] if not spit.fields.get("bottom") else objections
    if answer is not None:
        if answer.best_m3 < 0.0:
            objections.append(
                "the bottom lies above the top on the whole: are before and after swapped, or two zeros mixed?"
            )
        for rise in answer.rises:
            questions.append(f"At {rise.name} the bed rose by {rise.rise_m:.2f} m. Filled back, or misread?")
        questions += answer.open_questions
        if answer.why_no_width:
            objections.append(f"no width can be given: {answer.why_no_width}")
    return SpitAnswer(
        spit, spit.word("spit"), answer, refused, tuple(objections), tuple(assumptions), tuple(questions)
    )


def _bias(
    spit: KeptThing, before: KeptThing, stage: str, objections: list[str], assumptions: list[str]
) -> float | None:
    """Return the sd of what the difference of both sets shares, None where nobody knows it."""
    hung = before.word(f"{stage}_from"), spit.word("bottom_from")
    zeros = before.number(f"{stage}_zero"), spit.number("bottom_zero")
    given = spit.number("bias")
    if not all(hung):
        objections.append(
            "it is not known from what the levels were read down (water, or the name of a datum)"
        )
        return given
    same = hung[0].casefold() == hung[1].casefold()
    if WATER in (hung[0].casefold(), hung[1].casefold()):
        if None in zeros:
            if not same:
                raise DigError(
                    "one set is read from the water and one from a datum; give the height of both, or nothing "
                    "joins them"
                )
            objections.append(
                "depths before and after are from the water, whose height is not known: the tide between them is in "
                "the volume"
            )
        return given
    if not same and None in zeros:
        raise DigError(
            f"levels before hang on {hung[0]}, those after on {hung[1]}; give the height of both on the site, or "
            "nothing joins them"
        )
    if same and zeros[0] != zeros[1] and None not in zeros:
        objections.append(f"{hung[0]} has one height before and another after; which holds?")
    if given is None and same:
        assumptions.append(f"Both sets hang on {hung[0]}, so that what shifts it shifts both and drops out.")
        return 0.0
    return given


def _unknown_squares(facts: DigFacts) -> tuple[str, ...]:
    known = {square.id for square in facts.squares}
    lost = {str(entry.body["square"]) for entry in facts.hours if entry.body.get("square")} - known
    return ("Some hours belong to a square that was struck out; enter them again.",) if lost else ()
