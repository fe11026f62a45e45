"""Two renderings of every drawing: for a page, whose colours follow light and dark, and for print, black ink.

A page drawing names CSS variables and carries a fallback for each, so that it is legible without a style
sheet. Data colours are the palette of Okabe and Ito (2008, "Color Universal Design"; memory, verify),
darkened on light ground where thin lines need it. No meaning rests on colour alone: every line that has a
colour also has its own dash and a name in words.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line that can be told from the others without its colour: width in units, dash pattern or None."""

    colour: str
    width: float
    dash: str | None = None


@dataclass(frozen=True, slots=True)
class Theme:
    """Colours, type and width of one rendering; lengths in drawing units."""

    name: str
    ink: str
    soft: str
    rule: str
    paper: str
    signal: str
    water: str
    tone: str
    roles: dict[str, Stroke]
    font: str | None
    text_size: float
    width: float

    def role(self, role: str) -> Stroke:
        """Return the stroke of a part's role; a role without its own takes that of the object."""
        return self.roles.get(role, self.roles["object"])

    def text_width(self, words: str, size: float | None = None) -> float:
        """Estimate how wide words run; deliberately a little wide (0.56 em a character)."""
        return 0.56 * len(words) * (size or self.text_size)


VARIABLES: dict[str, tuple[str, str]] = {
    "ink": ("#1d1d1b", "#f0eee6"),
    "soft": ("#5a5953", "#b5b2a8"),
    "rule": ("#cfccc2", "#4a4944"),
    "paper": ("#fffdf8", "#1b1b19"),
    "signal": ("#b34700", "#ff9d57"),
    "water": ("#0072b2", "#56b4e9"),
    "data-concretion": ("#a85a00", "#e69f00"),
    "data-water": ("#0072b2", "#56b4e9"),
    "data-sediment": ("#9c4f7f", "#cc79a7"),
    "data-crate": ("#00775a", "#2fc79b"),
    "data-rigging": ("#b34700", "#ff9d57"),
}
"""CSS variables of the page drawings (`--draw-NAME`): light value, dark value."""

_DASHES: dict[str, tuple[str, float, str | None]] = {
    "object": ("ink", 1.2, None),
    "concretion": ("data-concretion", 1.0, "6 2.5"),
    "trapped water": ("data-water", 1.0, "1.2 2.4"),
    "sediment": ("data-sediment", 1.0, "7 2 1.5 2"),
    "open hole": ("soft", 0.6, "2 1.5"),
    "crate": ("data-crate", 0.6, None),
    "rigging": ("data-rigging", 0.8, "10 3 1.5 3 1.5 3"),
}


def _variable(name: str) -> str:
    return f"var(--draw-{name}, {VARIABLES[name][0]})"


PAGE = Theme(
    name="page",
    **{name: _variable(name) for name in ("ink", "soft", "rule", "paper", "signal", "water")},
    tone=_variable("water"),
    roles={role: Stroke(_variable(name), width, dash) for role, (name, width, dash) in _DASHES.items()},
    font=None,
    text_size=12.5,
    width=480.0,
)
"""For inline SVG in a page: one unit is one CSS pixel at full width."""

PRINT = Theme(
    name="print",
    ink="#000000",
    soft="#444444",
    rule="#b8b8b8",
    paper="#ffffff",
    signal="#000000",
    water="#000000",
    tone="#000000",
    roles={role: Stroke("#000000", width, dash) for role, (_, width, dash) in _DASHES.items()},
    font="Inter",
    text_size=9.0,
    width=493.0,
)
"""For paper: one unit is one point, black ink, the width of an A4 page between its margins."""


def stylesheet() -> str:
    """Write the CSS that gives page drawings their light and dark colours and tabular figures."""
    light = "".join(f"--draw-{name}:{pair[0]};" for name, pair in VARIABLES.items())
    dark = "".join(f"--draw-{name}:{pair[1]};" for name, pair in VARIABLES.items())
    return (
        f":root{{{light}}}\n"
        f"@media (prefers-color-scheme: dark){{:root{{{dark}}}}}\n"
        ".drawing{max-width:100%;height:auto}\n"
        ".drawing text{font-variant-numeric:tabular-nums lining-nums}\n"
    )
