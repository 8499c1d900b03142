"""endfloat build-order --hunt: what the relations may have forgotten, as questions and counts."""

from __future__ import annotations

import json
from pathlib import Path

import typer

from endfloat.assembly.counters import counters
from endfloat.assembly.hunt import against_strip, replayed, unanswered
from endfloat.assembly.typed_order import read_strip
from endfloat.cli.files import read_bytes, stop_with
from endfloat.engine.model import Engine


def hunt_missing(engine: Engine, strip: Path | None, *, orders: int, seed: int, as_json: bool) -> None:
    """Print every question and count. Nothing here proves that no relation is missing."""
    import numpy as np

    chance = np.random.default_rng(seed)
    removed = read_strip(read_bytes(strip), name=strip.name, engine=engine) if strip else ()
    if isinstance(removed, list):
        stop_with(removed, as_json=as_json)
    drawn, shut_in = replayed(engine, lambda below: int(chance.integers(below)), orders)
    questions = [*unanswered(engine), *shut_in, *against_strip(engine, removed)]
    if as_json:
        found = {
            "questions": [each.as_json() for each in questions],
            "counters": [each.as_json() for each in counters(engine)],
            "orders_drawn": drawn,
            "seed": seed,
        }
        typer.echo(json.dumps(found, ensure_ascii=False, indent=1))
        return
    if not engine.blocking:
        typer.echo("The description has no section `blocking`: what stands in whose way is not known.")
    for question in questions:
        typer.echo(f"? {question.sentence}")
    asked = f"{len(questions)} questions" if len(questions) != 1 else "1 question"
    typer.echo(
        f"{asked}; {drawn} random orders replayed (seed {seed}), {len(engine.blocking)} parts. No proof of more."
    )
    for counter in counters(engine):
        typer.echo(counter.text())
