"""One byte string for one fact: canonical JSON after RFC 8785, and its SHA-256.

A body of the logbook holds text, whole numbers, booleans, nulls, lists and objects with ASCII keys, and never
a floating-point number. For such bodies Python's own JSON writer already produces the canonical form; it is
several times faster than the general writer, and a test proves the two equal.
"""

from __future__ import annotations

import hashlib
import json
from typing import Any

import rfc8785

from oakum.record.errors import FactError

LARGEST_INTEGER = 2**53 - 1
_encode = json.JSONEncoder(
    ensure_ascii=False, check_circular=False, allow_nan=False, sort_keys=True, separators=(",", ":")
).encode


def canonical(value: Any) -> bytes:
    """Return any JSON value in the canonical form of RFC 8785, floating-point numbers included."""
    try:
        return rfc8785.dumps(value)
    except (ValueError, TypeError, RecursionError) as error:
        raise FactError(f"This cannot be written as canonical JSON: {error}.") from error


def canonical_body(body: dict[str, Any]) -> str:
    """Return the canonical text of a body that `check_plain` accepts."""
    return _encode(body)


def check_plain(value: Any, where: str = "body", depth: int = 0) -> None:
    """Raise `FactError` unless the value is float-free JSON with ASCII keys, at most eight levels deep."""
    kind = type(value)
    if kind is str:
        if not value.isascii():
            try:
                value.encode("utf-8")
            except UnicodeEncodeError as error:
                raise FactError(f"{where}: the text holds half a character (a lone surrogate).") from error
    elif kind is dict:
        if depth > 8:
            raise FactError(f"{where}: more than eight levels inside one another.")
        for key, item in value.items():
            if type(key) is not str or not key.isascii():
                raise FactError(f"{where}: the key {key!r} must be plain ASCII text.")
            item_kind = type(item)
            if item_kind is str and item.isascii():
                continue
            check_plain(item, f"{where}.{key}", depth + 1)
    elif kind is list or kind is tuple:
        if depth > 8:
            raise FactError(f"{where}: more than eight levels inside one another.")
        for index, item in enumerate(value):
            check_plain(item, f"{where}[{index}]", depth + 1)
    elif kind is int:
        if abs(value) > LARGEST_INTEGER:
            raise FactError(f"{where}: {value} is too large for a whole number; write it as text.")
    elif kind is float:
        raise FactError(f'{where}: write the number {value!r} as decimal text, "{value!r}", not as a float.')
    elif not (value is None or kind is bool):
        raise FactError(f"{where}: {kind.__name__} cannot be kept; use text, whole numbers, lists, objects.")


def sha256_hex(data: bytes) -> str:
    """Return the SHA-256 of bytes as 64 hexadecimal digits (FIPS 180-4)."""
    return hashlib.sha256(data).hexdigest()
