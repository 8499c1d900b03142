"""The composition root: what a page or command gets as store, clock, solver and papers."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

from fastapi import FastAPI

from endfloat.errors import OutsideError
from endfloat.reports.papers import make_paper
from endfloat.solver.worker import Worker
from endfloat.store.sqlite import SqliteStore
from endfloat.web.app import make_app


def now() -> str:
    """The time now, UTC."""
    return datetime.now(UTC).isoformat(timespec="seconds")


def open_store(job: Path) -> SqliteStore:
    """The record of a job in a file, its folder made when it is not there."""
    try:
        job.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise OutsideError(f"Cannot make the folder {job.parent}: {error.strerror}.") from error
    return SqliteStore(job)


def make_pages(store: SqliteStore) -> tuple[FastAPI, Worker]:
    """The pages of one job, and the warm solver they ask; close it at the end."""
    worker = Worker()
    worker.start()
    return make_app(store, now, worker, make_paper), worker
