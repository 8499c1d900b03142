"""Say why a place has no reading; sending it twice is harmless."""

from __future__ import annotations

from endfloat.inspection.measured import ANSWERS
from endfloat.inspection.words import place_label
from endfloat.job.events import Event, PlaceLeftUnmeasured
from endfloat.job.state import State
from endfloat.problems import Problem, quoted
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import write
from endfloat.workshop.view import view


def leave_unmeasured(
    store: Store, clock: Clock, *, key: str, characteristic: str, place: str, answer: str, by: str
) -> Problem | None:
    """Record the answer; a reading taken later re-opens the place."""

    def decide(state: State) -> list[Event] | Problem:
        engine = view(state).engine
        where = place_label(engine, characteristic, place)
        described = engine.characteristics.get(characteristic)
        if described is None or described.given is not None or place not in engine.places[described.at].names:
            return Problem("unknown_place", where, where, "a place of this engine", "Go back and choose it again.")
        if answer not in ANSWERS:
            known = ", ".join(code.replace("_", " ") for code in ANSWERS)
            return Problem("unknown_answer", where, quoted(answer), f"one of {known}", "Choose one of them.")
        if not by.strip():
            return Problem("no_name", where, "no name", "who says so", "Type a name; it goes on the record.")
        event = PlaceLeftUnmeasured(key, characteristic, place, answer, by.strip())
        return [] if state.answered.get(key) == event else [event]

    return write(store, clock, decide)
