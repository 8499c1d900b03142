"""Dead centre by two stops, and its loss; sending either twice is harmless."""

from __future__ import annotations

from endfloat.job.events import Event
from endfloat.job.state import State
from endfloat.job.timing_events import DeadCentreFound, DeadCentreLost
from endfloat.problems import Problem
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.pull_bolt import gauges_of
from endfloat.workshop.record import write
from endfloat.workshop.timing_deeds import recorded, wheel_refused


def find_dead_centre(
    store: Store, clock: Clock, *, key: str, before: str, after: str, seen: bool, gauge: str, by: str
) -> Problem | None:
    """Record the two touches of the stop; `seen` that the valves stand as the description says."""

    def decide(state: State) -> list[Event] | Problem:
        if recorded(state, key):
            return []
        if not seen:
            remedy = "There are two tops in two turns. Look at the valves, then tick it."
            return Problem("not_looked", "dead centre", "not ticked which top it is", "the valves seen", remedy)
        wrong = wheel_refused(gauges_of(state), gauge)
        return wrong or [DeadCentreFound(key, before.strip(), after.strip(), gauge, by.strip(), clock())]

    return write(store, clock, decide)


def lose_dead_centre(store: Store, clock: Clock, *, key: str, why: str, by: str) -> Problem | None:
    """Record that the wheel can no longer be trusted."""

    def decide(state: State) -> list[Event] | Problem:
        return [] if recorded(state, key) else [DeadCentreLost(key, why, by.strip(), clock())]

    return write(store, clock, decide)
