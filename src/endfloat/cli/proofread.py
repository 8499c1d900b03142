"""endfloat proofread: is a description one that can be judged by, and what is still to look up?"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

import typer

from endfloat.cli.files import engine_file, read_bytes, stop_with
from endfloat.decision.prices import read_prices
from endfloat.engine.proofread import read_engine, still_to_look_up
from endfloat.engine.schema import engine_schema
from endfloat.inspection.gauges import read_gauges


def proofread(
    engine: Annotated[Path | None, typer.Argument(help="A folder with engine.yaml, or the file.")] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON.")] = False,
    schema: Annotated[bool, typer.Option("--schema", help="Print the JSON Schema for an editor and stop.")] = False,
) -> None:
    """List everything wrong with an engine description, gauges and prices beside it, and every number to look up."""
    if schema:
        typer.echo(json.dumps(engine_schema(), indent=1, ensure_ascii=False, sort_keys=True))
        return
    if engine is None:
        typer.echo("Name a folder with engine.yaml, or the file.", err=True)
        raise typer.Exit(2)
    path = engine_file(engine)
    read = read_engine(read_bytes(path), name=path.name)
    problems = read if isinstance(read, list) else []
    beside = {name: path.with_name(name) for name in ("gauges.yaml", "prices.yaml")}
    if beside["gauges.yaml"].exists():
        gauges = read_gauges(read_bytes(beside["gauges.yaml"]), name="gauges.yaml")
        problems = problems + gauges if isinstance(gauges, list) else problems
    if beside["prices.yaml"].exists() and not isinstance(read, list):
        prices = read_prices(read_bytes(beside["prices.yaml"]), name="prices.yaml", engine=read)
        problems = problems + prices if isinstance(prices, list) else problems
    if problems or isinstance(read, list):
        stop_with(problems, as_json=as_json)
    missing = still_to_look_up(read)
    if as_json:
        typer.echo(json.dumps({"engine": read.name, "still_to_look_up": missing}, ensure_ascii=False))
        return
    typer.echo(
        f"{read.name}: reads well. {len(missing)} {'number' if len(missing) == 1 else 'numbers'} still to look up."
    )
    for line in missing:
        typer.echo(f"  {line}")
