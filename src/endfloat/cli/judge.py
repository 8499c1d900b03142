"""endfloat judge: the verdict on every requirement in every place."""

from __future__ import annotations

import json
from collections import Counter
from pathlib import Path
from typing import Annotated

import typer

from endfloat.cli.files import ENGINE_OR_RECORD, engine_file, read_evidence, record_file
from endfloat.cli.record import job_of
from endfloat.engine.model import Engine
from endfloat.inspection.judge import Finding
from endfloat.inspection.judge import judge as judge_all
from endfloat.inspection.way_out import with_ways_out
from endfloat.inspection.words import label, number
from endfloat.quantities.shown_text import in_unit


def judge(
    engine: Annotated[Path, typer.Argument(help=ENGINE_OR_RECORD)],
    readings: Annotated[Path | None, typer.Option(help="The readings; by default readings.csv beside it.")] = None,
    gauges: Annotated[Path | None, typer.Option(help="The register; by default gauges.yaml beside it.")] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON.")] = False,
) -> None:
    """Judge readings against the limits of the service book, with their uncertainty."""
    record = record_file(engine, instead=(readings, gauges))
    if record:
        seen, _ = job_of(record)
        described, findings = seen.engine, seen.findings
    else:
        described, evidence = read_evidence(engine_file(engine), readings=readings, gauges=gauges, as_json=as_json)
        findings = with_ways_out(described, evidence, judge_all(described, evidence))
    if as_json:
        rows = [finding_as_json(described, finding) for finding in findings]
        typer.echo(json.dumps(rows, ensure_ascii=False, indent=1))
    else:
        _print(described, findings)


def finding_as_json(engine: Engine, finding: Finding) -> dict[str, object]:
    """One finding with numbers in its unit and the verdict as its code."""

    def shown(value: float | None) -> float | None:
        return None if value is None else round(in_unit(value, finding.unit), 7)

    estimate = finding.estimate
    return {
        "place": finding.place,
        "characteristic": finding.on,
        "use": finding.use,
        "method": finding.method,
        "value": shown(estimate.value if estimate else None),
        "standard_uncertainty": round(estimate.standard_uncertainty / float(finding.unit.factor), 7)
        if estimate
        else None,
        "unit": finding.unit.shown,
        "limits": {"low": shown(finding.bounds.low), "high": shown(finding.bounds.high)},
        "page": finding.page,
        "verdict": finding.verdict.code,
        "probability": finding.probability,
    }


def _print(engine: Engine, findings: tuple[Finding, ...]) -> None:
    families = Counter(finding.verdict.family for finding in findings)
    counts = " · ".join(f"{family} {families[family]}" for family in ("Out", "Unsettled", "Open", "Holds"))
    typer.echo(f"{engine.name}{' (invented)' if engine.invented else ''}: {counts}")
    for finding in findings:
        value = number(finding) or "not known"
        words = f"{finding.verdict.words}. {finding.reason}".rstrip()
        typer.echo(f"  {label(engine, finding.on, finding.place):<34} {value:>22}  {words}")
