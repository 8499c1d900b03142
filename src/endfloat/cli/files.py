"""Reading what a command is pointed at: ENGINE is a folder or its engine.yaml."""

from __future__ import annotations

import json
from pathlib import Path
from typing import NoReturn

import typer

from endfloat.errors import OutsideError
from endfloat.problems import Problem


def read_bytes(path: Path) -> bytes:
    """The bytes of a file, or OutsideError with a sentence."""
    try:
        return path.read_bytes()
    except OSError as error:
        raise OutsideError(f"Cannot read {path}: {error.strerror}. Check the name, then run the same line.") from error


def engine_file(engine: Path) -> Path:
    """The description in a folder, or the file itself."""
    return engine / "engine.yaml" if engine.is_dir() else engine


def stop_with(problems: list[Problem], *, as_json: bool) -> NoReturn:
    """Show all problems and leave with exit 1."""
    if as_json:
        typer.echo(json.dumps({"problems": [problem.as_json() for problem in problems]}, ensure_ascii=False, indent=1))
    else:
        for problem in problems:
            typer.echo(problem.text(), err=True)
    raise typer.Exit(1)
