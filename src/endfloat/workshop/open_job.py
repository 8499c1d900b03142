"""Open a job on an engine, its gauges, prices and the readings already on paper."""

from __future__ import annotations

from endfloat.decision.prices import read_prices
from endfloat.engine.model import Engine
from endfloat.engine.proofread import read_engine
from endfloat.inspection.gauges import read_gauges
from endfloat.inspection.readings import read_readings
from endfloat.job.events import Event, JobOpened, ReadingTaken
from endfloat.problems import Problem
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import write


def open_job(
    store: Store,
    clock: Clock,
    *,
    engine: bytes,
    gauges: bytes,
    by: str,
    readings: bytes = b"",
    prices: bytes = b"",
    slip: bytes = b"",
) -> list[Problem]:
    """All of it or nothing: every problem of the files, or an opened job.

    The spots of the slip are left out of the readings: a person types them from paper.
    """
    described = read_engine(engine, name="engine.yaml")
    register = read_gauges(gauges, name="gauges.yaml")
    if not isinstance(described, Engine) or isinstance(register, list):
        return unreadable(engine, gauges)
    listed = read_prices(prices, name="prices.yaml", engine=described) if prices else None
    taken = read_readings(readings, name="readings.csv", engine=described, register=register) if readings else ()
    waiting = read_readings(slip, name="slip.csv", engine=described, register=register) if slip else ()
    problems = [problem for answer in (listed, taken, waiting) if isinstance(answer, list) for problem in answer]
    if problems or isinstance(taken, list) or isinstance(waiting, list):
        return problems
    on_paper = {reading.spot for reading in waiting}
    events: list[Event] = [
        JobOpened(described.name, *(text.decode("utf-8-sig") for text in (engine, gauges, prices, slip))),
        *(
            ReadingTaken(f"file-{n}", r.characteristic, r.place, r.station, r.axis, r.typed.text, r.gauge, by)
            for n, r in enumerate(taken, start=2)
            if r.spot not in on_paper
        ),
    ]
    problem = write(store, clock, lambda state: events)
    return [problem] if problem else []


def unreadable(engine: bytes, gauges: bytes) -> list[Problem]:
    """What keeps a job from being opened on these two files; a record is made only when there is nothing."""
    answers = (read_engine(engine, name="engine.yaml"), read_gauges(gauges, name="gauges.yaml"))
    return [problem for answer in answers if isinstance(answer, list) for problem in answer]
