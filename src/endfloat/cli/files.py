"""Reading what a command is pointed at: ENGINE is a folder or its engine.yaml."""

from __future__ import annotations

import json
from pathlib import Path
from typing import NoReturn

import typer

from endfloat.engine.model import Engine
from endfloat.engine.proofread import read_engine
from endfloat.errors import OutsideError
from endfloat.inspection.gauges import read_gauges
from endfloat.inspection.measured import Evidence
from endfloat.inspection.readings import read_readings
from endfloat.problems import Problem

RECORD = "job.sqlite"
ENGINE_OR_RECORD = "A folder with engine.yaml, or the file; or a job's record, such as jobs/wrenhallow-90-8/job.sqlite."


def read_bytes(path: Path) -> bytes:
    """The bytes of a file, or OutsideError with a sentence."""
    try:
        return path.read_bytes()
    except OSError as error:
        raise OutsideError(f"Cannot read {path}: {error.strerror}. Check the name, then run the same line.") from error


def record_file(named: Path, *, instead: tuple[Path | None, Path | None]) -> Path | None:
    """The record that is meant: the file itself, or the one in a folder that has no readings beside it.

    `instead` are files of readings and gauges that a person named; they go with a description.
    """
    files = any(instead)
    if named.suffix == Path(RECORD).suffix:
        if files:
            raise typer.BadParameter("A record holds its own readings and gauges: leave the option out.")
        return named
    held = named / RECORD
    alone = not files and held.exists() and not (named / "readings.csv").exists()
    return held if alone else None


def engine_file(engine: Path) -> Path:
    """The description in a folder, or the file itself."""
    return engine / "engine.yaml" if engine.is_dir() else engine


def read_evidence(path: Path, *, readings: Path | None, gauges: Path | None, as_json: bool) -> tuple[Engine, Evidence]:
    """The engine, and the readings with their gauges; all problems of one file are shown, then exit 1."""
    described = read_engine(read_bytes(path), name=path.name)
    if isinstance(described, list):
        stop_with(described, as_json=as_json)
    table = readings or path.with_name("readings.csv")
    if not table.exists():
        raise OutsideError(
            f"There is no {table}. Readings typed on the pages stand in a job's record: name the folder that holds"
            f" {RECORD}, or that file."
        )
    register_file = gauges or table.with_name("gauges.yaml")
    register = read_gauges(read_bytes(register_file), name=register_file.name)
    if isinstance(register, list):
        stop_with(register, as_json=as_json)
    taken = read_readings(read_bytes(table), name=table.name, engine=described, register=register)
    if isinstance(taken, list):
        stop_with(taken, as_json=as_json)
    return described, Evidence(taken, register)


def stop_with(problems: list[Problem], *, as_json: bool) -> NoReturn:
    """Show all problems and leave with exit 1."""
    if as_json:
        typer.echo(json.dumps({"problems": [problem.as_json() for problem in problems]}, ensure_ascii=False, indent=1))
    else:
        for problem in problems:
            typer.echo(problem.text(), err=True)
    raise typer.Exit(1)
