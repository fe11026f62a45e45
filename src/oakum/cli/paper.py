"""Writing a sheet to a file, whole or not at all."""

from __future__ import annotations

from pathlib import Path

from oakum.ground.errors import OakumError


def write_pdf(path: Path, data: bytes) -> None:
    """Write the sheet beside its place and move it there; raise `OakumError` where that is refused."""
    part = path.with_name(f".{path.name}.part")
    try:
        part.write_bytes(data)
        part.replace(path)
    except OSError as error:
        part.unlink(missing_ok=True)
        raise OakumError(f"{path} cannot be written ({error.strerror}); choose another file.") from None
