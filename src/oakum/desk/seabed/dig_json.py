"""The dig as plain data for other programs: the same numbers as page and table, in SI, with their units in the name."""

from __future__ import annotations

from typing import Any

from oakum.desk.seabed.dig import DigAnswer, SpitAnswer, SquareAnswer
from oakum.ground.estimate import Spread
from oakum.seabed.dig import Sizing


def dig_dict(answer: DigAnswer) -> dict[str, Any]:
    """Return the whole dig."""
    season = answer.season
    return {
        "squares": [square_dict(square) for square in answer.squares],
        "season": {
            "diver_hours": season.hours,
            "dives": season.dives,
            "area_m2": season.area_m2,
            "volume_m3": season.volume_m3,
            "volume_sd_m3": season.sd_m3,
            "planned_m3": season.planned_m3,
            "milestones": [
                {
                    "on": one.on,
                    "spit": one.spit,
                    "diver_hours": one.hours,
                    "area_m2": one.area_m2,
                    "volume_m3": one.volume_m3,
                    "sd_m3": one.sd_m3,
                }
                for one in season.milestones
            ],
            "rate_m3_per_hour": None
            if season.rate is None
            else {
                "best": season.rate.m3_per_hour,
                "low": season.rate.low,
                "high": season.rate.high,
                "stretches": season.rate.count,
                "measured_by": season.rate.source,
            },
            "rest": None
            if season.forecast is None
            else {
                "rest_m3": season.forecast.rest_m3,
                "diver_hours": season.forecast.best_h,
                "low": season.forecast.low_h,
                "high": season.forecast.high_h,
                "words": season.forecast.words,
            },
            "refused": season.refused,
            "notes": list(season.notes),
        },
        "objections": list(answer.objections),
        "open_questions": [*answer.open_questions, *(question.why for question in answer.questions)],
        "cautions": list(answer.cautions),
    }


def square_dict(square: SquareAnswer) -> dict[str, Any]:
    """Return one square."""
    return {
        "name": square.name,
        "id": square.kept.id,
        "corners_m": [list(corner) for corner in square.where.corners] if square.where else None,
        "area_m2": square.area_m2,
        "best_m3": square.best_m3,
        "volume_m3": _spread(square.volume),
        "planned_m3": square.planned_m3,
        "refused": square.refused,
        "spits": [_spit(spit) for spit in square.spits],
    }


def sizing_dict(sizing: Sizing) -> dict[str, Any]:
    """Return what an airlift or a dredge needs."""
    return {
        "title": sizing.title,
        "figures": [
            {"what": one.what, "low": one.low, "best": one.best, "high": one.high, "unit": one.unit}
            for one in sizing.figures
        ],
        "objections": list(sizing.objections),
        "open_questions": list(sizing.open_questions),
        "bases": [{"words": one.words, "source": one.source, "mark": one.mark} for one in sizing.bases],
        "cautions": list(sizing.cautions),
    }


def _spit(spit: SpitAnswer) -> dict[str, Any]:
    found = spit.dug
    return {
        "name": spit.name,
        "id": spit.kept.id,
        "best_m3": None if found is None else found.best_m3,
        "volume_m3": None if found is None else _spread(found.volume),
        "depth_m": None if found is None else found.depth_m,
        "covered": None if found is None else found.covered,
        "parts_sd_m3": {} if found is None else {part.cause: part.sd for part in found.parts},
        "refused": spit.refused,
        "objections": list(spit.objections),
        "assumptions": list(spit.assumptions),
        "open_questions": list(spit.open_questions),
        "cautions": [] if found is None else list(found.cautions),
    }


def _spread(spread: Spread | None) -> dict[str, Any] | None:
    if spread is None:
        return None
    drivers = {driver.label: driver.share for driver in spread.drivers}
    return {
        "low_p5": spread.p5,
        "best": spread.best,
        "high_p95": spread.p95,
        "sd": spread.sd,
        "drivers": drivers,
    }
