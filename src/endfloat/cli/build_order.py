"""endfloat build-order: the cheapest order of work that keeps every relation, or what an order breaks."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Annotated

import typer

from endfloat.assembly.check import check
from endfloat.assembly.contradictions import contradiction
from endfloat.assembly.cost import stays
from endfloat.assembly.generate import BuildOrder, NoOrder
from endfloat.assembly.generate import build_order as cheapest
from endfloat.assembly.sub_assemblies import alone
from endfloat.assembly.typed_order import read_order
from endfloat.cli.files import engine_file, read_bytes, stop_with
from endfloat.cli.missing_relations import hunt_missing
from endfloat.engine.model import Engine
from endfloat.engine.proofread import read_engine
from endfloat.problems import Problem


def build_order(
    engine: Annotated[Path, typer.Argument(help="A folder with engine.yaml, or the file.")],
    against: Annotated[Path | None, typer.Option(help="Check this order instead: one operation id a line.")] = None,
    assembly: Annotated[str, typer.Option(help="Plan this sub-assembly on its own.")] = "",
    hunt: Annotated[bool, typer.Option("--hunt", help="Ask what the relations may have forgotten.")] = False,
    strip: Annotated[Path | None, typer.Option(help="With --hunt: the order of the strip, one part a line.")] = None,
    orders: Annotated[int, typer.Option(min=0, help="With --hunt: how many random orders are replayed.")] = 200,
    seed: Annotated[int, typer.Option(help="With --hunt: the seed of the random orders.")] = 1,
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON.")] = False,
) -> None:
    """Work out the order of the build, or check one."""
    path = engine_file(engine)
    described = read_engine(read_bytes(path), name=path.name)
    if isinstance(described, list):
        stop_with(described, as_json=as_json)
    if against is not None:
        _check(described, against, as_json=as_json)
        return
    proof = contradiction(described)
    if proof:
        remedy = "Take one of these sentences back."
        problem = Problem("no_order", path.name, proof.text(), "relations that some order can keep", remedy)
        stop_with([problem], as_json=as_json)
    if hunt:
        hunt_missing(described, strip, orders=orders, seed=seed, as_json=as_json)
        return
    if assembly and assembly not in described.assemblies:
        stop_with([_unknown_assembly(path.name, described, assembly)], as_json=as_json)
    described = alone(described, assembly) if assembly else described
    found = cheapest(described)
    if isinstance(found, NoOrder):
        words = "no order keeps all relations" if found.proved else "no order was found within the cap"
        remedy = "Look at the clocks, the helper's minutes and the runs that nothing may part."
        stop_with(
            [Problem("no_order", path.name, words, "relations that some order can keep", remedy)], as_json=as_json
        )
    if as_json:
        typer.echo(json.dumps(order_as_json(described, found), ensure_ascii=False, indent=1))
    else:
        _print(described, found)


def _unknown_assembly(name: str, engine: Engine, assembly: str) -> Problem:
    known = ", ".join(f"`{each}`" for each in engine.assemblies) or "none is described"
    return Problem("unknown_assembly", name, f"`{assembly}`", f"one of {known}", "Write it as the description does.")


def order_as_json(engine: Engine, found: BuildOrder) -> dict[str, object]:
    """The order, its cost, and the least that any order costs."""
    return {
        "operations": [{"id": each, "title": engine.operations[each].title} for each in found.operations],
        "proved": found.proved,
        "bound": found.bound._asdict(),
        "helper": [
            {"from": found.operations[each.first], "to": found.operations[each.last], "minutes": each.minutes}
            for each in stays(engine, found.operations)
        ],
        **found.cost._asdict(),
    }


def _check(engine: Engine, against: Path, *, as_json: bool) -> None:
    order = read_order(read_bytes(against), name=against.name, engine=engine)
    if isinstance(order, list):
        stop_with(order, as_json=as_json)
    violations = check(engine, order)
    if as_json:
        typer.echo(json.dumps({"violations": [each.as_json() for each in violations]}, ensure_ascii=False, indent=1))
    elif not violations:
        typer.echo(f"{against.name}: {len(order)} operations in an order that keeps every relation.")
    else:
        for violation in violations:
            typer.echo(f"{violation.relation.replace('_', ' ')}: {violation.sentence}")
    if violations:
        raise typer.Exit(1)


def _print(engine: Engine, found: BuildOrder) -> None:
    calls, turns, changes = found.cost
    counts = f"{calls} calls for a helper, {turns} turns of the engine, {changes} tool changes"
    least = f"no order costs less than {found.bound[0]}, {found.bound[1]}, {found.bound[2]}"
    typer.echo(
        f"{engine.name}{' (invented)' if engine.invented else ''}: {len(found.operations)} operations, {counts}."
    )
    typer.echo("Proved: no order costs less." if found.proved else f"Best found so far; {least}.")
    for stay in stays(engine, found.operations):
        told = f"Helper: steps {stay.first + 1} to {stay.last + 1}, {stay.minutes} minutes; may go after"
        typer.echo(f"{told} “{engine.operations[found.operations[stay.last]].title}”.")
    for number, each in enumerate(found.operations, start=1):
        step = engine.operations[each]
        assembly = engine.assemblies[step.assembly].title if step.assembly in engine.assemblies else ""
        marks = [
            assembly,
            step.bank.upper() if step.bank else "",
            "two persons" if step.persons > 1 else "",
            step.attitude,
        ]
        typer.echo(f"{number:>4}  {step.title}" + "".join(f" · {mark}" for mark in marks if mark))
        for caution in step.cautions:
            typer.echo(f"      {caution.signal_word}: {caution.consequence} {caution.avoidance}")
