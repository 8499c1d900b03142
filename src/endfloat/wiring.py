"""The composition root: what a page or command gets as store, clock, solver and papers."""

from __future__ import annotations

from contextlib import AbstractContextManager, nullcontext
from datetime import UTC, datetime
from pathlib import Path

from fastapi import FastAPI

from endfloat.reports.papers import make_paper
from endfloat.solver.worker import Worker
from endfloat.store.jobs_folder import JobsFolder, key_of
from endfloat.store.postgres import open_jobs
from endfloat.web.app import make_app
from endfloat.web.front import Front
from endfloat.workshop.ports import Jobs, Photos, Store


def now() -> str:
    """The time now, UTC."""
    return datetime.now(UTC).isoformat(timespec="seconds")


def jobs_at(folder: Path, database: str) -> AbstractContextManager[Jobs]:
    """The jobs in a database, or in a folder where no database is named."""
    return open_jobs(database) if database else nullcontext(JobsFolder(folder))


def make_bench(jobs: Jobs, *, demo: str) -> tuple[Front, Worker]:
    """The pages of a bench, and the warm solver they ask; close it at the end."""
    worker = Worker()
    worker.start()

    def make_pages(store: Store, photos: Photos) -> FastAPI:
        return make_app(store, now, worker, make_paper, photos)

    return Front(jobs, now, make_pages, key_of, demo), worker
