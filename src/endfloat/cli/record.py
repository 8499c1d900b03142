"""endfloat verify and endfloat print: is a job's record whole, and the record or the build on paper."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from endfloat.cli.database import Database
from endfloat.errors import OutsideError, RecordError
from endfloat.job.wire import Entry, verify
from endfloat.problems import Problem

if TYPE_CHECKING:
    from endfloat.workshop.view import View

JobFile = Annotated[
    Path, typer.Argument(help="The job's record, such as jobs/wrenhallow-90-8/job.sqlite; its name in a database.")
]


def entries_of(job: Path, database: str) -> list[Entry]:
    """The entries of a record that exists: a file, or a job of a database by its name."""
    if database:
        return _entries_in(database, str(job))
    from endfloat.store.sqlite import SqliteStore

    if not job.exists():
        raise OutsideError(f"There is no {job}. Open a job first with `endfloat start`.")
    return SqliteStore(job).entries()


def _entries_in(database: str, key: str) -> list[Entry]:
    from endfloat.store.postgres import open_jobs

    with open_jobs(database) as jobs:
        entries = jobs.store(key).entries()
        if not entries:
            names = ", ".join(jobs.names()) or "no job yet"
            raise OutsideError(f"There is no {jobs.where(key)}. It holds: {names}.")
        return entries


def job_of(job: Path, database: str = "") -> tuple[View, list[Entry]]:
    """The job of a record as it stands, and its entries; the record is whole and holds an opened job."""
    from endfloat.job.state import fold
    from endfloat.job.wire import events_of
    from endfloat.workshop.view import view

    entries = entries_of(job, database)
    verify(entries)
    if not entries:
        raise OutsideError(f"{job} holds no opened job yet. Open one with `endfloat start`.")
    return view(fold(events_of(entries))), entries


def verify_record(job: JobFile, database: Database = "") -> None:
    """Is the record just as it was written?"""
    entries = entries_of(job, database)
    try:
        count = verify(entries)
    except RecordError as error:
        typer.echo(str(error), err=True)
        raise typer.Exit(1) from error
    last = entries[-1].fingerprint if entries else "none"
    typer.echo(f"{count} entries, unbroken. Fingerprint {last}.")


def print_record(
    job: JobFile,
    kind: Annotated[str, typer.Option(help="build-record, or booklet: the steps of the build to follow on paper.")] = (
        "build-record"
    ),
    to: Annotated[Path | None, typer.Option(help="The PDF to write; named after its kind when left out.")] = None,
    database: Database = "",
) -> None:
    """Write the build record, or the booklet of the build, as PDF."""
    from endfloat.reports.papers import make_paper
    from endfloat.workshop.booklet import booklet
    from endfloat.workshop.build_record import build_record

    kinds = {"build-record": build_record, "booklet": booklet}
    if kind not in kinds:
        raise typer.BadParameter(f"`{kind}` is no paper of a record. Use {' or '.join(kinds)}.", param_hint="--kind")
    seen, entries = job_of(job, database)
    values = kinds[kind](seen, entries)
    if isinstance(values, Problem):
        typer.echo(values.text(), err=True)
        raise typer.Exit(1)
    path = to or Path(f"{kind}.pdf")
    try:
        path.write_bytes(make_paper(kind, values))
    except OSError as error:
        raise OutsideError(f"Cannot write {path}: {error.strerror}. Name another file with --to.") from error
    typer.echo(f"Written: {path}")
