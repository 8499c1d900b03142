"""One frozen view of a job, read by every page and paper."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, replace
from functools import lru_cache

from endfloat.decision.prices import Prices
from endfloat.engine.model import Engine
from endfloat.errors import RecordError
from endfloat.inspection.gauges import Gauge, read_gauges
from endfloat.inspection.judge import Finding, judge, judge_found
from endfloat.inspection.measured import Evidence, Gap, Inputs, measured, others, question_of
from endfloat.inspection.readings import Reading, read_readings
from endfloat.inspection.returned import as_returned
from endfloat.inspection.verdicts import Rule, Verdict
from endfloat.inspection.way_out import with_ways_out
from endfloat.job.description import engine_of, prices_of
from endfloat.job.events import BenchEvent, JobOpened, PlaceLeftUnmeasured, ReadingTaken, WorkReturned
from endfloat.job.state import State
from endfloat.quantities.typed_text import Typed, read_typed
from endfloat.workshop.read_again import superseded
from endfloat.workshop.set_aside import set_aside


@dataclass(frozen=True, slots=True)
class View:
    """The job as it stands: its engine, gauges, prices, readings and findings as found.

    In `engine` the decisions whose work came back are closed. `current` are the readings that count; `aside`
    holds the key of each that stands on the record and does not, with the reason.
    `slip` are readings still on paper; `questions` maps the key of a reading that looks like a slip of
    the pen to what is asked about it.
    """

    name: str
    engine: Engine
    gauges: dict[str, Gauge]
    prices: Prices | None
    state: State
    evidence: Evidence
    found: Inputs
    findings: tuple[Finding, ...]
    slip: tuple[Reading, ...]
    current: tuple[ReadingTaken, ...]
    aside: dict[str, Gap]
    questions: dict[str, str]

    @property
    def wanted_in_order(self) -> tuple[tuple[str, str, str, str], ...]:
        """Every spot that a gauge is put to: characteristic, place, station, axis, as the description goes.

        A place that a person left unmeasured is not among them.
        """
        return tuple(
            (name, place, station, axis)
            for name, described in self.engine.characteristics.items()
            if described.given is None
            for place in self.engine.places[described.at].names
            if (name, place) not in self.state.left
            for station in described.stations
            for axis in described.axes
        )

    @property
    def wanted_spots(self) -> frozenset[tuple[str, str, str, str]]:
        """The same, without order."""
        return frozenset(self.wanted_in_order)

    @property
    def taken_spots(self) -> frozenset[tuple[str, str, str, str]]:
        """The spots with a reading that counts."""
        return frozenset((t.characteristic, t.place, t.station, t.axis) for t in self.current)

    def readings_at(self, characteristic: str, place: str) -> dict[tuple[str, str], list[ReadingTaken]]:
        """Readings that count at one place, by station and axis."""
        spots: dict[tuple[str, str], list[ReadingTaken]] = {}
        for taken in self.current:
            if (taken.characteristic, taken.place) == (characteristic, place):
                spots.setdefault((taken.station, taken.axis), []).append(taken)
        return spots

    @property
    def evidence_hash(self) -> str:
        """SHA-256 over what a plan rests on: readings that count, kept ones, places left, work back, the gauges."""
        lines = sorted(f"{t.key} {as_reading(t).spot} {t.text} {t.gauge}" for t in self.current)
        left = sorted(f"{'|'.join(spot)} {event.answer}" for spot, event in self.state.left.items())
        back = sorted(f"{decision} {option}" for decision, option in self.state.returned.items())
        text = "\n".join(
            [*lines, *sorted(self.state.kept), *left, *back, self.state.opened.gauges if self.state.opened else ""]
        )
        return hashlib.sha256(text.encode()).hexdigest()


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
    left, older = tuple(state.left.items()), tuple(superseded(state).items())
    return replace(_judged(state.opened, state.bench, state.withdrawn, state.kept, left, older), state=state)


@lru_cache(maxsize=8)
def _judged(
    opened: JobOpened,
    bench: tuple[BenchEvent, ...],
    withdrawn: frozenset[str],
    kept_keys: frozenset[str],
    left_places: tuple[tuple[tuple[str, str], PlaceLeftUnmeasured], ...],
    older: tuple[tuple[str, str], ...],
) -> View:
    """The view of a job with these readings. Steps and bolts leave it as it is: the build need not wait for it."""
    taken_all = {event.key: event for event in bench if isinstance(event, ReadingTaken)}
    state = State(opened, taken_all, withdrawn, kept_keys, left=dict(left_places), bench=bench)
    engine = engine_of(opened.engine)
    gauges = read_gauges(opened.gauges.encode(), name="gauges.yaml")
    if isinstance(gauges, list):
        raise RecordError("The gauges kept in this job can no longer be read. Use the program that wrote it.")
    prices = prices_of(opened.prices, opened.engine)
    slip = read_readings(opened.slip.encode(), name="slip.csv", engine=engine, register=gauges) if opened.slip else ()
    if isinstance(slip, list):
        raise RecordError("The slip kept in this job can no longer be read.")
    again = {key: Gap(Verdict.OUTDATED, f"Read again on the step “{title}”.") for key, title in older}
    aside = {**again, **set_aside(engine, gauges, state)}
    engine = as_returned(engine, state.returned)
    current = tuple(taken for taken in state.standing if taken.key not in aside)
    readings = tuple(as_reading(taken) for taken in current)
    kept = frozenset(as_reading(taken) for taken in current if taken.key in state.kept)
    left = {spot: event.answer for spot, event in state.left.items()}
    places = {(taken.characteristic, taken.place): aside[key] for key, taken in state.taken.items() if key in aside}
    evidence = Evidence(readings, gauges, kept, left, places)
    found = measured(engine, evidence)
    findings = with_ways_out(engine, evidence, judge_found(engine, found, {}, Rule()))
    taken_spots = {as_reading(taken).spot for taken in state.standing}
    waiting = tuple(reading for reading in slip if reading.spot not in taken_spots)
    asked = questions_about(engine, current, evidence)
    return View(opened.name, engine, gauges, prices, state, evidence, found, findings, waiting, current, aside, asked)


def as_found(seen: View) -> tuple[Finding, ...]:
    """How the engine stood before any work came back; nothing while none has."""
    opened = seen.state.opened
    if opened is None or not seen.state.returned:
        return ()
    return judge(engine_of(opened.engine), evidence_as_found(seen))


def evidence_as_found(seen: View) -> Evidence:
    """What was read before any work came back or a step read it anew; all that counts while neither has."""
    outdated = {key for key, gap in seen.aside.items() if gap.verdict is Verdict.OUTDATED}
    if not seen.state.returned and not outdated:
        return seen.evidence
    before: set[str] = set()
    for event in seen.state.bench:
        if isinstance(event, WorkReturned):
            break
        before.add(event.key)
    anew = {(t.characteristic, t.place) for t in seen.state.standing if t.key in outdated}
    counts = (t for t in seen.state.standing if t.key not in seen.aside and (t.characteristic, t.place) not in anew)
    counted = [t for t in (*(t for t in seen.state.standing if t.key in outdated), *counts) if t.key in before]
    readings = tuple(as_reading(taken) for taken in counted)
    kept = frozenset(as_reading(taken) for taken in counted if taken.key in seen.state.kept)
    moved = {spot: gap for spot, gap in seen.evidence.aside.items() if gap.verdict is Verdict.CHECK_ZERO}
    return Evidence(readings, seen.gauges, kept, seen.evidence.left, moved)


def questions_about(engine: Engine, current: tuple[ReadingTaken, ...], evidence: Evidence) -> dict[str, str]:
    """The key of each reading that looks like a slip beside those of the other places, and what to ask."""
    by_characteristic: dict[str, list[Reading]] = {}
    for reading in evidence.readings:
        by_characteristic.setdefault(reading.characteristic, []).append(reading)
    asked = {}
    for taken, reading in zip(current, evidence.readings, strict=True):
        elsewhere = others(by_characteristic[reading.characteristic], reading.place)
        question = question_of(engine.characteristics[reading.characteristic], reading, elsewhere, evidence.kept)
        if question:
            asked[taken.key] = question
    return asked
