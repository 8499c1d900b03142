"""One frozen view of a job, read by every page."""

from __future__ import annotations

from dataclasses import dataclass

from endfloat.engine.model import Engine
from endfloat.engine.proofread import read_engine
from endfloat.errors import RecordError
from endfloat.inspection.gauges import Gauge, read_gauges
from endfloat.inspection.judge import Finding, judge
from endfloat.inspection.measured import Evidence
from endfloat.inspection.readings import Reading
from endfloat.job.events import ReadingTaken
from endfloat.job.state import State
from endfloat.quantities.typed_text import Typed, read_typed


@dataclass(frozen=True, slots=True)
class View:
    """The job as it stands: its engine, gauges, readings and findings."""

    name: str
    engine: Engine
    gauges: dict[str, Gauge]
    state: State
    readings: tuple[Reading, ...]
    findings: tuple[Finding, ...]

    def readings_at(self, characteristic: str, place: str) -> dict[tuple[str, str], list[ReadingTaken]]:
        """Standing readings of one place by station and axis."""
        spots: dict[tuple[str, str], list[ReadingTaken]] = {}
        for taken in self.state.standing:
            if (taken.characteristic, taken.place) == (characteristic, place):
                spots.setdefault((taken.station, taken.axis), []).append(taken)
        return spots


def as_reading(taken: ReadingTaken) -> Reading:
    """The reading of an event; it was read once before it was recorded, so it reads again."""
    typed = read_typed(taken.text, kind=None, place=taken.place)
    if not isinstance(typed, Typed):
        raise RecordError(f"The record holds `{taken.text}` as a reading, which is no amount.")
    return Reading(taken.characteristic, taken.place, taken.station, taken.axis, typed, taken.gauge)


def view(state: State) -> View:
    """Judge the whole job as it stands now."""
    if state.opened is None:
        raise RecordError("This record holds no opened job.")
    engine = read_engine(state.opened.engine.encode(), name="engine.yaml")
    gauges = read_gauges(state.opened.gauges.encode(), name="gauges.yaml")
    if isinstance(engine, list) or isinstance(gauges, list):
        raise RecordError("The description kept in this job can no longer be read. Use the program that wrote it.")
    readings = tuple(as_reading(taken) for taken in state.standing)
    kept = frozenset(as_reading(taken) for taken in state.standing if taken.key in state.kept)
    findings = judge(engine, Evidence(readings, gauges, kept))
    return View(state.opened.name, engine, gauges, state, readings, findings)
