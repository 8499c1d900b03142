"""A gauge is put to something of known size; sending it twice is harmless."""

from __future__ import annotations

from endfloat.job.events import Event, GaugeChecked
from endfloat.job.state import State
from endfloat.problems import Problem, quoted
from endfloat.quantities.typed_text import Typed, read_typed
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import write
from endfloat.workshop.view import view


def check_gauge(
    store: Store, clock: Clock, *, key: str, gauge: str, set_to: str, shows: str, by: str
) -> Problem | None:
    """Record what the gauge should show and what it showed; a Problem when either cannot be read."""

    def decide(state: State) -> list[Event] | Problem:
        if key in {event.key for event in state.bench}:
            return []
        seen = view(state)
        if gauge not in seen.gauges:
            return Problem(
                "unknown_gauge", "gauge", quoted(gauge), f"one of {', '.join(seen.gauges)}", "Choose a gauge."
            )
        kind, unit = seen.gauges[gauge].kind, seen.gauges[gauge].resolution.unit.shown
        read = {
            words: read_typed(text, kind=kind, place=f"{gauge}, {words}", default_unit=unit)
            for words, text in (("what it should show", set_to), ("what it shows", shows))
        }
        problem = next((each for each in read.values() if isinstance(each, Problem)), None)
        if problem:
            return problem
        wanted, found = (each.text for each in read.values() if isinstance(each, Typed))
        return [GaugeChecked(key, gauge, wanted, found, by.strip(), clock())]

    return write(store, clock, decide)
