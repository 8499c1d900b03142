"""The composition root: what a page or command gets as store, clock, solver and papers."""

from __future__ import annotations

from datetime import UTC, datetime

from fastapi import FastAPI

from endfloat.reports.papers import make_paper
from endfloat.solver.worker import Worker
from endfloat.store.jobs_folder import JobsFolder, key_of
from endfloat.web.app import make_app
from endfloat.web.front import Front
from endfloat.workshop.ports import Store


def now() -> str:
    """The time now, UTC."""
    return datetime.now(UTC).isoformat(timespec="seconds")


def make_bench(jobs: JobsFolder, *, demo: str) -> tuple[Front, Worker]:
    """The pages of a bench, and the warm solver they ask; close it at the end."""
    worker = Worker()
    worker.start()

    def make_pages(store: Store) -> FastAPI:
        return make_app(store, now, worker, make_paper)

    return Front(jobs, now, make_pages, key_of, demo), worker
