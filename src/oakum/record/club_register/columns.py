"""The columns of a club's register of finds: their fields, the names each goes by, and what they measure."""

from __future__ import annotations

from oakum.record.sheets.columns import Vocabulary

FIELDS: dict[str, str] = {
    "number": "find no, find number, find nr, find, finds no, finds number, number, no, nr, num, ref, ref no, "
    "reference, id, find id, object no, object number, object id, artefact no, artefact number, artifact no, "
    "artifact number, item, item no, item number, reg no, registration number, register no, register number, "
    "catalogue no, catalogue number, cat no, inventory no, inventory number, inv no, accession no, "
    "accession number, old no, old number, earlier number, museum number, small find, small find no, sf no, sf",
    "title": "name, object, object name, object type, artefact, artifact, find type, type, what, title, "
    "item name, identification, simple name, type object",
    "description": "description, desc, descr, details, full description, object description, brief description",
    "material": "material, materials, mat, made from, substance",
    "count": "count, quantity, qty, pieces, number pieces, no pieces, how many, no items, number items, "
    "no fragments, number fragments, frags, no objects, total pieces, pcs",
    "length": "length, l, len, long, length object, size length",
    "width": "width, w, breadth, b, br, wide, width object",
    "height": "height, h, ht, high, height object",
    "diameter": "diameter, diam, dia, d, bore diameter",
    "thickness": "thickness, th, thick, thk, t",
    "mass": "weight, wt, mass, wgt, weight air, weight object, dry weight, wet weight, weight dry, weight wet",
    "depth": "water depth, depth water, depth found, found depth, depth below surface",
    "place": "place, square, grid square, grid, trench, area, location, findspot, find spot, unit, where found, "
    "place found, sector, cutting, grid sq",
    "position": "position, coordinates, coords, grid reference, grid ref, gps",
    "context": "context, layer, level, stratum, context no, spit",
    "found_on": "date, date found, found, found date, date recovered, date raised, date lifted, recovered, "
    "raised, date recovery, day found, date find, found on, year",
    "found_by": "finder, found by, diver, divers, recovered by, raised by, finders, by, who, recorder, name finder",
    "condition": "condition, state, state preservation, preservation",
    "period": "period, dating, date object, date made, age",
    "marks": "marks, inscription, inscriptions, stamp, stamps, markings, makers mark",
    "kept_at": "kept, store, storage, stored, tank, box, box no, location now, current location, tank no, shelf",
    "note": "remarks, remark, notes, note, comments, comment, observations, other, misc",
}
DIMENSION = {
    **dict.fromkeys(("length", "width", "height", "diameter", "thickness", "depth"), "length"),
    "mass": "mass",
}
SEVERAL_COLUMNS = frozenset({"number", "description", "place", "context", "note", "extra"})
"""Fields that may take more than one column; all others take the first that fits."""

WORDS = Vocabulary(
    names=FIELDS,
    dimensions=DIMENSION,
    several=SEVERAL_COLUMNS,
    roles={"found_by": {"diver": "diver", "divers": "diver"}},
)
