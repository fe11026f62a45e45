"""The beam solver: one beam, or several that cross and share their deflection where they are tied.

Nodes at ends, supports and ties only, loads put on exactly between them: for Euler-Bernoulli beams there is no mesh
to refine.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from scipy import linalg

from oakum.lift.cradle.beam import Array, Beam, BeamResult, Support
from oakum.lift.cradle.errors import CradleError, positive
from oakum.lift.cradle.pieces import Piece, Stretch, nodal_loads, solved_pieces, stiffness

_SAME_M = 1e-7
_ROUNDS = 60


@dataclass(frozen=True, slots=True)
class Tie:
    """Two beams fast to each other where they cross: one deflection, each turns freely. Indices of the beams."""

    first: int
    first_at_m: float
    second: int
    second_at_m: float


def solve_beam(beam: Beam) -> BeamResult:
    """Return a single beam solved. `CradleError` for loads off the beam or too few supports."""
    return solve_network((beam,), ())[0]


def solve_network(beams: Sequence[Beam], ties: Sequence[Tie]) -> tuple[BeamResult, ...]:
    """Return beams that cross solved together, in their order.

    Supports that only push are let go where the beam would pull on them, and taken up again where it
    comes down. `CradleError` for a beam without enough supports, or one that tips off them.
    """
    for beam in beams:
        _checked(beam)
    for tie in ties:
        for beam, at in ((beams[tie.first], tie.first_at_m), (beams[tie.second], tie.second_at_m)):
            if not -_SAME_M <= at <= beam.length_m + _SAME_M:
                raise CradleError(f"{beam.name} is {beam.length_m:g} m long; a joint at {at:g} m is off it")
    net = _Net(beams, ties)
    gone: set[tuple[int, int]] = set()
    for _ in range(_ROUNDS):
        moved, reactions = net.solve(gone)
        pulling = {
            k: f for k, f in reactions.items() if net.support(k).pushes_only and f < -1e-9 * net.scale_n
        }
        if pulling:  # one at a time, the hardest pull first: the others may push once it is gone
            gone = gone | {min(pulling, key=lambda k: pulling[k])}
            continue
        # a support that was let go takes up again where the beam has come down past it
        back = {k: float(moved[net.deflection(k)]) for k in gone if moved[net.deflection(k)] > 1e-12}
        if not back:
            return net.results(moved, reactions)
        gone = gone - {max(back, key=lambda k: back[k])}
    raise CradleError("supports that only push keep letting go and coming back: give one of them a stiffness")


def _checked(beam: Beam) -> None:
    positive(f"{beam.name}: its length", beam.length_m, "m")
    positive(f"{beam.name}: its bending stiffness EI", beam.ei_nm2, "N m²")
    places = [
        *(s.at_m for s in beam.supports),
        *(p.at_m for p in beam.points),
        *(x for s in beam.spread for x in (s.from_m, s.to_m)),
    ]
    off = [x for x in places if not -_SAME_M <= x <= beam.length_m + _SAME_M]
    if off:
        raise CradleError(
            f"{beam.name} is {beam.length_m:g} m long; a support or load at {off[0]:g} m is off it"
        )
    if any(s.to_m <= s.from_m for s in beam.spread):
        raise CradleError(f"{beam.name}: a spread load ends behind its beginning")
    supported = sorted(s.at_m for s in beam.supports)
    if any(b - a < _SAME_M for a, b in pairwise(supported)):
        raise CradleError(f"{beam.name}: two supports are at one place; keep one")
    for s in beam.supports:
        if s.stiffness_n_m is not None:
            positive(f"{beam.name}: the stiffness of its support at {s.at_m:g} m", s.stiffness_n_m, "N/m")


class _Net:
    """Nodes and equations of the beams."""

    def __init__(self, beams: Sequence[Beam], ties: Sequence[Tie]) -> None:
        self.beams = beams
        tied: list[list[float]] = [[] for _ in beams]
        for tie in ties:
            tied[tie.first].append(tie.first_at_m)
            tied[tie.second].append(tie.second_at_m)
        self.tied = [sorted(t) for t in tied]
        self.nodes = [_nodes(b, t) for b, t in zip(beams, self.tied, strict=True)]
        first = np.cumsum([0, *(len(n) for n in self.nodes)])
        group = list(range(int(first[-1])))  # deflection of each node; tied nodes share one
        for tie in ties:
            a = int(first[tie.first]) + self.node(tie.first, tie.first_at_m)
            b = int(first[tie.second]) + self.node(tie.second, tie.second_at_m)
            old, new = group[b], group[a]
            group = [new if g == old else g for g in group]
        shared = {g: k for k, g in enumerate(dict.fromkeys(group))}
        self.dofs: list[list[tuple[int, int]]] = []
        for k, nodes in enumerate(self.nodes):
            start = int(first[k])
            self.dofs.append([(shared[group[start + i]], len(shared) + start + i) for i in range(len(nodes))])
        self.count = len(shared) + len(group)
        self.loads = [self._stretches(k) for k in range(len(beams))]
        self.matrix, self.force = self._assembled()
        sizes = [abs(p.force_n) for b in beams for p in b.points] + [
            abs(s.total_n) for b in beams for s in b.spread
        ]
        self.scale_n = max([1e-6, *sizes])

    def node(self, beam: int, at_m: float) -> int:
        return int(np.argmin(np.abs(np.asarray(self.nodes[beam]) - at_m)))

    def support(self, key: tuple[int, int]) -> Support:
        return self.beams[key[0]].supports[key[1]]

    def deflection(self, key: tuple[int, int]) -> int:
        return self.dofs[key[0]][self.node(key[0], self.support(key).at_m)][0]

    def _stretches(self, beam: int) -> list[list[Stretch]]:
        """Return the loads on each piece, cut wherever one begins or ends."""
        asked = self.beams[beam]
        last = len(self.nodes[beam]) - 2
        found = []
        for i, (a, b) in enumerate(pairwise(self.nodes[beam])):
            ends = b if i < last else np.inf
            points = [p for p in asked.points if a <= p.at_m < ends or (i == 0 and p.at_m < a)]
            places = {a, b, *(min(max(p.at_m, a), b) for p in points)}
            places |= {x for s in asked.spread for x in (s.from_m, s.to_m) if a < x < b}
            parts = []
            cuts = sorted(places)
            for x, y in [*pairwise(cuts), (b, b)]:
                start, end = asked.load_n_m(x, y) if y > x else (0.0, 0.0)
                here = [p for p in points if min(max(p.at_m, a), b) == x]
                force, turn = sum(p.force_n for p in here), sum(p.moment_nm for p in here)
                if y > x or force or turn:
                    parts.append(Stretch(x - a, y - a, start, end, force, turn))
            found.append(parts)
        return found

    def _at(self, beam: int, piece: int) -> list[int]:
        return [*self.dofs[beam][piece], *self.dofs[beam][piece + 1]]

    def _assembled(self) -> tuple[Array, Array]:
        matrix, force = np.zeros((self.count, self.count)), np.zeros(self.count)
        for k, beam in enumerate(self.beams):
            for i, (a, b) in enumerate(pairwise(self.nodes[k])):
                at = self._at(k, i)
                matrix[np.ix_(at, at)] += stiffness(beam.ei_nm2, b - a)
                force[at] += nodal_loads(b - a, self.loads[k][i])
        return matrix, force

    def solve(self, gone: set[tuple[int, int]]) -> tuple[Array, dict[tuple[int, int], float]]:
        """Return the movements and the reactions (up) by (beam, support) without the supports that are gone."""
        matrix, fixed = self.matrix.copy(), set()
        held = [
            (k, j) for k, b in enumerate(self.beams) for j in range(len(b.supports)) if (k, j) not in gone
        ]
        for key in held:
            support, w = self.support(key), self.deflection(key)
            if support.stiffness_n_m is None:
                fixed.add(w)
            else:
                matrix[w, w] += support.stiffness_n_m
            if support.holds_turn:
                fixed.add(self.dofs[key[0]][self.node(key[0], support.at_m)][1])
        free = np.array([i for i in range(self.count) if i not in fixed], dtype=int)
        moved = np.zeros(self.count)
        if len(free):
            moved[free] = _solved(matrix[np.ix_(free, free)], self.force[free], bool(gone))
        outside = self.force - self.matrix @ moved  # what is left for the supports, counted down
        shared: dict[int, int] = {}
        for key in held:
            if self.support(key).stiffness_n_m is None:
                shared[self.deflection(key)] = shared.get(self.deflection(key), 0) + 1
        reactions: dict[tuple[int, int], float] = {}
        for key in held:
            support, w = self.support(key), self.deflection(key)
            if support.stiffness_n_m is None:
                reactions[key] = float(outside[w]) / shared[w]
            else:
                reactions[key] = support.stiffness_n_m * float(moved[w])
        return moved, reactions

    def results(self, moved: Array, reactions: dict[tuple[int, int], float]) -> tuple[BeamResult, ...]:
        """Return each beam with its curves."""
        outside = self.force - self.matrix @ moved
        found = []
        for k, beam in enumerate(self.beams):
            pieces: list[Piece] = []
            ends = np.zeros(len(self.nodes[k]))
            for i, (a, b) in enumerate(pairwise(self.nodes[k])):
                parts, forces = solved_pieces(a, b - a, beam.ei_nm2, self.loads[k][i], moved[self._at(k, i)])
                pieces += parts
                ends[i] += forces[0]
                ends[i + 1] += forces[2]
            forces_up = tuple(reactions.get((k, j), 0.0) for j in range(len(beam.supports)))
            clamps = tuple(
                float(outside[self.dofs[k][self.node(k, s.at_m)][1]]) if s.holds_turn else 0.0
                for s in beam.supports
            )
            found.append(BeamResult(beam, tuple(pieces), forces_up, clamps, self._ties(k, ends, forces_up)))
        return tuple(found)

    def _ties(self, k: int, ends: Array, up: tuple[float, ...]) -> tuple[tuple[float, float], ...]:
        """Return what other beams put on this one (down) at its ties: what balances each node."""
        found = []
        for at in dict.fromkeys(self.tied[k]):
            node = self.node(k, at)
            beam = self.beams[k]
            held = sum(r for s, r in zip(beam.supports, up, strict=True) if self.node(k, s.at_m) == node)
            found.append((at, float(ends[node]) + held))
        return tuple(found)


def _nodes(beam: Beam, tied: list[float]) -> list[float]:
    places = sorted(
        {
            0.0,
            beam.length_m,
            *tied,
            *(s.at_m for s in beam.supports),
        }
    )
    kept = [0.0]
    for place in places:
        if place - kept[-1] > _SAME_M and beam.length_m - place > _SAME_M:
            kept.append(place)
    return [*kept, beam.length_m]


def _solved(matrix: Array, force: Array, lifted: bool) -> Array:
    size = np.sqrt(np.abs(np.diag(matrix)))
    if np.any(size == 0.0):
        raise CradleError(_few(lifted))
    scaled = matrix / np.outer(size, size)
    values = linalg.eigvalsh(scaled, subset_by_index=(0, 0))
    if values[0] < 1e-13:
        raise CradleError(_few(lifted))
    return np.asarray(linalg.solve(scaled, force / size, assume_a="pos") / size)


def _few(lifted: bool) -> str:
    if lifted:
        return "it tips: the load lies outside the supports that push; move the load in, or a support out"
    return (
        "a beam without enough supports: it needs two at different places, or one that is built in; every member of a "
        "frame must lie on supports or on members that do"
    )
