"""endfloat build-order --hunt: what the relations may have forgotten, as questions and counts."""

from __future__ import annotations

import json
from pathlib import Path

import typer

from endfloat.assembly.counters import count_questions, counters
from endfloat.assembly.hunt import hunted
from endfloat.assembly.strip_hunt import not_kept
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
    drawn, questions = hunted(engine, lambda below: int(chance.integers(below)), orders, removed)
    questions += [*not_kept(engine), *count_questions(engine)]
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
    typer.echo(f"{asked}; {drawn} random orders replayed (seed {seed}) against {len(engine.blocking)} parts.")
    typer.echo("This shows what was found, not that nothing is missing.")
    for counter in counters(engine):
        typer.echo(counter.text())
