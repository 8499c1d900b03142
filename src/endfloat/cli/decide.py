"""endfloat decide: what is machined and renewed, what it costs, and why."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Annotated

import numpy as np
import typer

from endfloat.cli.files import (
    ENGINE_OR_RECORD,
    engine_file,
    read_bytes,
    read_evidence,
    record_file,
    stop_with,
)
from endfloat.cli.record import job_of
from endfloat.decision.plan import NO_PLAN, Plan, decide, work_of
from endfloat.decision.prices import Prices, read_prices
from endfloat.decision.void import Renewal, VoidTold, renewal_of, void_told
from endfloat.decision.why import Question, knock_ons, no_plan, variants, why, why_not_cheaper
from endfloat.engine.model import Engine
from endfloat.inspection.measured import measured
from endfloat.inspection.together import together
from endfloat.inspection.verdicts import Rule
from endfloat.inspection.way_out import with_ways_out
from endfloat.inspection.words import label
from endfloat.workshop.sheets import described as as_described

SEED = 1


def decide_command(
    engine: Annotated[Path, typer.Argument(help=ENGINE_OR_RECORD)],
    readings: Annotated[Path | None, typer.Option(help="The readings; by default readings.csv beside it.")] = None,
    gauges: Annotated[Path | None, typer.Option(help="The register; by default gauges.yaml beside it.")] = None,
    prices: Annotated[Path | None, typer.Option(help="The prices; by default prices.yaml beside the engine.")] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON.")] = False,
) -> None:
    """Find the cheapest work that brings every fit within limits together, judge it again, and say why."""
    record = record_file(engine, instead=(readings, gauges))
    if record:
        seen, _ = job_of(record)
        described, evidence, found, kept = seen.engine, seen.evidence, seen.found, seen.prices
        whole = as_described(seen)
    else:
        described, evidence = read_evidence(engine_file(engine), readings=readings, gauges=gauges, as_json=as_json)
        found, kept, whole = measured(described, evidence), None, described
    listed = kept
    if prices or listed is None:
        table = prices or engine_file(record.parent if record else engine).with_name("prices.yaml")
        listed = _prices(table, described, as_json=as_json)
    from endfloat.solver.cp_sat import solve_rows

    priced = decide(described, found, listed, solve_rows)
    question = Question(described, found, listed, priced.rows, solve_rows, Rule())
    if not priced.plan.found:
        _no_plan(question, as_json=as_json)
        raise typer.Exit(1)
    void = renewal_of(whole, listed, priced.plan.choice)
    plan = replace(priced.plan, days=max(priced.plan.days, void.days(listed)))
    if as_json:
        high = priced.at_worst.cost if priced.at_worst else None
        told = {**plan_as_json(question, plan, high), "void": void_as_json(listed, void)}
        typer.echo(json.dumps(told, ensure_ascii=False, indent=1))
    else:
        plan = replace(plan, findings=with_ways_out(described, evidence, plan.findings))
        _print(described, listed, question, plan, priced.at_worst, void)


def _prices(table: Path, engine: Engine, *, as_json: bool) -> Prices:
    listed = read_prices(read_bytes(table), name=table.name, engine=engine)
    if isinstance(listed, list):
        stop_with(listed, as_json=as_json)
    return listed


def plan_as_json(question: Question, plan: Plan, high: int | None) -> dict[str, object]:
    """The plan as data; money in whole currency units, the smallest margin in the unit of its limit."""
    work = [
        {"decision": name, "option": key, "why": why(question, plan, (name, key))}
        for name, key in work_of(question.engine, plan.choice)
    ]
    closest = min(
        (finding for finding in plan.findings if finding.margin is not None),
        key=lambda finding: (finding.margin or 0) / max(abs(finding.bounds.high or finding.bounds.low or 1), 1e-12),
        default=None,
    )
    smallest = closest and {
        "requirement": closest.on,
        "place": closest.place,
        "margin": round((closest.margin or 0) / float(closest.unit.factor), 7),
        "unit": closest.unit.shown,
    }
    return {
        "status": plan.status,
        "cost": {"low": plan.cost / 100, "high": None if high is None else high / 100},
        "days": plan.days,
        "work": work,
        "judged_again": {"requirements": len(plan.findings), "smallest_margin": smallest},
    }


def void_as_json(prices: Prices, void: Renewal) -> dict[str, object]:
    """What is bought beside the plan for what removal makes void; money in whole currency units."""
    return {
        "cost": void.cost(prices) / 100,
        "items": [{"item": line.item, "times": line.times, "for": line.words} for line in void.lines],
        "without_price": [each.part for each, _ in void.without_price],
    }


def _no_plan(question: Question, *, as_json: bool) -> None:
    reasons = no_plan(question)
    if as_json:
        typer.echo(json.dumps({"status": NO_PLAN, "reasons": reasons}, ensure_ascii=False, indent=1))
    else:
        typer.echo("No work makes this engine fit:", err=True)
        for reason in reasons:
            typer.echo(f"  {reason}", err=True)


def _print(engine: Engine, prices: Prices, question: Question, plan: Plan, worst: Plan | None, void: Renewal) -> None:
    price = prices.shown(plan.cost)
    if worst is None:
        price += " or more: if what is not measured turns out badly, no work of the list would do"
    elif worst.cost != plan.cost:
        price += f" to {prices.shown(worst.cost)}"
    typer.echo(f"{engine.name}{' (invented)' if engine.invented else ''}: {price} · {plan.days} days · {plan.status}")
    told = void_told(prices, void, plan.cost, worst.cost if worst else None)
    if told.price:
        typer.echo(f"And {told.price} for parts that removal makes void; together {told.together}.")
    for number, (name, key) in enumerate(work_of(engine, plan.choice), start=1):
        option = engine.decisions[name].options[key]
        typer.echo(f"{number:3} {option.title[0].upper()}{option.title[1:]}, {prices.shown(prices.of(option))}")
        typer.echo(f"    {why(question, plan, (name, key))}")
    _print_void(told)
    for sentence in knock_ons(question, plan):
        typer.echo(f"Knock-on: {sentence}")
    typer.echo("Why not cheaper")
    for sentence in why_not_cheaper(question, plan):
        typer.echo(f"    {sentence}")
    for words, other in other_ways(engine, question, plan).items():
        typer.echo(f"Another way: {words}, {prices.shown(other.cost)}, {other.days} days")
    for finding in plan.findings:
        if finding.verdict.code != "good":
            chance = "" if finding.probability is None else f", {finding.probability:.0%} likely"
            place = label(engine, finding.on, finding.place)
            typer.echo(f"Still open: {place}: {finding.verdict.words}{chance}. {finding.reason}".rstrip())
    drawn = together(engine, question.found, plan.choice, generator=np.random.default_rng(SEED))
    typer.echo(f"All together: within limits in {drawn.share:.0%} of {drawn.draws:,} draws, seed {SEED}.")
    typer.echo(f"Judged again: {len(plan.findings)} requirements, none predicted outside its limit.")


def _print_void(void: VoidTold) -> None:
    for title, use, price in void.rows:
        typer.echo(f"Void by removal: {title}, {price}, for {use}")
    if void.without_price:
        typer.echo(f"Void too, and without a price: {void.without_price}. Nothing names what is bought for it.")


def other_ways(engine: Engine, question: Question, plan: Plan) -> dict[str, Plan]:
    """Each variant once, told as what it does instead of what."""
    ways: dict[str, Plan] = {}
    for _, other in variants(question, plan):
        ours, theirs = work_of(engine, plan.choice), work_of(engine, other.choice)
        instead, of = (
            " and ".join(engine.decisions[name].options[key].title for name, key in one if (name, key) not in two)
            for one, two in ((theirs, ours), (ours, theirs))
        )
        ways[f"{instead} instead of {of}" if of else instead] = other
    return ways
