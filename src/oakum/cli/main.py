"""The command line: names of commands only. Each is loaded when it is called, so that start-up stays quick."""

from __future__ import annotations

import sys
from collections.abc import Sequence

from cyclopts import App, CycloptsError

from oakum import __version__

CAUTION = "Planning support only: local codes, the gear's own papers and competent persons govern."

app = App(
    name="oakum",
    version=__version__,
    help="From the seabed to the museum: logbook and computation for a small wreck excavation.",
    help_epilogue=CAUTION,
)


Commands = dict[str, tuple[str, str]]

_FIND: Commands = {
    "add": ("finds:add", "Enter a find; it gets the next number with a check character."),
    "list": ("finds:list_", "List the finds, all or those that hold every word given."),
    "show": ("finds:show", "Show what the logbook says of a find."),
    "change": ("finds:change", "Say something new about a find, with a reason."),
    "slips": ("finds:slips", "Print intake slips with the next numbers, for waterproof film."),
    "import-register": ("finds:import_register", "Read the club's finds register; a message a row."),
}
_LIFT: Commands = {
    "weigh": ("lift:weigh", "Weigh a body file, or a find of the project, in all its states."),
    "bodies": ("lift:bodies", "List the starting bodies, or print one to edit."),
    "describe": ("lift:describe", "Give a find its body from a file."),
    "reading": ("lift:reading", "Enter a load-cell reading taken under water."),
    "card": ("lift:card", "Print the measuring card of an object, for waterproof film."),
}
_GEAR: Commands = {
    "list": ("gear:list_", "List every piece with its papers, and why it may not be used."),
    "add": ("gear:add", "List a piece of gear."),
    "change": ("gear:change", "Say something new about a piece, with a reason."),
    "withdraw": ("gear:withdraw", "Take a piece out of use."),
    "bring-back": ("gear:bring_back", "Bring a withdrawn piece back, passed by a named person."),
    "import-list": ("gear:import_list", "Read a hire firm's list; a message a row."),
}
_PEOPLE: Commands = {
    "list": ("people:list_", "List everybody with their competences."),
    "add": ("people:add", "Register a person; prints the id the logbook knows them by."),
    "competence": ("people:competence", "Say what a person is qualified for, and until when."),
    "erase": ("people:erase", "Forget a person; every entry stays."),
}
_PLAN: Commands = {
    "show": ("plan:show", "Plan the lift of a find, print the plan, write its sheets."),
    "what-if": ("plan_what_if:what_if", "Try the plan in another sea, at another radius, with other bags or legs."),
    "seas": ("plan_seas:seas", "Run through many seas step by step in time; odds of a slack line and of the hook."),
    "rig": ("plan:rig", "Give a find its rig from a rig file."),
    "role": ("plan:role", "Say who holds a role of the lift."),
    "hazard": ("plan:hazard", "Keep what a named competent person says of a hazard."),
    "decide": ("plan:decide", "Record why a find is not left where it is."),
    "brief": ("plan_stage:brief", "Enter that the plan was briefed."),
    "release": ("plan_stage:release", "Release the plan, as one of two named people."),
    "done": ("plan_stage:done", "Enter that the lift was done."),
    "abandon": ("plan_stage:abandon", "Enter that the lift is given up."),
    "reading": ("afterwards:reading", "Enter what the load cell showed during the lift."),
    "event": ("afterwards:event", "Enter what broke or went otherwise."),
    "minutes": ("afterwards:minutes", "Enter how long a step took."),
    "cell-log": ("afterwards:cell_log", "Keep the log of a load cell."),
    "after": ("afterwards:after", "Set what happened against the plan."),
}
_VESSEL: Commands = {
    "add": ("vessel:add", "Enter a vessel from a vessel file and the tables beside it."),
    "list": ("vessel:list_", "List the vessels."),
    "show": ("vessel:show", "Show what the papers of a vessel say, and what they leave open."),
    "chart": ("vessel:chart", "Read the load charts of a vessel at a radius."),
    "strike": ("vessel:strike", "Strike a vessel out, such as one entered twice."),
}
_CRADLE: Commands = {
    "start": ("cradle:start", "List the cradles to begin with, or print one to edit."),
    "check": ("cradle:check", "Check a cradle file, alone or under a body file."),
    "show": ("cradle:show", "Show the cradle of a find and what it bears."),
    "enter": ("cradle:enter", "Give a find its cradle from a cradle file."),
    "sheet": ("cradle:sheet", "Write the sheet to build a cradle from, as PDF."),
}
_SURVEY: Commands = {
    "enter": ("survey:enter", "Read lines of a notebook page; a message a line."),
    "import": ("survey:import_", "Read the club's spreadsheet of readings; a message a row."),
    "show": ("survey:show", "Show the places with ellipses, what holds them, what to doubt."),
    "reject": ("survey:reject", "Set one reading aside, with a reason."),
    "restore": ("survey:restore", "Take one rejected reading back in."),
    "next": ("survey:next_", "Rank the tapes to take next."),
    "sheet": ("survey:sheet", "Write a tape or depth sheet for the slate, for waterproof film."),
    "marks": ("survey_marks:marks", "List the marks, and names that may be one mark."),
    "name": ("survey_marks:name", "Name a mark, its other spellings, its find."),
    "hold": ("survey_marks:hold", "Take the place of a mark as known."),
    "instrument": ("survey_marks:instrument", "Describe a tape, a gauge or a compass."),
    "water": ("survey_marks:water", "Give the water level: a bench mark or a series."),
    "north": ("survey_marks:north", "Give the declination."),
    "way-round": ("survey_marks:way_round", "Say which three marks run anticlockwise."),
    "export": ("survey_files:export", "Write the survey as CSV, SVG, DXF or GeoPackage, in the local grid."),
    "plan": ("survey_files:plan", "Write the plan on A4 or A3 at a round scale, as PDF."),
    "square": ("survey_files:square", "Write a diver's sheet of one square, for waterproof film."),
    "register": ("survey_files:register", "Lay the picture of a drawing or mosaic on the marks."),
    "tie": ("survey_files:tie", "Tie the site to a map grid."),
    "release": ("survey_files:release", "Release positions as a named person, and write them as GeoJSON."),
}
_DIG: Commands = {
    "square": ("dig:square", "Set out a square by its corners."),
    "spit": ("dig:spit", "Enter the levels before or after a spit."),
    "hours": ("dig:hours", "Enter the diver-hours and buckets of a dive."),
    "show": ("dig:show", "Show what was taken out, the season, and what is open."),
    "strike": ("dig:strike", "Strike out an entry of the dig."),
    "sections": ("dig_sections:sections", "Volume of a trench from the areas of its sections."),
    "airlift": ("dig:airlift", "Size an airlift as an order of magnitude."),
    "dredge": ("dig:dredge", "Size a water dredge as an order of magnitude."),
}
_LOG: Commands = {
    "list": ("log:list_", "List the newest entries: when, who, what."),
    "show": ("log:show", "Show one entry as it is hashed."),
    "questions": ("log:questions", "List what a named person has to settle."),
    "settle": ("log:settle", "Settle an open question as a named person."),
}
_TOP: Commands = {
    "new": ("project:new", "Make a new project with an empty logbook."),
    "demo": ("demo:demo", "Make the invented Tolmarren project, weigh its capstan, serve the pages."),
    "serve": ("project:serve", "Serve the pages on this computer only, at a link that works once."),
    "backup": ("keeping:backup", "Copy the whole project and check the copy."),
    "restore": ("keeping:restore", "Restore a backup into a new folder, as a new station."),
    "check": ("keeping:check", "Walk every chain and read the files again."),
}


