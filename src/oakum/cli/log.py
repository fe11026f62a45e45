"""`oakum log ...`: entries and open questions."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from typing import Annotated

from cyclopts import Parameter

from oakum.cli.where import Project, opened


def list_(
    *,
    about: Annotated[str | None, Parameter(help="Only entries about this find.")] = None,
    kind: str | None = None,
    limit: int = 30,
    project: Project = None,
) -> None:
    """List the newest entries: when, who, what."""
    with opened(project, read_only=True) as logbook:
        subject = logbook.find(about).id if about else None
        for entry in logbook.entries(subject, kind=kind, newest_first=True, limit=limit):
            when = datetime.fromtimestamp(entry.at[0] / 1000, UTC).strftime("%Y-%m-%d %H:%M:%SZ")
            said = {k: v for k, v in entry.body.items() if k not in ("seen", "reason")}
            text = json.dumps(said, ensure_ascii=False)
            print(
                f"{when}  {entry.author}  {entry.kind}  {entry.id}  {text if len(text) < 90 else text[:87] + '...'}"
            )
            if entry.reason:
                print(f"    over {len(entry.over)} earlier, because: {entry.reason}")


def show(id: str, *, project: Project = None) -> None:
    """Show one entry as it is hashed.

    Parameters
    ----------
    id
        The id of the entry.
    """
    from oakum.record.log.entries import as_dict

    with opened(project, read_only=True) as logbook:
        print(json.dumps(as_dict(logbook.entry(id)), indent=2, ensure_ascii=False))


def questions(*, project: Project = None) -> None:
    """List what a named person has to settle."""
    with opened(project, read_only=True) as logbook:
        found = logbook.open_questions()
        for number, question in enumerate(found, 1):
            print(f"{number}. {question.words()}")
            about = question.number or question.subject
            print(f"   settle: oakum log settle {about} '{question.key}' VALUE --by p-... --reason ...")
        if not found:
            print("No open question.")


def settle(
    number: str,
    key: str,
    value: str,
    *,
    by: Annotated[str, Parameter(name="--by", help="The id of a named person (p-...).")],
    reason: str,
    project: Project = None,
) -> None:
    """Settle an open question as a named person.

    Parameters
    ----------
    number
        The find it is about.
    key
        The question, as `oakum log questions` prints it.
    value
        The value that shall hold, as it stands in one of the entries or with its unit.
    reason
        What decides it.
    """
    from oakum.desk.finds.entering import settle as settle_question
    from oakum.ground.errors import OakumError

    with opened(project) as logbook:
        subject = logbook.find(number).id
        found = [q for q in logbook.open_questions(subject) if q.key == key]
        if not found:
            raise OakumError(
                f"There is no open question {key!r} about {number}; oakum log questions lists them."
            )
        entry = settle_question(logbook, found[0], value, author=by, reason=reason)
        print(f"Settled by entry {entry.id}.")
