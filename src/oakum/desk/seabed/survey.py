"""The survey as it stands: the site, its solution, and the entries behind both, kept while nothing is entered."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from threading import Lock

from oakum.desk.lifts.kept import Kept
from oakum.desk.seabed.facts import KeptReading, KeptThing, facts_of
from oakum.desk.seabed.site import Assembled, assemble
from oakum.record import Logbook, OpenQuestion
from oakum.record.log.kinds_seabed import SITE
from oakum.seabed.network import Site, SiteSolution, solve_site


@dataclass(frozen=True, slots=True, eq=False)
class SurveyAnswer:
    """What is known of the site now.

    `entries` gives the kept reading of each id in `site` and `solution`; `marks` are the marks somebody named,
    others are known by their readings alone. `objections` are those of the solution and of what it was made from;
    `open_questions` those of the logbook about marks, instruments, readings and the site.
    """

    site: Site
    solution: SiteSolution
    entries: Mapping[str, KeptReading]
    marks: tuple[KeptThing, ...]
    instruments: tuple[KeptThing, ...]
    objections: tuple[str, ...]
    open_questions: tuple[OpenQuestion, ...]


MOST_BEHIND = 25
LARGE_SITE = 600

_answers: Kept[SurveyAnswer] = Kept(4)
_solutions: Kept[SiteSolution] = Kept(4)
_newest: Kept[SurveyAnswer] = Kept(4)
_latest: Kept[SurveyAnswer] = Kept(2)
_working = Lock()


def survey_of(logbook: Logbook) -> SurveyAnswer:
    """Return the survey as it stands, or the same answer again while nothing was entered since."""
    key = (str(logbook.path), logbook.count())
    with _working:
        found = _answers.get(key)
        if found is None:
            found = _survey(logbook)
            _answers.put(key, found)
            _newest.put(key[0], found)
    return found


def survey_lately(logbook: Logbook) -> SurveyAnswer:
    """Return the site and the entries as they stand, beside a solution that may lack the newest readings.

    For questions that must be answered at once, such as whether a reading can be right. It is worked out anew when
    `MOST_BEHIND` readings are missing from it, in a large site only when another page asks for it; until then such a
    site has a solution without marks.
    """
    path, count = str(logbook.path), logbook.count()
    last = _newest.get(path)
    found = _answers.get((path, count)) or _latest.get((path, count))
    if found is None:
        made = assemble(facts_of(logbook))
        size = len(made.site.observations)
        behind = size - (len(last.site.observations) if last is not None else -MOST_BEHIND)
        if behind > MOST_BEHIND and size <= LARGE_SITE:
            return survey_of(logbook)
        found = _answer(logbook, made, last.solution if last is not None else solve_site(Site(observations=())))
        _latest.put((path, count), found)
    return found


def _survey(logbook: Logbook) -> SurveyAnswer:
    made = assemble(facts_of(logbook))
    solution = _solutions.get(made.site)
    if solution is None:
        solution = solve_site(made.site)
        _solutions.put(made.site, solution)
    return _answer(logbook, made, solution)


def _answer(logbook: Logbook, made: Assembled, solution: SiteSolution) -> SurveyAnswer:
    facts = made.facts
    about = {SITE} | {one.subject for one in facts.readings}
    about |= {one.subject for one in (*facts.marks, *facts.instruments)}
    return SurveyAnswer(
        made.site,
        solution,
        {one.id: one for one in facts.readings},
        facts.marks,
        facts.instruments,
        (*made.objections, *solution.objections),
        tuple(one for one in logbook.open_questions() if one.subject in about),
    )
