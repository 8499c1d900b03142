"""The program `endfloat`: exit 0 fine, 1 the user's data has problems, 2 misuse, 3 the outside failed."""

from __future__ import annotations

import importlib
import sys
from typing import Any

import typer
from typer.core import TyperGroup
from typer.main import get_command

from endfloat.errors import OrderWithheld, OutsideError, RecordError

# Command -> its module and function, and the line that the help shows. A module is imported when its command
# runs, since numpy and the solver take longer to load than the help may.
COMMANDS = {
    "start": ("start", "start", "Serve the pages of a bench on this computer only."),
    "new": ("new", "new", "Begin the description of your own engine."),
    "proofread": ("proofread", "proofread", "List everything wrong with a description, and what is still to look up."),
    "sheet": ("sheet", "sheet", "The reading sheet of an engine, as a table or for the clipboard."),
    "judge": ("judge", "judge", "Judge readings against the limits of the service book, with their uncertainty."),
    "decide": ("decide", "decide_command", "The cheapest work that brings every fit within limits, and why."),
    "build-order": ("build_order", "build_order", "Work out a build order, or check one."),
    "formula": ("formula", "formula", "List formulas, show a card, run one on typed numbers."),
    "print": ("record", "print_record", "Write the build record, or the booklet of the build, as PDF."),
    "verify": ("record", "verify_record", "Is a job's record just as it was written?"),
}


class Commands(TyperGroup):
    """A group whose commands are imported when they run."""

    def list_commands(self, ctx: Any) -> list[str]:
        """The names, in the order of the work."""
        return list(COMMANDS)

    def get_command(self, ctx: Any, cmd_name: str) -> Any:
        """Import a command by its name; None for a name that is none."""
        if cmd_name not in COMMANDS:
            return None
        module, name, _ = COMMANDS[cmd_name]
        found = getattr(importlib.import_module(f"endfloat.cli.{module}"), name)
        if isinstance(found, typer.Typer):
            return get_command(found)
        single = typer.Typer(add_completion=False)
        single.command(cmd_name)(found)
        return get_command(single)

    def format_help(self, ctx: Any, formatter: Any) -> None:
        """The help without importing any command."""
        formatter.write("Usage: endfloat COMMAND [OPTIONS]\n\nFrom the service book and the bench to a record.\n")
        with formatter.section("Commands"):
            formatter.write_dl([(name, line) for name, (_, _, line) in COMMANDS.items()])
        formatter.write("\n`endfloat COMMAND --help` tells the rest.\n")


app = typer.Typer(
    cls=Commands, no_args_is_help=True, add_completion=False, rich_markup_mode=None, pretty_exceptions_enable=False
)


@app.callback()
def program() -> None:
    """From the service book and the bench to a record."""


def run() -> None:
    """Run the command line; a failure of the outside world is one sentence and exit 3."""
    try:
        app()
    except (OutsideError, RecordError, OrderWithheld) as error:
        print(error, file=sys.stderr)
        sys.exit(3)
