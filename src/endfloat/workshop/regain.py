"""Record that what undoing had lost is true again."""

from __future__ import annotations

from endfloat.job.conditions import lost_conditions
from endfloat.job.events import Event
from endfloat.job.order_events import ConditionRegained
from endfloat.job.state import State
from endfloat.problems import Problem
from endfloat.workshop.build import build_of
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import write


def regain(store: Store, clock: Clock, *, key: str, condition: str, by: str) -> Problem | None:
    """Record it; sending it twice is harmless."""

    def decide(state: State) -> list[Event] | Problem:
        if any(isinstance(each, ConditionRegained) and each.key == key for each in state.building):
            return []
        return [ConditionRegained(key, condition, by.strip(), clock())]

    return write(store, clock, decide)


def lost_for(state: State, operation: str) -> list[str]:
    """The states that a step needs and that were lost, in the words of the description."""
    build = build_of(state)
    lost = lost_conditions(build.engine, state.building)
    return [each.state for each in build.engine.relations.kept_true if each.state in lost and operation in each.during]
