"""Kinds of entries about the seabed: readings, marks, instruments, what is held, plans.

Every reading, mark, instrument and plan is a thing of its own; what belongs to the site as a whole
is about the subject `SITE`, the same at every station, so that two copies that meet speak of one site.
"""

from __future__ import annotations

from oakum.record.log import fact_checks as must
from oakum.record.log import lift_checks as lift
from oakum.record.log import seabed_checks as sea
from oakum.record.log.kinds import Kind

SITE = "site"

SEABED_KINDS = (
    Kind(
        "site.named",
        "the site was named",
        {"name": must.be_text},
        {"anticlockwise": sea.be_three_marks, "note": must.be_text},
    ),
    Kind(
        "survey.read",
        "a reading was brought up",
        {"what": sea.one_of(tuple(sea.READING_KINDS)), "marks": sea.be_marks, "text": must.be_text},
        {
            "value": must.be_decimal,
            "unit": sea.one_of(("m", "deg")),
            "sd": must.be_spread,
            "sd_per_m": must.be_spread,
            "sd_z": must.be_spread,
            "sd_left": must.be_spread,
            "above": must.be_decimal,
            "x": must.be_decimal,
            "y": must.be_decimal,
            "z": must.be_decimal,
            "line": sea.be_amount,
            "lean": sea.be_amount,
            "along": must.be_decimal,
            "left": must.be_decimal,
            "at": must.be_decimal,
            "side": sea.one_of(sea.SIDES),
            "instrument": must.be_text,
            "dive": must.be_text,
            "doubt": must.be_text,
            "note": must.be_text,
            "imported_from": must.be_text,
        },
        whole=sea.reading_in_order,
    ),
    Kind("survey.rejected", "a reading was rejected", {"rejected": must.be_text}),
    Kind("survey.restored", "a reading was taken back in", {"rejected": must.be_nothing}, changes=True),
    Kind(
        "survey.instrument",
        "an instrument of the survey was described",
        {"name": must.be_text, "kind": sea.one_of(sea.INSTRUMENT_KINDS)},
        {
            "scale": must.be_decimal,
            "zero": must.be_decimal,
            "scale_sd": must.be_spread,
            "zero_sd": must.be_spread,
            "offset_sd": must.be_spread,
            "sd": must.be_spread,
            "sd_per_m": must.be_spread,
            "longest": must.be_spread,
            "solve": sea.be_solved,
            "note": must.be_text,
        },
    ),
    Kind(
        "mark.named",
        "a mark was named",
        {"name": must.be_text},
        {
            "also": must.be_texts,
            "what": sea.one_of(sea.MARK_KINDS),
            "find": must.be_id,
            "note": must.be_text,
        },
    ),
    Kind(
        "site.held",
        "a mark was given its place",
        {},
        {
            "x": must.be_decimal,
            "y": must.be_decimal,
            "z": must.be_decimal,
            "sd": must.be_spread,
            "sd_z": must.be_spread,
            "source": must.be_text,
        },
    ),
    Kind(
        "site.north",
        "the north of the site was given",
        {"declination": must.be_decimal},
        {"turn": must.be_decimal, "source": must.be_text, "on": lift.be_day},
    ),
    Kind(
        "site.water",
        "the water level was given",
        {},
        {
            "bench": must.be_text,
            "levels": sea.be_levels,
            "zone": sea.be_zone,
            "source": must.be_text,
            "note": must.be_text,
        },
        is_item=True,
        whole=lambda body: (
            None
            if ("bench" in body) != ("levels" in body) and ("levels" in body) == ("zone" in body)
            else "site.water: give either a bench mark, or levels with their zone"
        ),
    ),
    Kind(
        "site.crs",
        "the site was tied to a map grid",
        {"epsg": must.be_count, "control": sea.be_control},
        {"fit": must.be_text, "vertical": must.be_text, "epoch": must.be_text, "note": must.be_text},
    ),
    Kind(
        "site.released",
        "positions of the site were released",
        {"to": must.be_text, "because": must.be_text},
        {"what": must.be_text, "until": lift.be_day, "note": must.be_text},
        is_item=True,
    ),
    Kind(
        "plan.registered",
        "a drawing was laid on the site",
        {"sha256": must.be_sha256, "name": must.be_text, "control": sea.be_control},
        {
            "what": sea.one_of(("drawing", "mosaic")),
            "fit": sea.one_of(("similarity", "affine", "projective")),
            "square": must.be_text,
            "media_type": must.be_text,
            "note": must.be_text,
        },
    ),
)
