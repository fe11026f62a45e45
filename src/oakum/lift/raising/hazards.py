"""Hazards of the object: what must be excluded by a named competent person before anybody lifts or drills."""

from __future__ import annotations

from dataclasses import replace

from oakum.lift.raising.plan import Hazard

EXCLUDED_FIRST: dict[str, str] = {
    "charge": "a charge: a loaded gun, a live shell, powder in concretion nobody has looked into",
    "pressure": "pressure in a closed container or under concretion",
    "gas": "gas that poisons or burns, in a closed container or a hollow",
}
"""Excluded, or the object is neither lifted, drilled, heated nor put under current."""

AUTHORISED_FIRST: dict[str, str] = {
    "remains": "human remains in it or with it",
    "venerated": "a thing that people hold sacred",
}
"""Authorised by whoever may, with the paper linked, or left where it is."""


def hazards_asked(known: tuple[Hazard, ...]) -> tuple[Hazard, ...]:
    """Return every hazard that has to be answered, the known ones as answered, with what stands against each."""
    by_key: dict[str, Hazard] = {}
    for hazard in known:
        by_key.setdefault(hazard.key, hazard)
    every = {**EXCLUDED_FIRST, **AUTHORISED_FIRST}
    asked = [
        by_key.get(key, Hazard(key, words, "not known", None, None, None)) for key, words in every.items()
    ]
    others = [hazard for key, hazard in by_key.items() if key not in every]
    return tuple(replace(h, objection=_objection(h)) for h in (*asked, *others))


def _objection(hazard: Hazard) -> str | None:
    if hazard.objection:
        return hazard.objection
    if hazard.key in AUTHORISED_FIRST:
        return _needs_authority(hazard)
    nothing = "until a named competent person has excluded it, no lift, no drill, no heat, no current"
    match hazard.answer:
        case "excluded" | "does not apply" if hazard.person:
            return None
        case "excluded" | "does not apply":
            return f"{hazard.words}: said to be excluded, but nobody is named who says so; {nothing}"
        case "present":
            return (
                f"{hazard.words}: present; no lift, no drill, no heat, no current before it is made harmless"
            )
        case _:
            return f"{hazard.words}: not excluded; {nothing}"


def _needs_authority(hazard: Hazard) -> str | None:
    match hazard.answer:
        case "excluded" | "does not apply" | "authorised" if hazard.person:
            return None
        case "excluded" | "does not apply":
            return f"{hazard.words}: said not to be so, but nobody is named who says it"
        case "authorised":
            return f"{hazard.words}: an authorisation is named, but not by whom"
        case "present":
            return f"{hazard.words}: no authorisation is linked; it stays where it is until there is one"
        case _:
            return f"{hazard.words}: not known; ask whoever may authorise before it is touched"
