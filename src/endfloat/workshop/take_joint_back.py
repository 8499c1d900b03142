"""The way back that the description orders was carried out at the joint."""

from __future__ import annotations

from endfloat.job.events import Event, JointTakenBack
from endfloat.job.state import State
from endfloat.problems import Problem
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import write
from endfloat.workshop.tightening import joint_view


def take_joint_back(store: Store, clock: Clock, *, key: str, joint: str, new_bolt: str, by: str) -> Problem | None:
    """Record it; sending it twice is harmless, and a Problem writes nothing."""

    def decide(state: State) -> list[Event] | Problem:
        seen = joint_view(state, joint)
        if isinstance(seen, Problem):
            return seen
        if seen.recorded_under(key) is not None:
            return []
        return [JointTakenBack(key, joint, seen.progress.fitted, new_bolt.strip(), by.strip(), clock())]

    return write(store, clock, decide)
