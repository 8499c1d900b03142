"""endfloat proofread: is a description one that can be judged by, and what is still to look up?"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

import typer

from endfloat.cli.files import engine_file, read_bytes, stop_with
from endfloat.engine.proofread import read_engine, still_to_look_up
from endfloat.engine.schema import engine_schema


def proofread(
    engine: Annotated[Path | None, typer.Argument(help="A folder with engine.yaml, or the file.")] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON.")] = False,
    schema: Annotated[bool, typer.Option("--schema", help="Print the JSON Schema for an editor and stop.")] = False,
) -> None:
    """List everything wrong with an engine description, and every number still to look up."""
    if schema:
        typer.echo(json.dumps(engine_schema(), indent=1, ensure_ascii=False, sort_keys=True))
        return
    if engine is None:
        typer.echo("Name a folder with engine.yaml, or the file.", err=True)
        raise typer.Exit(2)
    path = engine_file(engine)
    read = read_engine(read_bytes(path), name=path.name)
    if isinstance(read, list):
        stop_with(read, as_json=as_json)
    missing = still_to_look_up(read)
    if as_json:
        typer.echo(json.dumps({"engine": read.name, "still_to_look_up": missing}, ensure_ascii=False))
        return
    typer.echo(f"{read.name}: reads well. {len(missing)} numbers still to look up.")
    for line in missing:
        typer.echo(f"  {line}")
