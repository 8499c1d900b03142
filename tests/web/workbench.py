"""A job on the demonstration engine with a clock that tests turn by hand."""

import re
from datetime import UTC, datetime, timedelta
from pathlib import Path

from fastapi import FastAPI

import endfloat.examples
from endfloat.reports.papers import make_paper
from endfloat.solver.cp_sat import solve_rows
from endfloat.store.memory import MemoryStore
from endfloat.web.app import make_app
from endfloat.workshop.open_job import open_job

V8 = Path(endfloat.examples.__file__).parent / "wrenhallow-90-8"


class HandClock:
    """Stands still until it is told to go on."""

    def __init__(self) -> None:
        self.now = datetime(2026, 5, 3, 10, tzinfo=UTC)

    def __call__(self) -> str:
        return self.now.isoformat()

    def go_on(self, **time: int) -> None:
        self.now += timedelta(**time)


def opened_job(clock: HandClock) -> MemoryStore:
    """A job with its engine and gauges, and no readings, for the joints need none."""
    store = MemoryStore()
    engine, gauges = ((V8 / file).read_bytes() for file in ("engine.yaml", "gauges.yaml"))
    assert open_job(store, clock, engine=engine, gauges=gauges, by="Ana") == []
    return store


def pages_over(store: MemoryStore, clock: HandClock) -> FastAPI:
    """The whole application over one job."""
    return make_app(store, clock, solve_rows, make_paper)


def on_screen(page: str) -> str:
    """A page without what it carries for a device whose workshop computer does not answer."""
    return re.sub(r"<template.*?</template>", "", page, flags=re.DOTALL)
