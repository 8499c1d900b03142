"""A pull felt wrong: keep that on the record, and stop the joint until the way back is done."""

from __future__ import annotations

from endfloat.job.events import BoltCondemned, Event
from endfloat.job.state import State
from endfloat.problems import Problem
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import write
from endfloat.workshop.tightening import joint_view


def condemn_bolt(
    store: Store, clock: Clock, *, key: str, joint: str, pass_number: int, bolt: str, feel: str, by: str
) -> Problem | None:
    """Record what was felt; sending it twice is harmless, and a Problem writes nothing."""

    def decide(state: State) -> list[Event] | Problem:
        seen = joint_view(state, joint)
        if isinstance(seen, Problem):
            return seen
        if seen.recorded_under(key) is not None:
            return []
        return [BoltCondemned(key, joint, seen.progress.fitted, pass_number, bolt, feel, by.strip(), clock())]

    return write(store, clock, decide)