def _fill(target: App, commands: Commands) -> None:
    """Name the commands; the module behind one is loaded when it is called."""
    for name, (place, help_text) in commands.items():
        target.command(f"oakum.cli.{place}", name=name, help=help_text)


def _group(name: str, help_text: str, commands: Commands) -> None:
    group = App(name=name, help=help_text)
    _fill(group, commands)
    app.command(group)


_group("find", "The register of finds.", _FIND)
_group("lift", "What a find weighs, in every state of its lift.", _LIFT)
_group("log", "The logbook: what was entered, by whom, and what is still open.", _LOG)
_group("plan", "The plan of a lift: rig, people, hazards, sheets, stages, what happened.", _PLAN)
_group("vessel", "The vessels a lift may be made from: papers, load charts, motions.", _VESSEL)
_group("gear", "The gear register with its papers.", _GEAR)
_group("cradle", "What carries a find: frame, straps, pads, tray; the sheet to build it from.", _CRADLE)
_group("survey", "The seabed: readings, the plan made of them, sheets for the slate.", _SURVEY)
_group("dig", "The dig: squares, spits, hours, volumes, the season.", _DIG)
_group("people", "Names and competences, beside the logbook and erasable.", _PEOPLE)
_fill(app, _TOP)


def run(words: Sequence[str] | None = None) -> None:
    """Run the command line and end the process: 0 done, 1 something was found wrong, 2 the request was refused."""
    from oakum.ground.errors import OakumError

    try:
        code = app(
            sys.argv[1:] if words is None else words,
            exit_on_error=False,
            result_action="return_value",
        )
    except CycloptsError:
        sys.exit(2)  # cyclopts has printed what was wrong
    except OakumError as error:
        print(f"oakum: {error}", file=sys.stderr)
        sys.exit(2)
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(0)
    sys.exit(code if isinstance(code, int) else 0)
