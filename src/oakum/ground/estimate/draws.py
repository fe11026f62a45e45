"""Draws: arrays of equally likely values, one array a cause.

How shared causes work: the label of an estimate names the cause of its spread. All estimates with the same
non-empty label are made from one and the same underlying draw, so the density of oak is high in every oak
part at once, or low in every one. Where two estimates of one label differ in width (a tape's scale seen by
two people) they rise and fall together without being equal. Estimates without a label are independent.

The draw of a label depends on the generator and the label alone, not on what was asked before it: adding a
part to a body leaves the draws of all its other parts as they were, so that two variants can be compared.
"""

from __future__ import annotations

from hashlib import blake2b

import numpy as np
from scipy.special import ndtr, ndtri

from oakum.ground.estimate.estimates import Array, Estimate, EstimateError

_BELL = ("normal", "lognormal")


class Draws:
    """`n` draws of everything asked for, from one passed generator.

    `rng` is used once, for the key from which every label's stream is derived. Arrays handed out are
    read-only, because others hold them too.
    """

    def __init__(self, n: int, rng: np.random.Generator) -> None:
        if n < 1:
            raise EstimateError(f"the number of draws must be at least 1, got {n}")
        self.n = int(n)
        self._key = int(rng.integers(0, 2**63))
        self._unlabelled = 0
        self._shares: dict[str, Array] = {}
        self._scores: dict[str, Array] = {}
        self._values: dict[Estimate, Array] = {}
        self.inputs: dict[str, Array] = {}
        """The first array drawn for each label with a spread: what `drivers` compares results with."""

    def of(self, estimate: Estimate) -> Array:
        """Return the draws of an estimate, shape (n,); the same array each time for the same label."""
        if estimate.is_exact:
            return np.broadcast_to(np.float64(estimate.a), (self.n,))
        if not estimate.label:
            self._unlabelled += 1
            return _make(estimate, self._stream(f"\0{self._unlabelled}"), self.n)
        if estimate not in self._values:
            values = self._shared(estimate)
            values.flags.writeable = False
            self._values[estimate] = values
            self.inputs.setdefault(estimate.label, values)
        return self._values[estimate]

    def _shared(self, estimate: Estimate) -> Array:
        label = estimate.label
        if estimate.kind in _BELL:
            if label not in self._scores:
                known = self._shares.get(label)
                made = self._stream(label).standard_normal(self.n) if known is None else ndtri(known)
                self._scores[label] = made
            return estimate.from_normal(self._scores[label])
        if label not in self._shares:
            score = self._scores.get(label)
            self._shares[label] = self._stream(label).random(self.n) if score is None else ndtr(score)
        return estimate.from_share(self._shares[label])

    def _stream(self, name: str) -> np.random.Generator:
        digest = blake2b(name.encode(), digest_size=16).digest()
        seed = np.random.SeedSequence([self._key, int.from_bytes(digest, "little")])
        return np.random.Generator(np.random.PCG64(seed))


def _make(estimate: Estimate, stream: np.random.Generator, n: int) -> Array:
    if estimate.kind in _BELL:
        return estimate.from_normal(stream.standard_normal(n))
    return estimate.from_share(stream.random(n))
