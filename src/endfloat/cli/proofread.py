"""endfloat proofread: is a description one that can be judged by, and what is still to look up?"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

import typer

from endfloat.cli.files import engine_file, read_bytes, stop_with
from endfloat.engine.proofread import read_engine, still_to_look_up


def proofread(
    engine: Annotated[Path, typer.Argument(help="A folder with engine.yaml, or the file.")],
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON.")] = False,
) -> None:
    """List everything wrong with an engine description, and every number still to look up."""
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
