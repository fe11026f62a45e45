"""From what people type into the search field to a question for the search index."""

from __future__ import annotations

MOST_WORDS = 12


def match_expression(query: str) -> str | None:
    """Return an FTS5 expression that wants every word, each as the beginning of a word; None for no words.

    What people type is never passed on raw: each word becomes a quoted string, so that no sign in it (quotes,
    brackets, minus, NEAR, column names) means anything to the index.
    """
    cleaned = "".join(sign if sign.isprintable() else " " for sign in query)
    words = [word for word in cleaned.split() if any(sign.isalnum() for sign in word)]
    if not words:
        return None
    return " ".join('"' + word.replace('"', '""') + '"*' for word in words[:MOST_WORDS])
