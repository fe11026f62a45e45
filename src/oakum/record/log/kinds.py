"""What a kind of entry is: which fields it may hold, and what must hold between them.

Two sorts of kinds. A *field* kind sets fields of its subject; a later entry `over` an earlier one replaces it
in the fields it sets. An *item* kind stands side by side with others of its kind (readings, photographs,
notes) and is never replaced, only struck out.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

Check = Callable[[Any], str | None]
Whole = Callable[[Mapping[str, Any]], str | None]


@dataclass(frozen=True, slots=True)
class Kind:
    """The rules of one kind of entry.

    `each` is (prefix, check): the kind also takes any field whose name begins so, such as one a role. `whole`
    looks at all fields together. `changes` marks a kind that says something only about earlier entries.
    """

    name: str
    words: str
    needs: Mapping[str, Check] = field(default_factory=dict)
    may: Mapping[str, Check] = field(default_factory=dict)
    is_item: bool = False
    each: tuple[str, Check] | None = None
    whole: Whole | None = None
    changes: bool = False
    fields: Mapping[str, Check] = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "fields", {**self.needs, **self.may})

    def check_of(self, name: str) -> Check | None:
        """Return the check of a field, or None where this kind has no such field."""
        if self.each is not None and name.startswith(self.each[0]):
            return self.each[1]
        return self.fields.get(name)
