"""An example from its files to the laid-out build: opened, its plan agreed, all work back; for tests that build it."""

from collections.abc import Mapping
from pathlib import Path

from fastapi.testclient import TestClient
from hands import bring_all_in
from workbench import HandClock, pages_over

from endfloat.inspection.evaluate import spots_of
from endfloat.solver.cp_sat import solve_rows
from endfloat.store.memory import MemoryStore
from endfloat.workshop.build import build_of
from endfloat.workshop.holds import places_of
from endfloat.workshop.open_job import open_job
from endfloat.workshop.plan_work import Planned, agree, work_out
from endfloat.workshop.record import load
from endfloat.workshop.take_reading import take_reading
from endfloat.workshop.view import view

After = Mapping[tuple[str, str], tuple[str, str]]
"""By characteristic and place: what is read there after the work, and with which gauge."""


def opened(folder: Path, clock: HandClock) -> MemoryStore:
    """The job of an example, as found."""
    store = MemoryStore()
    files = {"engine": "engine.yaml", "gauges": "gauges.yaml", "readings": "readings.csv", "prices": "prices.yaml"}
    read = {name: (folder / file).read_bytes() for name, file in files.items()}
    assert open_job(store, clock, by="file", **read) == []
    return store


def agreed_and_back(store: MemoryStore, clock: HandClock) -> TestClient:
    """The plan is agreed, all its work is done or back, and the order is laid out."""
    seen_now = view(load(store)[0])
    planned = work_out(seen_now, solve_rows)
    assert isinstance(planned, Planned)
    choice = dict(planned.plan.choice)
    assert agree(store, clock, solve_rows, choice=choice, evidence=seen_now.evidence_hash, by="Ana") is None
    bring_all_in(store, clock)
    page = TestClient(pages_over(store, clock))
    assert page.post("/build", data={"by": "Ana"}).status_code == 200
    return page


def read_what_the_step_asks(store: MemoryStore, clock: HandClock, step: str, after: After) -> bool:
    """Measure again what the work altered and this step reads; was there any?"""
    engine = build_of(load(store)[0]).engine
    asked = [
        spot
        for measured in engine.operations[step].measures
        for place in places_of(view(load(store)[0]), measured)
        for spot in spots_of(engine, measured.of, place)
        if spot in after
    ]
    for characteristic, place in asked:
        described = engine.characteristics[characteristic]
        text, gauge = after[characteristic, place]
        for station in described.stations:
            for axis in described.axes:
                spot = (characteristic, place, station, axis)
                key = f"{step} {spot}"
                assert take_reading(store, clock, key=key, spot=spot, text=text, gauge=gauge, by="Ana") is None
    return bool(asked)
