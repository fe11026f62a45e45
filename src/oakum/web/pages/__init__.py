"""The pages, one file a subject; each gives a router."""

from oakum.web.pages import (
    body,
    cradle,
    dig,
    dig_entries,
    find,
    find_entries,
    finds,
    gear,
    gear_entries,
    gear_list,
    hazards,
    jobs,
    lifts,
    logbook,
    people,
    photos,
    plan,
    plan_after,
    plan_people,
    plan_rig,
    plan_scene,
    plan_sea,
    plan_seas,
    plan_sheets,
    plan_stage,
    questions,
    seabed_drawings,
    seabed_enter,
    seabed_files,
    seabed_import,
    seabed_marks,
    seabed_next,
    seabed_plan,
    seabed_readings,
    seabed_release,
    seabed_suspects,
    take_over,
    today,
    vessel_edit,
    vessels,
)

ROUTERS = tuple(
    module.router
    for module in (
        today, take_over, finds, find, find_entries, photos, hazards,
        vessel_edit, vessels, lifts, body, cradle,
        plan, plan_scene, plan_sea, plan_seas, plan_rig, plan_people, plan_stage, plan_after, plan_sheets,
        gear_list, gear_entries, gear, dig_entries, dig,
        seabed_enter, seabed_import, seabed_readings, seabed_suspects, seabed_next, seabed_marks,
        seabed_files, seabed_plan, seabed_drawings, seabed_release,
        questions, people, logbook, jobs,
    )
)  # fmt: skip

__all__ = ["ROUTERS"]
