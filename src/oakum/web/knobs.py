"""The controls of a plan as a page sends them: what was typed or stepped, and what is then asked for."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Annotated
from urllib.parse import urlencode

from fastapi import Depends, Query

from oakum.desk.lifts.knobs import Knobs
from oakum.desk.lifts.what_if import MOST_BAGS

STEP = {"bags": 1.0, "hook": 0.1, "legs": 0.1, "hs": 0.05, "tz": 0.5, "depth": 0.5, "radius": 0.1}
Metres = Annotated[float | None, Query(gt=0, le=100, allow_inf_nan=False)]
Typed = Annotated[str, Query(max_length=20)]


@dataclass(frozen=True, slots=True)
class Control:
    """One control: its name in an address, its label, how it stands, and how far it goes; None: not known yet."""

    name: str
    label: str
    value: float | None
    low: float
    high: float
    step: float
    by: float

    @property
    def text(self) -> str:
        """The value as the field shows it; empty where it is not known."""
        if self.value is None:
            return ""
        return f"{self.value:g}" if self.step >= 1 else f"{self.value:.2f}"


@dataclass(frozen=True, slots=True)
class Turned:
    """The controls as they came. `shown_*` is what stood in them before, so that the one that was moved is known.

    Those of the sea come as text: an empty field leaves what stands.
    """

    bags: Annotated[int | None, Query(ge=0, le=1000)] = None
    hook: Metres = None
    legs: Metres = None
    shown_hook: Metres = None
    shown_legs: Metres = None
    step: Annotated[str, Query(max_length=20)] = ""
    hs: Typed = ""
    tz: Typed = ""
    depth: Typed = ""
    radius: Typed = ""
    heading: Annotated[str, Query(max_length=80)] = ""

    @property
    def is_sea(self) -> bool:
        """Whether anything of the sea is asked for."""
        return any((self.hs, self.tz, self.depth, self.radius, self.heading))

    def knobs(self) -> Knobs:
        """Return what is asked for: of hook and legs only the one that was moved, else the hook."""
        return replace(
            self._rig(),
            hs_m=self._of("hs", self.hs),
            tz_s=self._of("tz", self.tz),
            depth_m=self._of("depth", self.depth),
            radius_m=self._of("radius", self.radius),
            heading=self.heading.strip() or None,
        )

    def _rig(self) -> Knobs:
        bags, hook, legs = self.bags, self.hook, self.legs
        what, sign = self._stepped()
        if what == "bags" and bags is not None:
            bags += int(sign)
        if what == "hook" and hook is not None:
            return Knobs(bags, round(hook + sign * STEP["hook"], 3))
        if what == "legs" and legs is not None:
            return Knobs(bags, None, round(legs + sign * STEP["legs"], 3))
        if legs is not None and (hook is None or (legs != self.shown_legs and hook == self.shown_hook)):
            return Knobs(bags, None, legs)
        return Knobs(bags, hook)

    def _of(self, name: str, typed: str) -> float | None:
        """Return a control of the sea as a number, stepped where its button was pressed; what is no number is NaN."""
        text = typed.strip().replace(",", ".")
        if not text:
            return None
        try:
            value = float(text)
        except ValueError:
            return float("nan")
        what, sign = self._stepped()
        return round(max(value + sign * STEP[name], STEP[name]), 3) if what == name and sign else value

    def _stepped(self) -> tuple[str, float]:
        what, _, by = self.step.partition(":")
        return what, {"more": 1.0, "less": -1.0}.get(by, 0.0)


Controls = Annotated[Turned, Depends(Turned)]


def query_of(now: Knobs, kept: Knobs) -> str:
    """Return the controls as they stand, for an address: those of the rig, and of the sea what differs."""
    asked: list[tuple[str, object]] = [("bags", now.bags), ("hook", now.hook_m)]
    if now.hook_m is None:
        asked.append(("legs", now.legs_m))
    asked += [
        (name, value)
        for name, value, was in (
            ("hs", now.hs_m, kept.hs_m),
            ("tz", now.tz_s, kept.tz_s),
            ("depth", now.depth_m, kept.depth_m),
            ("radius", now.radius_m, kept.radius_m),
            ("heading", now.heading, kept.heading),
        )
        if value != was
    ]
    return urlencode({name: str(value) for name, value in asked if value is not None})


def rig_controls(kept: Knobs, now: Knobs) -> list[Control]:
    """Return every control that this rig has."""
    found = []
    if kept.bags is not None and now.bags is not None:
        found.append(Control("bags", "Bags", now.bags, 1, MOST_BAGS, 1, 1))
    for name, label, was, value in (
        ("hook", "Hook over the topmost eye, m", kept.hook_m, now.hook_m),
        ("legs", "Legs, mean length, m", kept.legs_m, now.legs_m),
    ):
        if was is not None and value is not None:
            low, high = round(max(0.3 * was, 0.1), 1), round(2.5 * was, 1)
            found.append(Control(name, label, round(value, 2), low, high, 0.01, STEP[name]))
    return found


def sea_controls(now: Knobs, reach_m: tuple[float, float] | None) -> list[Control]:
    """Return the controls of the sea; `reach_m` is from where to where the load chart goes, None: not known."""
    least, most = reach_m or (0.5, 30.0)
    return [
        Control("hs", "Significant height Hs, m", now.hs_m, 0.05, max(3.0, now.hs_m or 0.0), 0.01, STEP["hs"]),
        Control("tz", "Mean period Tz, s", now.tz_s, 2.0, max(15.0, now.tz_s or 0.0), 0.1, STEP["tz"]),
        Control("depth", "Depth of the water, m", now.depth_m, 1.0, max(60.0, now.depth_m or 0.0), 0.1, STEP["depth"]),
        Control(
            "radius", "Radius of the boom, m", now.radius_m, min(least, now.radius_m or least),
            max(most, now.radius_m or most), 0.01, STEP["radius"],
        ),
    ]  # fmt: skip
