"""`oakum people ...`: names and competences, beside the logbook and erasable."""

from __future__ import annotations

from typing import Annotated

from cyclopts import Parameter

from oakum.cli.where import Project, opened


def list_(*, project: Project = None) -> None:
    """List everybody with their id, role and competences."""
    with opened(project, read_only=True) as logbook:
        people = logbook.people()
        for person in people:
            print(f"{person.id}  {person.name}, {person.role}")
            for held in person.competences:
                print(f"    {held.competence}: {held.until or 'until when is not known'}")
        if not people:
            print("Nobody is registered.")


def add(name: str, role: str, *, project: Project = None) -> None:
    """Register a person; the logbook knows them only by the id this prints.

    Parameters
    ----------
    name
        Their name, or the alias they want to be credited by.
    role
        What they do here.
    """
    with opened(project) as logbook:
        print(logbook.add_person(name, role).id)


def competence(
    person: str,
    name: str,
    *,
    until: Annotated[
        str | None, Parameter(help="YYYY-MM-DD, or 'does not lapse'; left out: not known.")
    ] = None,
    evidence: str | None = None,
    project: Project = None,
) -> None:
    """Say what a person is qualified or fit for, and until when. Store no medical finding, only "fit until".

    Parameters
    ----------
    person
        Their id (p-...).
    name
        The competence, such as slinger, hoist operator, diver.
    evidence
        The paper that shows it.
    """
    with opened(project) as logbook:
        held = logbook.set_competence(person, name, until=until, evidence=evidence)
        print(f"{person}: {held.competence}, {held.until or 'until when is not known'}")


def erase(person: str, *, project: Project = None) -> None:
    """Forget a person's name, role and competences. Every entry stays; the chain is not touched.

    Parameters
    ----------
    person
        Their id (p-...).
    """
    with opened(project) as logbook:
        logbook.erase_person(person)
        print(f"{person} is erased here. Copies made earlier still hold the name.")
