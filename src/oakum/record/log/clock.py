"""Hybrid logical clock: stamps that never run backwards and stay close to the wall clock.

A stamp is (milliseconds, counter). It orders entries for display; facts are never decided by it.
Source: S. Kulkarni et al., "Logical Physical Clocks" (2014), algorithm figure 5. [memory, verify]
"""

from __future__ import annotations

from typing import NamedTuple

FAR_AHEAD_MS = 5 * 60 * 1000


class Stamp(NamedTuple):
    """Wall milliseconds since 1970 (UTC), and a counter within that millisecond."""

    ms: int
    counter: int


START = Stamp(0, 0)


def tick(last: Stamp, wall_ms: int) -> Stamp:
    """Return the stamp of a local event, later than `last`."""
    if wall_ms > last.ms:
        return Stamp(wall_ms, 0)
    return Stamp(last.ms, last.counter + 1)


def receive(last: Stamp, message: Stamp, wall_ms: int) -> Stamp:
    """Return the stamp of taking in a message, later than `last` and than the message's own."""
    ms = max(last.ms, message.ms, wall_ms)
    if ms == last.ms and ms == message.ms:
        return Stamp(ms, max(last.counter, message.counter) + 1)
    if ms == last.ms:
        return Stamp(ms, last.counter + 1)
    if ms == message.ms:
        return Stamp(ms, message.counter + 1)
    return Stamp(ms, 0)


def runs_ahead(stamp: Stamp, wall_ms: int) -> bool:
    """Tell whether the stamp lies more than five minutes from the wall clock (practice, no source)."""
    return abs(stamp.ms - wall_ms) > FAR_AHEAD_MS
