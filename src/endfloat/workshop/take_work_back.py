"""Work of the agreed plan has come back; sending it twice is harmless."""

from __future__ import annotations

from endfloat.job.events import Event, WorkReturned
from endfloat.job.state import State
from endfloat.problems import Problem
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import write


def take_work_back(store: Store, clock: Clock, *, key: str, decision: str, by: str) -> Problem | None:
    """Record that the work agreed for a decision is done; a Problem writes nothing."""

    def decide(state: State) -> list[Event] | Problem:
        if key in {event.key for event in state.bench}:
            return []
        option = state.agreed.choice.get(decision, "") if state.agreed else ""
        return [WorkReturned(key, decision, option, by.strip(), clock())]

    return write(store, clock, decide)
