"""Sentences that the terminal, the page and the paper share, so that no face says it differently."""

from __future__ import annotations

from oakum.draw.bars import percent
from oakum.draw.rows import figure
from oakum.lift.weights.report import Conditioning, StateWeight, WeightReport

PLANNING_SUPPORT = "Planning support: local codes, the gear's own papers and competent persons govern."
DEMO = "Invented figures of the invented Tolmarren wreck: no real object stands behind this sheet."
BREAKOUT = "an upper bound, to be dug, vented and tilted away, never pulled against with bags or crane"
NO_BREAKOUT = "The bed is not described: what it takes to free the object is not known."


def peak_state(report: WeightReport) -> StateWeight:
    """Return the state with the greatest high (P95) hook load among those that need no breakout."""
    hung = [s for s in report.states if s.key != "seabed"] or list(report.states)
    return max(hung, key=lambda s: s.load_kg.p95)


def verdict_lines(report: WeightReport) -> tuple[str, ...]:
    """Return the verdict, an objection a line."""
    if report.objections:
        return tuple(f"objection: {words}" for words in report.objections)
    return (report.verdict,)


def hanging_words(report: WeightReport) -> tuple[str, ...]:
    """Say how far the body swings and tilts as it leaves the water, or why that is not given."""
    hanging = report.hanging
    said = []
    if hanging.swing_m is not None and hanging.swing_m.is_exact and abs(hanging.swing_m.best) < 1e-6:
        said.append("The hanging point does not move on leaving the water.")
    elif hanging.swing_m is not None:
        said.append(f"The hanging point moves on leaving the water: {hanging.swing_m.words()}.")
    if hanging.tilt_deg is not None:
        said.append(f"The body turns by the angle: {hanging.tilt_deg.words()}.")
    if hanging.why_no_tilt:
        said.append(f"No tilt is given: {hanging.why_no_tilt.rstrip('.')}.")
    return tuple(said)


def conditioning_words(report: WeightReport) -> tuple[str, ...]:
    """Say what the load cell read and what that did to the model."""
    done = report.conditioning
    if done is None:
        return ("Not weighed under water yet. A load-cell reading there is worth more than any model.",)
    return (_reading(done), f"Model alone, under water: {done.before_kg.words()}.", _after(done, report))


def _reading(done: Conditioning) -> str:
    hung = done.reading.rigging_kg
    rig = f", of which {figure(hung)} kg is gear between cell and object" if hung else ""
    return f"Load cell under water: {done.reading.text}{rig}."


def _after(done: Conditioning, report: WeightReport) -> str:
    rank = f"the reading stands at {percent(done.rank)} of the model's own range"
    drawn = f"{done.effective_draws:,.0f} of {report.draws:,} draws still count"
    if done.is_weighting:
        return f"With the reading: {done.after_kg.words()}; {rank}; {drawn}."
    return (
        f"Reading and model do not agree ({rank}; {drawn}), so the reading does not narrow the model. "
        f"Until it is settled the hook load takes the worse of the two: {done.after_kg.words()}."
    )


def breakout_words(report: WeightReport) -> str:
    """Say what the bed may hold, with what to do about it."""
    if report.breakout_kg is None:
        return NO_BREAKOUT
    return f"The bed may hold: {report.breakout_kg.words()}; {BREAKOUT}."


def origin_words(report: WeightReport) -> str:
    """Say what the figures rest on, so that they can be computed again."""
    return f"Water: {report.water}. Oakum {report.version}, {report.draws:,} draws, seed {report.seed}."
