"""Laying a planning-frame drawing or a photo mosaic on the marks: the fit, what each mark leaves, what it proves.

Pictures count u to the right and v down from their upper left corner; the site has y up. A drawing is never laid on
mirrored.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from oakum.seabed.frame.errors import FrameError
from oakum.seabed.frame.projective import apply, fit_affine, fit_projective, off_line, on_one_line
from oakum.seabed.frame.similarity import fit_similarity

Array = NDArray[np.float64]
FITS = ("similarity", "affine", "projective")
LEAST = {"similarity": 2, "affine": 3, "projective": 4}
"""How many marks settle each fit; one more gives residuals."""
_OFF = 2.0
"""A mark missed this many times farther than the middle one is named first (own choice)."""


@dataclass(frozen=True, slots=True)
class Control:
    """A mark seen in the picture at (u, v), whose place on the site is (x, y)."""

    mark: str
    u: float
    v: float
    x_m: float
    y_m: float


@dataclass(frozen=True, slots=True)
class Residual:
    """What the fit leaves at a mark (fit less mark), and what it would miss it by had the mark not been used."""

    mark: str
    dx_m: float
    dy_m: float
    left_out_m: float | None

    @property
    def size_m(self) -> float:
        """Length of the residual."""
        return math.hypot(self.dx_m, self.dy_m)


@dataclass(frozen=True, slots=True, eq=False)
class Registration:
    """A picture on the site. `matrix` (3, 3) carries (u, v, 1) to the site.

    `per_unit_m` is the size of one unit of the picture in the middle of the marks, `turn_deg` how far the picture's
    upper edge is turned anticlockwise from site east, `shear` the part by which an affinity would stretch it one way
    (None where too few marks). `rms_m` None: there are no residuals, the fit is unchecked.
    """

    fit: str
    matrix: Array
    residuals: tuple[Residual, ...]
    rms_m: float | None
    per_unit_m: float
    turn_deg: float
    shear: float | None
    cautions: tuple[str, ...]

    def place(self, u: float, v: float) -> tuple[float, float]:
        """Return where a spot of the picture lies on the site."""
        x, y = apply(self.matrix, np.array([[u, v]]))[0]
        return (float(x), float(y))

    def outline(self, width: float, height: float) -> tuple[tuple[float, float], ...]:
        """Return where the four corners of the picture lie, anticlockwise from the lower left one."""
        return tuple(self.place(u, v) for u, v in ((0, height), (width, height), (width, 0), (0, 0)))


def register(control: Sequence[Control], fit: str = "similarity") -> Registration:
    """Lay a picture on its marks.

    `FrameError` where there are too few marks, one is named twice, three lie on one line where that settles nothing,
    or the picture is a mirror image.
    """
    if fit not in FITS:
        raise FrameError(f'"{fit}" is no fit; there are {", ".join(FITS)}.')
    _counted(control, fit)
    uv = np.array([(c.u, -c.v) for c in control], dtype=float)
    xy = np.array([(c.x_m, c.y_m) for c in control], dtype=float)
    _apart(control, uv, xy, fit)
    made = _fitted(uv, xy, fit)
    flip = np.diag([1.0, -1.0, 1.0])
    left = apply(made, uv) - xy
    spare = len(control) - LEAST[fit]
    residuals = tuple(
        Residual(c.mark, float(dx), float(dy), _without(uv, xy, fit, i) if spare > 0 else None)
        for i, (c, (dx, dy)) in enumerate(zip(control, left, strict=True))
    )
    rms = math.sqrt(float(np.mean(np.sum(left**2, axis=1)))) if spare > 0 else None
    linear = _linear_at(made, uv.mean(axis=0))
    shear = _shear(uv, xy)
    return Registration(
        fit,
        made @ flip,
        residuals,
        rms,
        math.sqrt(abs(float(np.linalg.det(linear)))),
        math.degrees(math.atan2(float(linear[1, 0]), float(linear[0, 0]))) % 360.0,
        shear,
        _cautions(fit, len(control), residuals, shear),
    )


def _counted(control: Sequence[Control], fit: str) -> None:
    names = [c.mark for c in control]
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        raise FrameError(f"{', '.join(twice)}: named twice as a control point; keep one of them.")
    if len(control) < LEAST[fit]:
        more = LEAST[fit] + 1
        raise FrameError(
            f"A {fit} fit needs {LEAST[fit]} marks, and {more} before anything checks it; this drawing gives "
            f"{len(control)}."
        )
    if not all(math.isfinite(value) for c in control for value in (c.u, c.v, c.x_m, c.y_m)):
        raise FrameError("A control point has a coordinate that is no number.")


def _apart(control: Sequence[Control], uv: Array, xy: Array, fit: str) -> None:
    """Refuse marks on one line where that leaves the fit open."""
    n = len(control)
    for points, where in ((xy, "on the site"), (uv, "in the picture")):
        if fit == "projective":
            held = on_one_line(points, 3 if n == 4 else n - 1)
        else:
            held = tuple(range(n)) if n >= 3 and off_line(points) < 0.01 else ()
        if held:
            names = [control[i].mark for i in held]
            said = f"{', '.join(names[:-1])} and {names[-1]} lie on one line {where}"
            why = (
                "four marks settle a projective fit only where no three are on a line"
                if fit == "projective"
                else "nothing would tell the drawing from its mirror image"
            )
            raise FrameError(f"{said}: {why}. Add a mark away from that line.")


def _fitted(uv: Array, xy: Array, fit: str) -> Array:
    if len(uv) >= 3:
        plain = fit_similarity(uv, xy)
        if plain.is_mirrored:
            raise FrameError(
                f"The marks fit the mirror image of this drawing (rms {plain.mirror_rms:.3f} m, against "
                f"{plain.rms:.3f} m as it is): it was drawn from below or traced from the back, or two marks are "
                "swapped. Turn the sheet over before it is scanned, or correct the marks; a mirror image is not "
                "laid on the plan."
            )
    if fit == "similarity":
        return fit_similarity(uv, xy).matrix()
    made = fit_affine(uv, xy) if fit == "affine" else fit_projective(uv, xy)
    if float(np.linalg.det(_linear_at(made, uv.mean(axis=0)))) <= 0:
        raise FrameError("This fit would turn the picture over; two marks may be swapped.")
    if fit == "projective" and np.ptp(np.sign(uv @ made[2, :2] + made[2, 2])) > 0:
        raise FrameError("This fit would tear the picture at its horizon; two marks may be swapped.")
    return made


def _without(uv: Array, xy: Array, fit: str, index: int) -> float | None:
    """How far the fit of the other marks misses one; None where the others settle none."""
    keep = np.arange(len(uv)) != index
    try:
        made = (
            fit_similarity(uv[keep], xy[keep]).matrix()
            if fit == "similarity"
            else (fit_affine if fit == "affine" else fit_projective)(uv[keep], xy[keep])
        )
    except FrameError:
        return None
    return float(np.hypot(*(apply(made, uv[~keep]) - xy[~keep])[0]))


def _linear_at(made: Array, point: Array) -> Array:
    """The derivative of a projectivity at a point, (2, 2)."""
    depth = float(point @ made[2, :2] + made[2, 2])
    carried = (made[:2, :2] @ point + made[:2, 2]) / depth
    found: Array = (made[:2, :2] - np.outer(carried, made[2, :2])) / depth
    return found


def _shear(uv: Array, xy: Array) -> float | None:
    """How much more an affinity stretches one way than across, as a part; None with fewer than four marks."""
    if len(uv) < 4:
        return None
    try:
        values = np.linalg.svd(fit_affine(uv, xy)[:2, :2], compute_uv=False)
    except FrameError:
        return None
    return float(values[0] / values[1] - 1.0)


def _cautions(fit: str, count: int, residuals: tuple[Residual, ...], shear: float | None) -> tuple[str, ...]:
    said = []
    spare = count - LEAST[fit]
    if spare == 0:
        words = "two marks" if count == 2 else f"{count} marks"
        said.append(f"unchecked: {words} settle a {fit} fit exactly and leave no residual; add a mark")
        if count == 2:
            said.append("with two marks its mirror image would fit as well")
    if spare > 1:
        missed = sorted((r.left_out_m, r.mark) for r in residuals if r.left_out_m is not None)
        if len(missed) >= 3 and missed[-1][0] > _OFF * missed[len(missed) // 2][0] and missed[-1][0] > 0.02:
            far, mark = missed[-1]
            said.append(f"{mark} is missed by {far:.3f} m when the others fit without it; look at this mark first")
    if fit == "similarity" and shear is not None and shear > 0.01:
        said.append(
            f"an affine fit would stretch the sheet by {100 * shear:.1f} % one way: wet paper, a skewed scan or a "
            "slanting view"
        )
    if fit == "projective":
        said.append("a projective fit holds for a plane: what stands up from it is displaced towards the edge")
    return tuple(said)
