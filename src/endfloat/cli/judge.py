"""endfloat judge: the verdict on every requirement in every place."""

from __future__ import annotations

import json
from collections import Counter
from pathlib import Path
from typing import Annotated

import typer

from endfloat.cli.files import engine_file, read_bytes, stop_with
from endfloat.engine.model import Engine
from endfloat.engine.proofread import read_engine
from endfloat.inspection.gauges import read_gauges
from endfloat.inspection.judge import Finding
from endfloat.inspection.judge import judge as judge_all
from endfloat.inspection.measured import Evidence
from endfloat.inspection.readings import read_readings
from endfloat.quantities.shown_text import in_unit, shown_estimate


def judge(
    engine: Annotated[Path, typer.Argument(help="A folder with engine.yaml, or the file.")],
    readings: Annotated[Path | None, typer.Option(help="The readings; by default readings.csv beside it.")] = None,
    gauges: Annotated[Path | None, typer.Option(help="The register; by default gauges.yaml beside it.")] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print JSON.")] = False,
) -> None:
    """Judge readings against the limits of the service book, with their uncertainty."""
    path = engine_file(engine)
    described = read_engine(read_bytes(path), name=path.name)
    if isinstance(described, list):
        stop_with(described, as_json=as_json)
    table = readings or path.with_name("readings.csv")
    register_file = gauges or table.with_name("gauges.yaml")
    register = read_gauges(read_bytes(register_file), name=register_file.name)
    if isinstance(register, list):
        stop_with(register, as_json=as_json)
    taken = read_readings(read_bytes(table), name=table.name, engine=described, register=register)
    if isinstance(taken, list):
        stop_with(taken, as_json=as_json)
    findings = judge_all(described, Evidence(taken, register))
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
        label = f"{engine.place_label(engine.family_of(finding.on), finding.place)}, {finding.on.replace('_', ' ')}"
        number = "not known"
        if finding.estimate:
            number = shown_estimate(finding.estimate, finding.unit)
        typer.echo(f"  {label:<30} {number:>22}  {finding.verdict.words}. {finding.reason}".rstrip())
