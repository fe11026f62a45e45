"""Kinds of entries about the dig: squares, spits with their levels before and after, hours with buckets.

A square and a spit are things of their own. Levels are kept as read: metres down from `top_from` or
`bottom_from`, which is "water" or the name of a datum; `top_zero` and `bottom_zero` give the height of that on the
site. Hours belong to the site as a whole and stand side by side, one entry a dive.
"""

from __future__ import annotations

from oakum.record.log import dig_checks as dig
from oakum.record.log import fact_checks as must
from oakum.record.log import lift_checks as lift
from oakum.record.log.kinds import Check, Kind

_STAGE: dict[str, Check] = {
    f"{stage}{field}": check
    for stage in ("top", "bottom")
    for field, check in {
        "": dig.be_levels,
        "_from": must.be_text,
        "_zero": must.be_decimal,
        "_on": lift.be_day,
        "_by": must.be_author,
    }.items()
}

DIG_KINDS = (
    Kind(
        "dig.square",
        "a square was set out",
        {"name": must.be_text, "corners": dig.be_corners},
        {"planned_depth": dig.be_positive, "note": must.be_text},
    ),
    Kind(
        "dig.spit",
        "a spit was taken down",
        {"square": must.be_text, "spit": must.be_text},
        {
            **_STAGE,
            "sd": must.be_spread,
            "bias": must.be_spread,
            "context": must.be_text,
            "note": must.be_text,
        },
        whole=dig.levels_in_order,
    ),
    Kind(
        "dig.hours",
        "hours of digging were noted",
        {"hours": dig.be_positive, "on": lift.be_day},
        {
            "square": must.be_text,
            "spit": must.be_text,
            "dive": must.be_text,
            "divers": must.be_count,
            "buckets": must.be_size,
            "litres": dig.be_positive,
            "task": must.be_text,
            "note": must.be_text,
        },
        is_item=True,
    ),
)
