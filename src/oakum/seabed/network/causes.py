"""What may have gone wrong with a reading, from the size of its error and the text as written."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from oakum.seabed.network.answer import Cause

Array = NDArray[np.float64]
FOOT_M = 0.3048
LONG_M = 8.0
"""A tape longer than this sags and bows in a current by centimetres (own calculation from a taut line's sag)."""


def swapped(text: str) -> tuple[float, ...]:
    """Numbers made by swapping two digits of a written number, the point staying: neighbours, then one apart."""
    digits = [i for i, c in enumerate(text) if c.isdigit()]
    made: list[float] = []
    for gap in (1, 2):
        for a, b in zip(digits, digits[gap:], strict=False):
            if text[a] != text[b]:
                letters = list(text)
                letters[a], letters[b] = letters[b], letters[a]
                made.append(float("".join(letters)))
    return tuple(made)


def written(text: str, value: float) -> str:
    """The number as it was written, where the text holds it; else the value to the millimetre."""
    for number in re.findall(r"\d+(?:[.,]\d+)?", text):
        plain = number.replace(",", ".")
        if math.isclose(float(plain), value, abs_tol=1e-9):
            return str(plain)
    return f"{value:.3f}"


def tape_causes(
    value: float, error: float, sd: float, text: str, ends: Sequence[tuple[str, str, float]]
) -> tuple[Cause, ...]:
    """Causes for a tape: `error` is read minus right with its sd; `ends` are (end given, other mark, distance).

    A cause is named where what it makes of the reading lies within three sd of what the others say, the nearest
    first; those that explain by chance (tenths, far ends) only where the sd is small enough for them to tell.
    """
    right, limit = value - error, 3.0 * sd
    found: list[tuple[float, Cause]] = []

    def offer(key: str, meant: float, words: str, handicap: float = 0.0) -> None:
        if abs(meant - right) <= limit and abs(meant - value) > 1e-9:
            found.append((abs(meant - right) / sd + handicap, Cause(key, words, meant)))

    for metres in (1, 2, 3, 5, 10):
        for sign in (-1.0, 1.0):
            meant = value + sign * metres
            offer(
                "metre",
                meant,
                f"misread by {metres} m: {meant:.3f} was perhaps meant",
                0.0 if metres == 1 else 0.5,
            )
    if sd < 0.02:
        for tenth in range(1, 10):
            for sign in (-0.1, 0.1):
                meant = value + sign * tenth
                offer("tenth", meant, f"misread by {tenth / 10:.1f} m: {meant:.3f} was perhaps meant", 2.0)
    for meant in swapped(written(text, value)):
        offer("digits", meant, f"two digits swapped: {meant:.3f} was perhaps meant", 0.7)
    offer("feet", value * FOOT_M, f"read in feet: {value * FOOT_M:.3f} m was perhaps meant", 0.7)
    offer("feet", value / FOOT_M, f"metres turned from feet once too often: {value / FOOT_M:.3f} m", 0.7)
    for end, other, distance in ends:
        if abs(distance - value) <= min(limit, 0.15):
            words = f"wrong end mark: {value:.3f} m is the distance to {other}, not to {end}"
            found.append((abs(distance - value) / sd + 0.8, Cause("end", words, None)))
    causes = [cause for _, cause in sorted(found, key=lambda item: item[0])]
    if error > 0.0 and value > LONG_M and error < 0.05 * value:
        causes.append(
            Cause("sag", f"too long by {error:.2f} m: sag, current, or a tape caught on the way", None)
        )
    elif error > 0.0 and not causes:
        causes.append(
            Cause("caught", f"too long by {error:.2f} m: a tape round something, or not at its end", None)
        )
    elif not causes:
        causes.append(
            Cause("zero", f"too short by {-error:.2f} m: perhaps read from the wrong zero end", None)
        )
    return tuple(causes[:4])


def other_causes(kind: str, value: float, error: float, sd: float, text: str) -> tuple[Cause, ...]:
    """Causes for depths, levels, bearings, offsets and fixes."""
    right, limit = value - error, 3.0 * sd
    offers: list[tuple[str, float, str]] = []
    if kind == "bearing":
        offers = [
            ("reciprocal", value + 180.0, "read the wrong way round: the bearing back was perhaps meant")
        ]
        offers += [
            ("ten", value + s, f"misread by {abs(s):.0f} degrees") for s in (-100.0, -10.0, 10.0, 100.0)
        ]
        gaps = [(abs((m - right + 180.0) % 360.0 - 180.0), Cause(k, w, m % 360.0)) for k, m, w in offers]
        fits = [c for gap, c in sorted(gaps, key=lambda g: g[0]) if gap <= limit]
        return tuple(fits) or (
            Cause("iron", f"out by {abs(error):.0f} degrees: iron or steel near the compass"),
        )
    offers += [
        ("metre", value + s, f"misread by 1 m: {value + s:.2f} was perhaps meant") for s in (-1.0, 1.0)
    ]
    digits = swapped(written(text, abs(value)))
    offers += [("digits", m, f"two digits swapped: {m:.2f} was perhaps meant") for m in digits]
    if kind in ("level", "offset"):
        offers.append(("sign", -value, "the wrong way: the sign is perhaps turned"))
    if kind == "depth":
        offers.append(("feet", value * FOOT_M, f"read in feet: {value * FOOT_M:.2f} m was perhaps meant"))
    fits = [
        Cause(k, w, m)
        for k, m, w in sorted(offers, key=lambda o: abs(o[1] - right))
        if abs(m - right) <= limit
    ]
    plain = {
        "depth": "gauge held off the mark, another gauge, or the water level of another hour",
        "fix": "the line leaned more than allowed for, or a wrong mark",
        "datum": "the known place does not agree with the tapes: check where it came from",
        "offset": "no right angle, or measured from the wrong end of the line",
        "level": "bubble or tube not settled, or a wrong mark",
    }
    return tuple(fits) or (Cause("other", plain.get(kind, "no pattern seen")),)
