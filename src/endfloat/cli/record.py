"""endfloat verify and endfloat print: is a job's record whole, and the record on paper."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from endfloat.errors import OutsideError, RecordError
from endfloat.job.wire import Entry, verify

JobFile = Annotated[Path, typer.Argument(help="The job's record, such as jobs/wrenhallow-90-8/job.sqlite.")]


def entries_of(job: Path) -> list[Entry]:
    """The entries of a record that exists."""
    from endfloat.store.sqlite import SqliteStore

    if not job.exists():
        raise OutsideError(f"There is no {job}. Open a job first with `endfloat start`.")
    return SqliteStore(job).entries()


def verify_record(job: JobFile) -> None:
    """Is the record just as it was written?"""
    entries = entries_of(job)
    try:
        count = verify(entries)
    except RecordError as error:
        typer.echo(str(error), err=True)
        raise typer.Exit(1) from error
    last = entries[-1].fingerprint if entries else "none"
    typer.echo(f"{count} entries, unbroken. Fingerprint {last}.")


def print_record(
    job: JobFile,
    to: Annotated[Path, typer.Option(help="The PDF to write.")] = Path("build-record.pdf"),
) -> None:
    """Write the build record as PDF."""
    from endfloat.job.state import fold
    from endfloat.job.wire import from_body
    from endfloat.reports.papers import make_paper
    from endfloat.workshop.build_record import build_record
    from endfloat.workshop.view import view

    entries = entries_of(job)
    verify(entries)
    if not entries:
        raise OutsideError(f"{job} holds no opened job yet. Open one with `endfloat start`.")
    seen = view(fold(from_body(entry.body) for entry in entries))
    pdf = make_paper("build-record", build_record(seen, entries))
    try:
        to.write_bytes(pdf)
    except OSError as error:
        raise OutsideError(f"Cannot write {to}: {error.strerror}. Name another file with --to.") from error
    typer.echo(f"Written: {to}")
