"""The answer to "can this vessel carry it there?": one frozen object for page, sheet and JSON alike."""

from __future__ import annotations

from dataclasses import dataclass

from oakum.ground.estimate import Spread
from oakum.lift.checks import Check, hardest, verdict_words
from oakum.lift.vessel.typed_rows import RowNote


@dataclass(frozen=True, slots=True)
class VesselAnswer:
    """Everything about vessel, chart and derrick under one load.

    Angles in degrees. `heel_deg` by small angles, the greater of the two formulas, governs the checks;
    `wall_sided_deg` beside it. `radius_m`: with the heel, what the chart is read at; `upright_m` without.
    `chart_kg`: what the chart allows at the 95th percentile of the radius, derated; `chart_load_kg`: the
    greatest load by chart with the heel that it makes itself. `heel_load_kg`: the load at which the heel limit is
    reached. `first_roll_deg`: to the other side after a sudden loss. `threshold_kg_m`: moment over which special
    rules for lifting apply. None: not known.
    """

    state: str
    load_kg: Spread
    heel_deg: Spread | None
    wall_sided_deg: Spread | None
    gm_m: Spread | None
    gm_before_m: Spread | None
    freeboard_m: Spread | None
    first_roll_deg: Spread | None
    upright_m: float | None
    radius_m: Spread | None
    chart_kg: float | None
    chart_load_kg: float | None
    heel_limit_deg: float | None
    heel_load_kg: float | None
    threshold_kg_m: float | None
    book_page: str | None
    checks: tuple[Check, ...]
    objections: tuple[str, ...]
    advice: tuple[str, ...]
    open_questions: tuple[str, ...]
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]
    chart_notes: tuple[RowNote, ...]

    @property
    def governing(self) -> Check | None:
        """The check with the highest utilisation, None where nothing could be checked."""
        return hardest(self.checks)

    @property
    def verdict(self) -> str:
        """The only two verdicts there are."""
        return verdict_words(self.objections)
