"""How a cradle is built: marks on the pieces, what is sawn, which joints are made when."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from oakum.lift.cradle.cutting import Assembly, CuttingList, assembly, cutting_list
from oakum.lift.cradle.errors import CradleError
from oakum.lift.cradle.frame import Frame
from oakum.lift.cradle.joints import Joint
from oakum.lift.cradle.plan import CradlePlan

_ALPHABET = "ABCDEFGHJKLMNPQRSTUVWXYZ"  # I and O are read as 1 and 0 on wet wood

_DO = {
    "runner": "Lay the runners on level ground, side by side",
    "bearer": "Lay the bearers across",
    "post": "Stand the posts",
    "rail": "Fix the rails",
    "brace": "Fix the braces last, when the frame is square",
}


@dataclass(frozen=True, slots=True)
class BuildStep:
    """One step: what is put in its place, by its marks, and the joints made then."""

    words: str
    marks: tuple[str, ...]
    joints: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Built:
    """Everything to build a frame from. `marks`: mark of each member by its name: a letter a line of the cutting list.

    `letters`: the letter of each line, in its order.
    """

    cutting: CuttingList
    letters: tuple[str, ...]
    assembly: Assembly
    marks: dict[str, str]
    steps: tuple[BuildStep, ...]


def built(plan: CradlePlan) -> Built:
    """Return how the frame of a cradle is built. `CradleError` where it has none."""
    if plan.frame is None:
        raise CradleError(f'"{plan.title}" has no members: there is nothing to build')
    cutting = cutting_list(plan.frame, plan.stock(), plan.kerf_m)
    letters = tuple(_letter(i) for i in range(len(cutting.lines)))
    marks = {
        name: letter if line.count == 1 else f"{letter}{i}"
        for letter, line in zip(letters, cutting.lines, strict=True)
        for i, name in enumerate(line.members, 1)
    }
    whole = assembly(plan.frame)
    return Built(cutting, letters, whole, marks, _steps(plan.frame, whole, marks))


def _letter(index: int) -> str:
    more, last = divmod(index, len(_ALPHABET))
    return (_letter(more - 1) if more else "") + _ALPHABET[last]


def _steps(frame: Frame, whole: Assembly, marks: dict[str, str]) -> tuple[BuildStep, ...]:
    found = []
    there: set[str] = set()
    left: list[Joint] = list(whole.joints)
    for kind, group in groupby(whole.order, key=lambda name: frame.member(name).kind):
        names = list(group)
        there |= set(names)
        now = [j for j in left if j.first in there and j.second in there]
        left = [j for j in left if j not in now]
        found.append(BuildStep(_DO[kind], tuple(marks[n] for n in names), tuple(j.name for j in now)))
    return tuple(found)
