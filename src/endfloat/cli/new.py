"""endfloat new: begin the description of your own engine."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from endfloat.cli.files import stop_with
from endfloat.errors import OutsideError
from endfloat.workshop.new_engine import QUESTIONS, new_engine


def new(
    folder: Annotated[Path, typer.Argument(help="The folder to make, such as engines/pump.")],
    answer: Annotated[
        list[str] | None, typer.Option(help="An answer as key=value, repeated; what is missing is asked.")
    ] = None,
    blanks: Annotated[
        bool, typer.Option("--blanks", help="Ask nothing: leave the rest blank or as suggested.")
    ] = False,
) -> None:
    """Ask for layout, sizes and limits with their pages, and write engine.yaml and gauges.yaml."""
    if folder.exists() and any(folder.iterdir()):
        raise OutsideError(f"{folder} is not empty. Name a new folder; nothing was written.")
    answers = dict(each.partition("=")[::2] for each in answer or [])
    unknown = sorted(set(answers) - {asked.key for asked in QUESTIONS})
    if unknown:
        known = ", ".join(asked.key for asked in QUESTIONS)
        typer.echo(f"No such answer: {', '.join(unknown)}. Known: {known}.", err=True)
        raise typer.Exit(2)
    for asked in QUESTIONS:
        if asked.key not in answers and not blanks:
            blank = " (blank: look it up later)" if asked.blank else ""
            answers[asked.key] = typer.prompt(
                f"{asked.words}{blank}", default=asked.default, show_default=bool(asked.default)
            )
    texts = new_engine(answers)
    if isinstance(texts, list):
        stop_with(texts, as_json=False)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, text in zip(("engine.yaml", "gauges.yaml"), texts, strict=True):
            (folder / name).write_text(text, encoding="utf-8")
    except OSError as error:
        raise OutsideError(f"Cannot write into {folder}: {error.strerror}. Name another folder.") from error
    typer.echo(f"Written: {folder / 'engine.yaml'} and gauges.yaml. More is added in the file.")
    typer.echo(f"Next: endfloat start {folder}")
