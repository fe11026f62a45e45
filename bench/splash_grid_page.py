"""The page that the comparison of the two splash-zone methods is printed on."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

G_M_S2 = 9.80665


class Compared(Protocol):
    body: str
    tip: str
    hs_m: float
    tz_s: float
    why_not: str
    simple_n: float
    simple_slack: float
    case: str
    time_n: float
    hoist_n: float
    slack_count: int
    seas: int
    level_m: float
    static_n: float
    own_period_s: float
    ratio: float
    lower: bool
    missed_slack: bool
    holds: bool


_HEAD = """# The simplified splash-zone method against the model in time

Made by `python bench/splash_grid.py`; {count} cases, {seas} seas each. Bodies, vessel and seas are invented.

**What is compared.** *Simplified*: the greatest hook load over the load cases of the body, with the exact peak of
a snap where the line may go slack, for one greatest wave of 1.8 Hs with the period Tz. *In time*: the one-degree
model in JONSWAP seas, held ten minutes at the height with the greatest force and, if another, at the one with the
most slack, and hoisted through the surface at 0.25 m/s. A greatest wave of 1.8 Hs is that of about 650 waves; ten
minutes have fewer, so the percentile of the ten-minute maxima is taken that belongs to the median over 650 waves
(of the hoist the 95th). *Ratio* is simplified over in time: above 1 the simplified method asks for more.

**Slack** shows hydrodynamic over static force by the simplified method (over 0.9 is an objection), and in how many
seas the line went slack in time. Hook loads are load-cell readings. The line has 200 kN/m and 3 % damping. "Still"
is a boom head that does not move, "follows" one that answers the waves by a response table (phase to the wave
drawn). "no" under *holds* marks cases where the simplified method says itself that it does not hold.
"""

_WHY_HIGH = """## Why the simplified method mostly asks for more

- It lets the greatest wave, the greatest tip motion and the hoist's own speed meet in one instant.
- Where the line may go slack it takes the exact peak of a snap at a speed that the load seldom reaches: in time most
  slack spells are short and end slowly. These are the ratios above 2.
- Slamming counts with a coefficient of 5 on the whole plan; in time the added mass grows evenly over the body's
  height, which is softer for a flat bottom. For flat bottoms the simplified figure is the one to keep to.
- In time the load moves with the water that carries it, which the simplified method leaves out.
- Water in hollows: a crate that has drained floats up on the next wave faster than it fills. The simplified method
  counts this as varying buoyancy; without it, slack of the crate that holds water is missed from Hs 0.5 m on.
"""


def page(rows: Sequence[Compared]) -> str:
    """Return the page as Markdown."""
    lower = [r for r in rows if r.lower]
    missed = [r for r in rows if r.missed_slack]
    return "\n".join(
        [
            _HEAD.format(count=len(rows), seas=rows[0].seas),
            _summary(rows),
            "## Cases where the simplified answer is lower\n",
            _listed(lower, missed),
            _WHY_HIGH,
            "## All cases\n",
            _table(rows),
            "",
        ]
    )


def _summary(rows: Sequence[Compared]) -> str:
    lines = [
        "## In short\n",
        "| body | tip | ratio least | median | greatest | slack by both | only simplified | only in time "
        "| neither |",
        "|---|---|---|---|---|---|---|---|---|",
    ]
    for body in dict.fromkeys(r.body for r in rows):
        for tip in dict.fromkeys(r.tip for r in rows):
            these = [r for r in rows if r.body == body and r.tip == tip]
            ratios = sorted(r.ratio for r in these)
            said = [r.simple_slack > 0.9 for r in these]
            seen = [r.slack_count > 0 for r in these]
            pairs = list(zip(said, seen, strict=True))
            counts = [pairs.count(p) for p in ((True, True), (True, False), (False, True), (False, False))]
            lines.append(
                f"| {body} | {tip} | {ratios[0]:.2f} | {ratios[len(ratios) // 2]:.2f} | {ratios[-1]:.2f} | "
                + " | ".join(str(c) for c in counts)
                + " |"
            )
    return "\n".join(lines) + "\n"


def _listed(lower: Sequence[Compared], missed: Sequence[Compared]) -> str:
    if not lower and not missed:
        return (
            "None: in every case the simplified hook load is the greater, and wherever a line went slack in time\n"
            "the simplified method had said that it may.\n"
        )
    lines = []
    if not lower:
        lines.append("No hook load is lower. Slack that only the model in time found:\n")
    for row in dict.fromkeys([*lower, *missed]):
        what = []
        if row.lower:
            what.append(f"hook load {_kg(row.simple_n)} against {_kg(row.time_n)} kg in time (ratio {row.ratio:.2f})")
        if row.missed_slack:
            what.append(
                f"slack in {row.slack_count} of {row.seas} seas, simplified ratio {row.simple_slack:.2f} of 0.9"
            )
        lines.append(
            f"- **{row.body}, tip {row.tip}, Hs {row.hs_m:g} m, Tz {row.tz_s:g} s**: {'; '.join(what)}. {_why(row)}"
        )
    return "\n".join(lines) + "\n"


def _why(row: Compared) -> str:
    if not row.holds:
        return f"The simplified method says itself that it does not hold here: {row.why_not}."
    share = row.own_period_s / row.tz_s
    if row.missed_slack:
        return (
            "The ratio is near its limit and seas hold waves steeper and shorter than the one greatest wave; a "
            f"tenth of the pull is left for them, and here it was used up (own period {share:.2f} of Tz)."
        )
    return (
        f"The load's own period on the line is {share:.2f} of Tz, and short waves of the sea stir it; the simplified "
        "method has no line in it unless it goes slack."
    )


def _table(rows: Sequence[Compared]) -> str:
    lines = [
        "| body | tip | Hs m | Tz s | holds | static in air kg | simplified kg | in time kg | ratio "
        "| slack ratio | slack in time | worst load case |",
        "|---|---|---|---|---|---|---|---|---|---|---|---|",
    ]
    for r in rows:
        lines.append(
            f"| {r.body} | {r.tip} | {r.hs_m:g} | {r.tz_s:g} | {'yes' if r.holds else 'no'} | {_kg(r.static_n)} | "
            f"{_kg(r.simple_n)} | {_kg(r.time_n)} | {r.ratio:.2f}{' (lower)' if r.lower else ''} | "
            f"{min(r.simple_slack, 99.0):.2f} | {r.slack_count}/{r.seas} | {r.case} |"
        )
    return "\n".join(lines)


def _kg(force_n: float) -> str:
    return f"{force_n / G_M_S2:,.0f}"
