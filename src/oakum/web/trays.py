"""Registers and lists that were read but not yet accepted: kept in memory, the last few, never in the project."""

from __future__ import annotations

import threading
from collections import OrderedDict
from dataclasses import dataclass
from typing import Generic, TypeVar

from uuid_utils import uuid7

KEPT = 5
P = TypeVar("P")


@dataclass(frozen=True, slots=True)
class Tray(Generic[P]):
    """A file as it came, and what was read from it; `proposal` None where a sheet must still be chosen."""

    key: str
    name: str
    data: bytes
    proposal: P | None
    sheets: tuple[str, ...] = ()


class Trays(Generic[P]):
    """The last registers, or lists, somebody brought."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._held: OrderedDict[str, Tray[P]] = OrderedDict()

    def put(self, name: str, data: bytes, proposal: P | None, sheets: tuple[str, ...] = ()) -> Tray[P]:
        """Keep a register until it is accepted or others push it out."""
        tray = Tray(uuid7().hex, name, data, proposal, sheets)
        with self._lock:
            self._held[tray.key] = tray
            while len(self._held) > KEPT:
                self._held.popitem(last=False)
        return tray

    def get(self, key: str) -> Tray[P] | None:
        """Return a register that was brought, or None where it is gone."""
        with self._lock:
            return self._held.get(key)

    def drop(self, key: str) -> None:
        """Forget a register."""
        with self._lock:
            self._held.pop(key, None)
