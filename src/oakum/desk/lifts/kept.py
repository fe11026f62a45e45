"""The newest answers, so that the next question about the same thing is not worked out again."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Hashable
from threading import Lock
from typing import Generic, TypeVar

V = TypeVar("V")


class Kept(Generic[V]):
    """At most `most` answers by key, the one used longest ago dropped first. Threads may share it."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._held: OrderedDict[Hashable, V] = OrderedDict()
        self._lock = Lock()

    def get(self, key: Hashable) -> V | None:
        """Return the answer kept under `key`, or None."""
        with self._lock:
            if key in self._held:
                self._held.move_to_end(key)
            return self._held.get(key)

    def put(self, key: Hashable, value: V) -> None:
        """Keep an answer."""
        with self._lock:
            self._held[key] = value
            while len(self._held) > self._most:
                self._held.popitem(last=False)
