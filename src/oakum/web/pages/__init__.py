"""The pages, one file a subject; each gives a router."""

from oakum.web.pages import (
    body,
    find,
    find_entries,
    finds,
    gear,
    gear_entries,
    gear_list,
    jobs,
    lifts,
    logbook,
    people,
    photos,
    questions,
    take_over,
    today,
)

ROUTERS = tuple(
    module.router
    for module in (
        today, take_over, finds, find, find_entries, photos, lifts, body, gear_list, gear_entries, gear,
        questions, people, logbook, jobs,
    )
)  # fmt: skip

__all__ = ["ROUTERS"]
