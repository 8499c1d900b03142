"""The cams are confirmed once more, right before the step that needs them; sending it twice is harmless."""

from __future__ import annotations

from endfloat.job.events import Event
from endfloat.job.state import State
from endfloat.job.timing_events import CamsConfirmedAgain
from endfloat.problems import Problem
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import write
from endfloat.workshop.timing_deeds import recorded


def confirm_cams(store: Store, clock: Clock, *, key: str, step: str, by: str) -> Problem | None:
    """Record that the cams were seen at their places now."""

    def decide(state: State) -> list[Event] | Problem:
        if recorded(state, key):
            return []
        return [CamsConfirmedAgain(key, step, len(state.building), by.strip(), clock())]

    return write(store, clock, decide)
