"""The columns of a list of gear, as hire firms and clubs name them, and what kind of piece a text means."""

from __future__ import annotations

import re

from oakum.record.sheets.columns import Vocabulary

FIELDS: dict[str, str] = {
    "identity": "identity, id, id no, id number, tag, tag no, tag number, serial, serial no, serial number, serial nr, "
    "plant no, plant number, asset no, asset number, asset id, equipment no, equipment id, unit no, mark, marking, "
    "identification, identification no, identification mark, distinguishing mark, no, number, nr, item no, ref, "
    "reference, stock no, fleet no",
    "kind": "kind, type, item type, equipment type, category, gear, item, equipment, type equipment, what",
    "description": "description, desc, details, item description, equipment description, name, product, article",
    "count": "count, qty, quantity, pieces, pcs, number pieces, no pieces, no off",
    "wll": "wll, working load limit, working load, rated load, rated capacity, capacity, safe working load, swl, "
    "load limit, load, rating, wll vertical, wll straight",
    "length": "length, len, l, working length, effective length, ewl, leg length, reach",
    "diameter": "diameter, dia, size, pin diameter, rope diameter, bow diameter, chain size, d",
    "volume": "volume, bag volume, air volume, full volume",
    "mass": "mass, weight, wt, own weight, unit weight, self weight, weight each",
    "leg_of": "leg, set, set no, belongs to, part set, leg set",
    "maker": "maker, make, manufacturer, brand, mfr",
    "owner": "owner, owned by, hire firm, supplier, hired from, property",
    "certificate": "certificate, certificate no, certificate number, cert, cert no, cert number, test certificate, "
    "test cert no, doc no, declaration no, report no, report number",
    "certificate_from": "certificate date, cert date, date certificate, issued, issue date, date issued, valid from, "
    "certificate from, tested, test date, date test, date tested, proof test date",
    "certificate_until": "certificate until, valid until, valid to, expiry, expiry date, expires, certificate expiry, "
    "cert expiry, expiration, expiration date, cert valid until, certificate valid until, date expiry",
    "inspected_on": "inspected, inspected on, last inspection, last inspected, inspection date, date inspection, "
    "last exam, last examination, examined, date examined, thorough examination, date last inspection, "
    "last thorough examination, last thorough exam, date last thorough examination, last loler",
    "inspect_by": "inspect by, next inspection, inspection due, next inspection due, next exam, next examination, "
    "next due, due, due date, reinspect by, inspection expiry, next thorough examination, next loler, "
    "date next inspection, next examination due",
    "withdrawn": "withdrawn, out use, quarantined, quarantine, withdrawn because, taken out use",
    "where": "where, location, store, stored, bin, shelf, box, container, depot, crate, where now",
    "note": "note, notes, remark, remarks, comment, comments, condition",
    "inspector": "inspected by, inspector, examined by, examiner, tested by, surveyor, competent person, "
    "checked by, by",
}
DIMENSION = {"wll": "mass", "length": "length", "diameter": "length", "volume": "volume", "mass": "mass"}
WORDS = Vocabulary(
    names=FIELDS,
    dimensions=DIMENSION,
    several=frozenset({"description", "note", "extra"}),
    otherwise={"wll": "force"},
)

_KIND_OF: tuple[tuple[str, str], ...] = (
    (r"load ?cells?|load ?links?|dynamometers?|crane scales?|load (?:pin|shackle)s?", "load cell"),
    (r"shackles?", "shackle"),
    (r"(?:chain|lever|rope|electric|hand) ?(?:hoists?|blocks?|pullers?)|hoists?|lever blocks?", "hoist"),
    (r"winch(?:es)?", "winch"),
    (r"cranes?|derricks?|davits?", "crane"),
    (r"(?:lift(?:ing)?|air|parachute|salvage|enclosed|open) ?bags?|bags?|parachutes?|balloons?", "lifting bag"),
    (r"spreaders?|lifting beams?|(?:spreader|modular) (?:bar|beam)s?", "spreader beam"),
    (r"(?:lifting )?(?:frame|cradle)s?", "lifting frame"),
    (r"eye ?(?:bolt|nut|screw)s?|lifting eyes?", "eyebolt"),
    (r"(?:rigging|bottle) screws?|turn ?buckles?", "rigging screw"),
    (r"(?:plate|beam|girder) ?clamps?|clamps?", "clamp"),
    (r"swivels?", "swivel"),
    (r"round ?slings?|endless (?:polyester )?slings?|soft slings?", "round sling"),
    (r"web(?:bing)? ?(?:slings?|straps?)|flat (?:web )?slings?|duplex slings?|(?:lifting )?straps?", "webbing sling"),
    (r"(?:steel )?wire ?(?:rope)?.*\b(?:slings?|legs?)|wire rope slings?|wire slings?", "wire rope sling"),
    (r"chain.*\b(?:slings?|legs?)|chain slings?|(?:one|two|three|four|[1-4])[- ]leg chains?", "chain sling"),
    (r"(?:fibre|fiber|polyester|nylon|polyamide|manila|hemp|sisal)? ?rope slings?", "rope sling"),
    (r"strops?", "strop"),
    (r"(?:master|oval|lifting) (?:link|ring)s?|rings?|master links?", "ring"),
    (r"hooks?", "hook"),
    (r"anchors?|clump ?weights?", "anchor"),
    (r"tag ?lines?|lines?|ropes?", "line"),
)
_COMPILED = tuple((re.compile(rf"\b(?:{pattern})\b"), kind) for pattern, kind in _KIND_OF)


def kind_of(text: str) -> str | None:
    """The kind of piece a firm's words mean, or None where they do not tell ("sling" alone names no material)."""
    plain = " ".join(re.sub(r"[^a-z0-9 ]", " ", text.casefold()).split())
    return next((kind for pattern, kind in _COMPILED if pattern.search(plain)), None)
