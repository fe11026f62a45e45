"""Words on several lines in a drawing, by an estimate of their width."""

from __future__ import annotations

from oakum.draw.theme import Theme


def wrapped(words: str, room: float, theme: Theme, size: float | None = None, most: int = 99) -> list[str]:
    """Break words into lines that fit into `room`, at most `most`; a word too long for a line is cut.

    What does not fit into the last line ends in an ellipsis.
    """
    wide = max(4, int(room / theme.text_width("x", size)))
    lines: list[str] = []
    line = ""
    for word in words.split():
        while len(word) > wide:
            room_left = wide - len(line) - (1 if line else 0)
            if room_left < 4:
                lines.append(line)
                line, room_left = "", wide
            line = f"{line} {word[:room_left]}".strip()
            word = word[room_left:]
            lines.append(line)
            line = ""
        if not line:
            line = word
        elif len(line) + 1 + len(word) <= wide:
            line = f"{line} {word}"
        else:
            lines.append(line)
            line = word
    if line:
        lines.append(line)
    if len(lines) > most:
        last = lines[most - 1]
        lines = [*lines[: most - 1], f"{last[: wide - 1].rstrip()}\u2026"]
    return lines


def shortened(words: str, room: float, theme: Theme, size: float | None = None) -> str:
    """Cut words to one line, with an ellipsis where something is left out."""
    wide = max(2, int(room / theme.text_width("x", size)))
    return words if len(words) <= wide else f"{words[: wide - 1].rstrip()}\u2026"
