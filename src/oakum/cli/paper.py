"""Reading a file somebody names, and writing a sheet, whole or not at all."""

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


def read_bytes(path: Path) -> bytes:
    """Return the content of a file; raise `OakumError` where it cannot be read."""
    try:
        return path.read_bytes()
    except FileNotFoundError:
        raise OakumError(f"There is no file {path}.") from None
    except OSError as error:
        raise OakumError(f"{path} cannot be read ({error.strerror}).") from None


def read_text(path: Path) -> str:
    """Return the content of a text file; raise `OakumError` where it cannot be read as UTF-8."""
    try:
        return read_bytes(path).decode("utf-8-sig")
    except UnicodeDecodeError:
        raise OakumError(f"{path} is not a UTF-8 text; save it as plain text and try again.") from None
