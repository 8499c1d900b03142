"""A small engine whose clocks and pauses a test can see through, and a job on it."""

from pathlib import Path

from fastapi.testclient import TestClient
from hands import answers
from workbench import HandClock, pages_over

from endfloat.engine.asks import asks_of
from endfloat.job.description import engine_of
from endfloat.store.memory import MemoryStore
from endfloat.workshop.open_job import open_job
from endfloat.workshop.ports import Store

ENGINE = (Path(__file__).parent / "clock-engine.yaml").read_text(encoding="utf-8")
GAUGES = """\
W1: {sort: torque wrench, resolution: 1 N·m, error: 1 N·m, repeat: 1 N·m, source: invented}
A1: {sort: angle gauge, resolution: 1 °, error: 1 °, repeat: 1 °, source: invented}
"""


def opened(clock: HandClock, engine: str = ENGINE) -> MemoryStore:
    """A job on the small engine with its order laid out."""
    store = MemoryStore()
    opened_in(store, clock, engine)
    return store


def opened_in(store: Store, clock: HandClock, engine: str = ENGINE) -> None:
    """The same in a store that is there."""
    problems = open_job(store, clock, engine=engine.encode(), gauges=GAUGES.encode(), by="Ana")
    assert problems == [], [each.text() for each in problems]
    page = TestClient(pages_over(store, clock))
    assert page.post("/build", data={"by": "Ana"}, follow_redirects=False).status_code == 303


def done(page: TestClient, *steps: str, by: str = "Ana") -> None:
    """Confirm steps one after the other at the time that the clock shows."""
    for step in steps:
        asked = answers(asks_of(engine_of(ENGINE), step))
        answer = page.post(f"/build/{step}/done", data={"by": by, **asked}, follow_redirects=False)
        assert answer.status_code == 303, (step, answer.text)
