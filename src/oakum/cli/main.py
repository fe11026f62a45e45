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


def _group(name: str, help_text: str, module: str, *commands: str) -> None:
    """Register a sub-command group whose functions live in one module."""
    group = App(name=name, help=help_text)
    for command in commands:
        group.command(f"oakum.cli.{module}:{command.replace('-', '_')}", name=command)
    app.command(group)


app.command("oakum.cli.project:new", name="new")
app.command("oakum.cli.demo:demo", name="demo")
app.command("oakum.cli.project:serve", name="serve")
_group("find", "The register of finds.", "finds", "add", "list", "show", "change", "import-register")
_group("lift", "What a find weighs, in every state of its lift.", "lift", "weigh", "bodies", "reading", "card")
_group("log", "The logbook: what was entered, by whom, and what is still open.", "log", "list", "show", "questions", "settle")
app.command("oakum.cli.keeping:backup", name="backup")
app.command("oakum.cli.keeping:restore", name="restore")
app.command("oakum.cli.keeping:check", name="check")


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
