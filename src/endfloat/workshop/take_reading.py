"""Take one reading at one place; sending it twice is harmless."""

from __future__ import annotations

from endfloat.engine.book_units import book_unit
from endfloat.inspection.words import place_label
from endfloat.job.events import Event, GaugeChecked, ReadingTaken
from endfloat.job.state import State
from endfloat.problems import Problem, quoted
from endfloat.quantities.typed_text import read_typed
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import write
from endfloat.workshop.set_aside import drift
from endfloat.workshop.view import view


def take_reading(
    store: Store, clock: Clock, *, key: str, spot: tuple[str, str, str, str], text: str, gauge: str, by: str
) -> Problem | None:
    """Record what the gauge says; a Problem when it cannot be read, and then nothing is written."""
    characteristic, place, station, axis = spot

    def decide(state: State) -> list[Event] | Problem:
        seen = view(state)
        where = place_label(seen.engine, characteristic, place)
        described = seen.engine.characteristics.get(characteristic)
        if described is None or not (
            place in seen.engine.places[described.at].names and station in described.stations and axis in described.axes
        ):
            spot_words = ", ".join(spot)
            return Problem("unknown_place", where, spot_words, "a place of this engine", "Go back and choose it again.")
        if gauge not in seen.gauges:
            return Problem("unknown_gauge", where, quoted(gauge), f"one of {', '.join(seen.gauges)}", "Choose a gauge.")
        if not by.strip():
            return Problem("no_name", where, "no name", "who is measuring", "Type a name; it goes on the record.")
        if seen.gauges[gauge].kind is not described.kind:
            found, wanted = f"{gauge}, for {seen.gauges[gauge].kind.value}", f"a gauge for {described.kind.value}"
            return Problem("wrong_gauge", where, found, wanted, "Choose another gauge.")
        check = next((e for e in reversed(state.bench) if isinstance(e, GaugeChecked) and e.gauge == gauge), None)
        if check is not None and drift(check, seen.gauges[gauge]) and key not in state.taken:
            found = f"{gauge}, which showed {check.shows} on {check.set_to} at its last check"
            remedy = "Set it and check it again, or use another gauge."
            return Problem("gauge_off", where, found, "a gauge that shows what it should", remedy)
        unit = book_unit(seen.engine, characteristic).shown
        typed = read_typed(text, kind=described.kind, place=where, default_unit=unit)
        if isinstance(typed, Problem):
            return typed
        event = ReadingTaken(key, characteristic, place, station, axis, typed.text, gauge, by.strip())
        return [] if state.taken.get(key) == event else [event]

    return write(store, clock, decide)
