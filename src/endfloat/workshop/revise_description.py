"""Read a job's description again from its files, when no reading taken so far loses its place."""

from __future__ import annotations

from collections.abc import Iterator

from endfloat.decision.prices import read_prices
from endfloat.engine.model import Engine
from endfloat.engine.proofread import read_engine
from endfloat.engine.spots import spot_words
from endfloat.inspection.gauges import Gauge, read_gauges
from endfloat.inspection.words import place_label
from endfloat.job.events import DescriptionRevised, Event, GaugeChecked, ReadingTaken
from endfloat.job.state import State
from endfloat.problems import Problem
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import write
from endfloat.workshop.strip import strip_of


def revise_description(
    store: Store, clock: Clock, *, engine: bytes, gauges: bytes, prices: bytes, by: str
) -> list[Problem]:
    """All of it or nothing: every problem of the files and of readings that would lose their place."""
    described = read_engine(engine, name="engine.yaml")
    register = read_gauges(gauges, name="gauges.yaml")
    problems = [problem for answer in (described, register) if isinstance(answer, list) for problem in answer]
    if not isinstance(described, Engine) or isinstance(register, list):
        return problems
    listed = read_prices(prices, name="prices.yaml", engine=described) if prices else None
    if isinstance(listed, list):
        return listed
    lost: list[Problem] = []

    def decide(state: State) -> list[Event] | Problem:
        lost.extend(problem for taken in state.standing if (problem := _lost(described, register, taken)))
        lost.extend(_unknown(described, register, state))
        if lost:
            return lost[0]
        engine_text, gauges_text, prices_text = (text.decode("utf-8-sig") for text in (engine, gauges, prices))
        return [DescriptionRevised(engine_text, gauges_text, prices_text, by)]

    problem = write(store, clock, decide)
    return lost or ([problem] if problem else [])


def _unknown(engine: Engine, register: dict[str, Gauge], state: State) -> Iterator[Problem]:
    """Work that came back, gauges that were checked and parts that are off must stay in the files."""
    for removal in strip_of(state).stands.off:
        if removal not in engine.strip:
            found = "no such removal, though it is off"
            yield Problem("removal_lost", removal, found, "every removal that is off", "Put it back in the file.")
    for decision, option in state.returned.items():
        if decision not in engine.decisions or option not in engine.decisions[decision].options:
            found = f"no {option} of {decision}, which came back already"
            yield Problem("work_lost", decision, found, "every option that came back", "Put it back in the file.")
    for event in state.bench:
        if isinstance(event, GaugeChecked) and event.gauge not in register:
            found = "no such gauge, though it was checked"
            yield Problem("gauge_lost", event.gauge, found, "every gauge that was checked", "Put it back in the file.")


def _lost(engine: Engine, register: dict[str, Gauge], taken: ReadingTaken) -> Problem | None:
    described = engine.characteristics.get(taken.characteristic)
    kept = (
        described is not None
        and taken.place in engine.places[described.at].names
        and taken.station in described.stations
        and taken.axis in described.axes
        and taken.gauge in register
        and register[taken.gauge].kind is described.kind
    )
    if kept:
        return None
    spot = spot_words(taken.station, taken.axis)
    where = place_label(engine, taken.characteristic, taken.place) + (f", {spot}" if spot else "")
    found = f"the reading {taken.text} with {taken.gauge}, which would lose its place"
    expected = "every place and gauge that readings were taken at"
    return Problem("reading_lost", where, found, expected, "Put it back in the file, or withdraw the reading first.")
