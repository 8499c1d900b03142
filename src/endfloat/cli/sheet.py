"""endfloat sheet: the reading sheet of an engine, as a table to fill in or a paper for the clipboard."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from endfloat.cli.files import engine_file, read_bytes, stop_with
from endfloat.engine.proofread import read_engine
from endfloat.errors import OutsideError
from endfloat.workshop.reading_sheet import empty_table, reading_sheet


def sheet(
    engine: Annotated[Path, typer.Argument(help="A folder with engine.yaml, or the file.")],
    to: Annotated[Path | None, typer.Option(help="A .csv or .pdf file; by default the table is printed.")] = None,
) -> None:
    """List every reading that the description asks for."""
    path = engine_file(engine)
    described = read_engine(read_bytes(path), name=path.name)
    if isinstance(described, list):
        stop_with(described, as_json=False)
    if to is None:
        typer.echo(empty_table(described), nl=False)
        return
    if to.exists():
        raise OutsideError(f"{to} is there already; nothing was written. Name another file.")
    if to.suffix == ".pdf":
        from endfloat.reports.papers import make_paper

        content = make_paper("reading-sheet", reading_sheet(described))
    else:
        content = empty_table(described).encode()
    try:
        to.write_bytes(content)
    except OSError as error:
        raise OutsideError(f"Cannot write {to}: {error.strerror}. Name another file.") from error
    typer.echo(f"Written: {to}")
