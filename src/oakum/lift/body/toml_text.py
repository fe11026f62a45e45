"""From a TOML text to its table, or the one line that is no TOML."""

from __future__ import annotations

import re
import tomllib
from typing import Any

from oakum.lift.body.errors import BodyFileError, Problem


def toml_table(text: str, name: str, error: type[BodyFileError] = BodyFileError) -> dict[str, Any]:
    """Return the table of a TOML text that messages call `name`; raise `error` with line and what to do."""
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as trouble:
        found = re.search(r"\(at line (\d+), column (\d+)\)", str(trouble))
        line = int(found.group(1)) if found else len(text.splitlines()) or 1
        what = re.sub(r"\s*\(at .*\)$", "", str(trouble))
        message = f"this is not TOML: {what}. Texts and quantities stand in quotes, one key = value a line"
        raise error(name, [Problem(line, "", message)]) from None
