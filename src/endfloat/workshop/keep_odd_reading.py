"""Stand by a reading that looked like a slip; sending it twice is harmless."""

from __future__ import annotations

from endfloat.job.events import Event, OddReadingKept
from endfloat.job.state import State
from endfloat.problems import Problem
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import write


def keep_odd_reading(store: Store, clock: Clock, *, key: str, by: str) -> Problem | None:
    """Record that a person looked again and keeps the reading; a Problem when it does not stand."""

    def decide(state: State) -> list[Event] | Problem:
        if not by.strip():
            return Problem("no_name", "reading", "no name", "who looked again", "Type a name; it goes on the record.")
        return [] if key in state.kept else [OddReadingKept(key, by.strip())]

    return write(store, clock, decide)
