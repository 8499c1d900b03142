"""The program `endfloat`: exit 0 fine, 1 the user's data has problems, 2 misuse, 3 the outside failed."""

from __future__ import annotations

import sys

import typer

from endfloat.cli.build_order import build_order
from endfloat.cli.decide import decide_command
from endfloat.cli.formula import formula
from endfloat.cli.judge import judge
from endfloat.cli.new import new
from endfloat.cli.proofread import proofread
from endfloat.cli.record import print_record, verify_record
from endfloat.cli.sheet import sheet
from endfloat.cli.start import start
from endfloat.errors import OrderWithheld, OutsideError, RecordError

app = typer.Typer(no_args_is_help=True, add_completion=False, help="From the service book and the bench to a record.")
app.command()(proofread)
app.command()(judge)
app.command("decide")(decide_command)
app.command("build-order")(build_order)
app.add_typer(formula, name="formula")
app.command()(start)
app.command()(new)
app.command()(sheet)
app.command("print")(print_record)
app.command("verify")(verify_record)


def run() -> None:
    """Run the command line; a failure of the outside world is one sentence and exit 3."""
    try:
        app()
    except (OutsideError, RecordError, OrderWithheld) as error:
        print(error, file=sys.stderr)
        sys.exit(3)
