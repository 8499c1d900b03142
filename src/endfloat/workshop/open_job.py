"""Open a job on an engine, its gauges and the readings already on paper."""

from __future__ import annotations

from endfloat.engine.model import Engine
from endfloat.engine.proofread import read_engine
from endfloat.inspection.gauges import read_gauges
from endfloat.inspection.readings import read_readings
from endfloat.job.events import Event, JobOpened, ReadingTaken
from endfloat.problems import Problem
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import write


def open_job(
    store: Store, clock: Clock, *, engine: bytes, gauges: bytes, readings: bytes | None, by: str
) -> list[Problem]:
    """All of it or nothing: every problem of the three files, or an opened job."""
    described = read_engine(engine, name="engine.yaml")
    register = read_gauges(gauges, name="gauges.yaml")
    problems = [problem for answer in (described, register) if isinstance(answer, list) for problem in answer]
    if problems or not isinstance(described, Engine) or isinstance(register, list):
        return problems
    taken = read_readings(readings, name="readings.csv", engine=described, register=register) if readings else ()
    if isinstance(taken, list):
        return taken
    events: list[Event] = [
        ReadingTaken(f"file-{n}", r.characteristic, r.place, r.station, r.axis, r.typed.text, r.gauge, by)
        for n, r in enumerate(taken, start=2)
    ]
    opened = JobOpened(described.name, engine.decode("utf-8-sig"), gauges.decode("utf-8-sig"))

    problem = write(store, clock, lambda state: [opened])
    if problem is None and events:
        problem = write(store, clock, lambda state: events)
    return [problem] if problem else []
