"""Readings as rows of one least-squares problem: where each takes its values from, what it reads, how well."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array

from oakum.seabed.network.equations import EQUATIONS

Array = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Label:
    """Whose number a row is. `kind` is for people; rows of what is merely known of a tape or gauge have no marks."""

    id: str
    part: str
    kind: str
    marks: tuple[str, ...]
    text: str = ""
    unit: str = "m"


@dataclass(frozen=True, slots=True, eq=False)
class Rows:
    """Rows of one equation. `columns` (m, k) are places in the state, `constants` (m, 3)."""

    equation: str
    labels: tuple[Label, ...]
    columns: Ints
    constants: Array
    read: Array
    sd: Array

    def pick(self, keep: Bools) -> Rows:
        """Some of the rows, in their order."""
        labels = tuple(label for label, yes in zip(self.labels, keep, strict=True) if yes)
        arrays = (self.columns[keep], self.constants[keep], self.read[keep], self.sd[keep])
        return Rows(self.equation, labels, *arrays)


@dataclass(frozen=True, slots=True)
class Further:
    """A further unknown: `what` it is, whose, what is added to it to get its value, its unit."""

    what: str
    name: str
    known: float
    unit: str


@dataclass(frozen=True, slots=True, eq=False)
class Network:
    """The problem in numbers.

    The state is x, y, z of each mark less `origin_m`, then the further unknowns, then one slot that is always
    nothing. `held` marks what is not solved; its values are in `given`. `sides` (mark, line's start, its end, 1 left or
    -1 right) are seen sides of baselines: not readings, but they choose between a mark and its mirror twin.
    """

    names: tuple[str, ...]
    further: tuple[Further, ...]
    origin_m: Array
    given: Array
    held: Bools
    groups: tuple[Rows, ...]
    sides: tuple[tuple[int, int, int, int], ...] = ()

    @property
    def labels(self) -> tuple[Label, ...]:
        """Labels of all rows in order."""
        return tuple(label for group in self.groups for label in group.labels)

    @property
    def read(self) -> Array:
        """What was read, all rows."""
        return np.concatenate([g.read for g in self.groups] or [np.zeros(0)])

    @property
    def sd(self) -> Array:
        """Standard deviations, all rows."""
        return np.concatenate([g.sd for g in self.groups] or [np.zeros(0)])

    @property
    def free(self) -> Ints:
        """Places in the state that are solved."""
        return np.flatnonzero(~self.held)

    def pick(self, keep: Bools) -> Network:
        """The same unknowns with some of the rows."""
        ends = np.cumsum([0, *(len(g.read) for g in self.groups)])
        parts = [g.pick(keep[a:b]) for g, a, b in zip(self.groups, ends, ends[1:], strict=False)]
        return replace(self, groups=tuple(p for p in parts if len(p.read)))

    def on_wrong_side(self, places: Array, mark: int, place: Array) -> bool:
        """Whether a mark put here would lie on the other side of a baseline than it was seen."""
        for seen, a, b, sign in self.sides:
            if seen == mark:
                line, arm = places[b, :2] - places[a, :2], place[:2] - places[a, :2]
                if float(line[0] * arm[1] - line[1] * arm[0]) * sign < 0.0:
                    return True
        return False

    def touches(self, wanted: Bools) -> Bools:
        """Rows with all their marks and unknowns among the wanted places of the state."""
        return np.concatenate([wanted[g.columns].all(axis=1) for g in self.groups] or [np.zeros(0, bool)])

    def residual(self, state: Array) -> Array:
        """Computed minus read, in the rows' own units; bearings within half a turn."""
        parts = []
        for g in self.groups:
            r = EQUATIONS[g.equation](state[g.columns], g.constants)[0] - g.read
            parts.append((r + 180.0) % 360.0 - 180.0 if g.equation == "bearing" else r)
        return np.concatenate(parts or [np.zeros(0)])

    def jacobian(self, state: Array) -> csr_array:
        """Derivatives by the whole state, in the rows' own units; held columns included."""
        data, columns, counts = [], [], []
        for g in self.groups:
            data.append(EQUATIONS[g.equation](state[g.columns], g.constants)[1].ravel())
            columns.append(g.columns.ravel())
            counts.append(np.full(len(g.read), g.columns.shape[1]))
        joined = (np.concatenate(parts or [np.zeros(0, np.int64)]) for parts in (data, columns, counts))
        values, places, lengths = joined
        pointer = np.concatenate([[0], np.cumsum(lengths)])
        return csr_array((values, places, pointer), shape=(len(lengths), len(state)))


class FreeProblem:
    """The network as the solver wants it: only what is free, in units of the sd."""

    def __init__(self, network: Network, base: Array, free: Ints | None = None) -> None:
        self.network, self.base = network, base
        self.free = network.free if free is None else free
        self._sd = network.sd
        renumber = np.full(len(base), -1, dtype=np.int64)
        renumber[self.free] = np.arange(len(self.free))
        columns = [renumber[g.columns] for g in network.groups]
        self._keep = np.concatenate([c.ravel() >= 0 for c in columns] or [np.zeros(0, bool)])
        flat = np.concatenate([c.ravel() for c in columns] or [np.zeros(0, np.int64)])
        self._columns = flat[self._keep]
        counts = np.concatenate([(c >= 0).sum(axis=1) for c in columns] or [np.zeros(0, np.int64)])
        self._pointer = np.concatenate([[0], np.cumsum(counts)])
        self._scale = np.repeat(1.0 / self._sd, counts)

    def state(self, x: Array) -> Array:
        """The whole state for what is free."""
        out = self.base.copy()
        out[self.free] = x
        return out

    def residual(self, x: Array) -> Array:
        """Residuals over sd."""
        return self.network.residual(self.state(x)) / self._sd

    def jacobian(self, x: Array) -> csr_array:
        """Derivatives over sd, of one structure for every x."""
        state = self.state(x)
        parts = [EQUATIONS[g.equation](state[g.columns], g.constants)[1].ravel() for g in self.network.groups]
        data = np.concatenate(parts or [np.zeros(0)])[self._keep] * self._scale
        shape = (len(self._pointer) - 1, len(self.free))
        return csr_array((data, self._columns, self._pointer), shape=shape)
