"""Every pull line was looked at: the joint is closed."""

from __future__ import annotations

from endfloat.job.events import Event, JointClosed
from endfloat.job.state import State
from endfloat.problems import Problem
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import write
from endfloat.workshop.tightening import joint_view


def close_joint(store: Store, clock: Clock, *, key: str, joint: str, by: str) -> Problem | None:
    """Record it; sending it twice is harmless, and a Problem writes nothing."""

    def decide(state: State) -> list[Event] | Problem:
        seen = joint_view(state, joint)
        if isinstance(seen, Problem):
            return seen
        if seen.recorded_under(key) is not None:
            return []
        return [JointClosed(key, joint, seen.progress.fitted, by.strip(), clock())]

    return write(store, clock, decide)
