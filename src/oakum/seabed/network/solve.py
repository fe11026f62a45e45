"""The question of the room: where do the marks lie, how well is that known, which reading is to be doubted?"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from oakum.seabed.network.answer import SiteSolution, Suspect, Whole
from oakum.seabed.network.handle import Handle
from oakum.seabed.network.names import listed, natural
from oakum.seabed.network.results import (
    datum_words,
    further_results,
    reading_results,
    solved_marks,
    whole_test,
)
from oakum.seabed.network.settle import Measured, Settled, settle
from oakum.seabed.network.site import AssumedSd, Site
from oakum.seabed.network.suspects import Hunt, hunt
from oakum.seabed.network.twins import twins
from oakum.seabed.network.vet import Vetted

Bools = NDArray[np.bool_]

CAUTIONS = (
    "Planning support only: this replaces no licensed surveyor's control, no diving supervisor and no local rule.",
    "Tapes under water err to one side (sag, current, caught): ellipses take errors to fall on both sides alike.",
)

ALONE = 0.1
"""Redundancy below this counts as unchecked."""

ONE_MARK_M = 0.05
"""Two names nearer than this may be one mark."""


def solve_site(site: Site) -> SiteSolution:
    """Adjust a site.

    All readings that can be used count, suspects among them; the same site without its suspects is in
    `without_suspects`. Nothing is refused: what cannot be used or solved is named in `objections` and `unsolved`.
    """
    settled, vetted = settle(site)
    if settled is None:
        return _nothing(vetted)
    whole = settled.built.network
    found = hunt(whole, settled.built.counted, settled.measured, site.levels)
    clean = None
    if found.clean is not None:
        clean = _answer(settled, vetted, found.clean, found.counted, Hunt((), None, found.counted), None)
    return _answer(settled, vetted, settled.measured, settled.built.counted, found, clean)


def _nothing(vetted: Vetted) -> SiteSolution:
    words = "no mark can be solved: give at least three marks with tapes between them and a depth at each"
    whole = Whole(0.0, 0, None, None, None, None, "nothing was adjusted")
    objections = (words, *vetted.objections)
    return SiteSolution((), vetted.unsolved, (), (), whole, (), (), (), objections, (), CAUTIONS, 0, False)


def _answer(
    settled: Settled,
    vetted: Vetted,
    measured: Measured,
    counted: Bools,
    found: Hunt,
    clean: SiteSolution | None,
) -> SiteSolution:
    site, whole = settled.site, settled.built.network
    order = {reading.id: i for i, reading in enumerate(site.observations)}
    adjusted = measured.adjusted
    marks = solved_marks(measured)
    near = twins(adjusted, measured.blocks)
    second = (settled.whole, *near) if settled.whole is not None else near
    test = whole_test(measured, site.levels)
    unsolved = {m.name: m for m in (*vetted.unsolved, *settled.dropped)}
    dropped = tuple(dict.fromkeys(m.why for m in settled.dropped))
    objections = [*vetted.objections, *dropped, *(t.words for t in second)]
    objections += _of_the_whole(measured, test, found.suspects)
    objections += [f"{mark.name}: {mark.weak}" for mark in marks if mark.weak]
    objections += _unchecked(measured) + _one_mark(measured)
    assumptions, open_sds = _assumed(settled)
    objections += open_sds
    if found.suspects:
        ids = listed(dict.fromkeys(s.id for s in found.suspects))
        objections.append(f"{ids}: doubted, and still counted here until a named person decides")
    return SiteSolution(
        marks,
        tuple(sorted(unsolved.values(), key=lambda m: natural(m.name))),
        reading_results(measured, whole, counted, order, site.levels),
        further_results(measured),
        test,
        datum_words(measured, settled.canonical),
        second,
        found.suspects,
        tuple(dict.fromkeys(objections)),
        assumptions,
        CAUTIONS,
        adjusted.iterations,
        adjusted.converged,
        clean,
        _handle(measured),
    )


def _handle(measured: Measured) -> Handle:
    network = measured.adjusted.network
    n = len(network.names)
    places = measured.adjusted.state[: 3 * n].reshape(n, 3) + network.origin_m
    taped = {(min(label.marks), max(label.marks)) for label in network.labels if label.kind == "tape"}
    return Handle(network.names, places, measured.covariance, frozenset(taped))


def _of_the_whole(measured: Measured, test: Whole, suspects: tuple[Suspect, ...]) -> list[str]:
    words: list[str] = []
    if not measured.adjusted.converged:
        words.append(
            f"the adjustment did not settle ({measured.adjusted.why}): the places are not to be used"
        )
    if test.passed is None:
        words.append(test.words)
    elif not test.passed and test.s0 is not None and test.s0 > 1.0 and not suspects:
        words.append(f"{test.words}; no single reading stands out, so look at the sds by kind of reading")
    return words


def _unchecked(measured: Measured) -> list[str]:
    """Marks at which no reading is checked: an error there would not be seen."""
    best: dict[str, float] = {}
    for label, r in zip(measured.adjusted.network.labels, measured.reliability.redundancy, strict=True):
        if label.kind in ("tape", "tie", "offset", "fix", "datum"):
            for mark in label.marks:
                best[mark] = max(best.get(mark, 0.0), float(r))
    alone = [name for name in measured.adjusted.network.names if best.get(name, 1.0) < ALONE]
    if not alone:
        return []
    return [
        f"nothing checks the readings at {listed(alone)}: a misreading there would not be seen; take more tapes"
    ]


def _one_mark(measured: Measured) -> list[str]:
    """Two names at one place, with no reading between them."""
    network = measured.adjusted.network
    n = len(network.names)
    if n > 3000:
        return []
    places = measured.adjusted.state[: 3 * n].reshape(n, 3)
    order = np.argsort(places[:, 0], kind="stable")
    joined = {frozenset(label.marks[:2]) for label in network.labels}
    words: list[str] = []
    for i, a in enumerate(order):
        for b in order[i + 1 :]:
            if places[b, 0] - places[a, 0] > ONE_MARK_M:
                break
            pair = frozenset((network.names[a], network.names[b]))
            if float(np.linalg.norm(places[a] - places[b])) < ONE_MARK_M and pair not in joined:
                words.append(
                    f"{listed(sorted(pair, key=natural))} lie within 5 cm: are they one mark with two names?"
                )
    return words


def _assumed(settled: Settled) -> tuple[tuple[str, ...], list[str]]:
    """What was taken for granted, and which of it is a question still open."""
    assumed: AssumedSd = settled.site.assumed
    sizes = {
        "tape": f"{1000 * assumed.tape_m:.0f} mm",
        "tie": f"{1000 * assumed.tape_m:.0f} mm",
        "depth": f"{assumed.depth_m:g} m",
        "level": f"{1000 * assumed.level_m:.0f} mm",
        "bearing": f"{assumed.bearing_deg:g} degrees",
        "fix": f"{assumed.fix_m:g} m",
        "offset": f"{1000 * assumed.offset_m:.0f} mm",
    }
    words = ["errors of readings are independent and as large as their sds say"]
    open_sds: list[str] = []
    for kind, count in settled.built.assumed:
        whom = f"{count} {kind} reading{'s' if count > 1 else ''}"
        words.append(f"{whom} without an sd: {sizes[kind]} is taken")
        open_sds.append(
            f"the sd of {whom} is not known: say how well {'they were' if count > 1 else 'it was'} read"
        )
    return tuple(words), open_sds
