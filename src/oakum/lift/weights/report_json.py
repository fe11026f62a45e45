"""The weight report as plain dicts, lists, texts and numbers, with the unit in every key, for JSON."""

from __future__ import annotations

from typing import Any

from oakum.ground.estimate import Spread
from oakum.lift.weights.report import Centre, Conditioning, Curve, Hanging, PartLine, WeightReport


def report_dict(report: WeightReport) -> dict[str, Any]:
    """Return the report; keys are stable, and None stands for what is not known or not given."""
    return {
        "title": report.title,
        "verdict": report.verdict,
        "water": report.water,
        "water_density_kg_m3": _spread(report.water_density_kg_m3),
        "states": [
            {"key": s.key, "title": s.title, "load_kg": _spread(s.load_kg), "explanation": s.explanation}
            for s in report.states
        ],
        "frame": None
        if report.frame is None
        else {
            "submerged_kg": _spread(report.frame.submerged_kg),
            "clear_kg": _spread(report.frame.clear_kg),
            "words": report.frame.words,
        },
        "parts": [_part(p) for p in report.parts],
        "object_volume_m3": _spread(report.volume_m3),
        "object_mass_kg": _spread(report.mass_kg),
        "centres": [_centre(c) for c in report.centres],
        "hanging": _hanging(report.hanging),
        "emergence": _curve(report.emergence),
        "draining": _curve(report.draining),
        "breakout_kg": _spread(report.breakout_kg),
        "conditioning": _conditioning(report.conditioning),
        "objections": list(report.objections),
        "open_questions": list(report.open_questions),
        "assumptions": list(report.assumptions),
        "cautions": list(report.cautions),
        "draws": report.draws,
        "seed": report.seed,
        "version": report.version,
    }


def _spread(spread: Spread | None) -> dict[str, Any] | None:
    if spread is None:
        return None
    return {
        "p5": spread.p5,
        "best": spread.best,
        "p95": spread.p95,
        "mean": spread.mean,
        "sd": spread.sd,
        "unit": spread.unit,
        "words": spread.words(),
        "drivers": [{"label": d.label, "share": d.share} for d in spread.drivers],
    }


def _part(part: PartLine) -> dict[str, Any]:
    return {
        "name": part.name,
        "role": part.role,
        "shape": part.shape,
        "material": part.material,
        "volume_m3": _spread(part.volume_m3),
        "mass_kg": _spread(part.mass_kg),
        "submerged_kg": _spread(part.submerged_kg),
    }


def _centre(centre: Centre) -> dict[str, Any]:
    return {
        "name": centre.name,
        "x_m": _spread(centre.x_m),
        "y_m": _spread(centre.y_m),
        "z_m": _spread(centre.z_m),
    }


def _hanging(hanging: Hanging) -> dict[str, Any]:
    return {
        "submerged": _centre(hanging.submerged),
        "in_air": _centre(hanging.in_air),
        "swing_m": _spread(hanging.swing_m),
        "tilt_deg": _spread(hanging.tilt_deg),
        "why_no_tilt": hanging.why_no_tilt,
    }


def _curve(curve: Curve | None) -> dict[str, Any] | None:
    if curve is None:
        return None
    return {
        "name": curve.name,
        "x": {"name": curve.x_name, "unit": curve.x_unit, "values": list(curve.x)},
        "y": {
            "name": curve.y_name,
            "unit": curve.y_unit,
            "p5": list(curve.p5),
            "best": list(curve.best),
            "p95": list(curve.p95),
        },
        "marks": [{"x": x, "words": words} for x, words in curve.marks],
    }


def _conditioning(done: Conditioning | None) -> dict[str, Any] | None:
    if done is None:
        return None
    return {
        "reading_kg": done.reading.reading_kg,
        "sd_kg": done.reading.sd_kg,
        "rigging_kg": done.reading.rigging_kg,
        "with_frame": done.reading.with_frame,
        "text": done.reading.text,
        "rank": done.rank,
        "effective_draws": done.effective_draws,
        "is_weighting": done.is_weighting,
        "before_kg": _spread(done.before_kg),
        "after_kg": _spread(done.after_kg),
    }
