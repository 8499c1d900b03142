"""Take a joint over from another device, when both say yes; sending it twice is harmless."""

from __future__ import annotations

from endfloat.job.events import Event
from endfloat.job.joint_device import holder
from endfloat.job.joint_events import JointTakenUp
from endfloat.job.state import State
from endfloat.problems import Problem
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import write


def take_over_joint(
    store: Store, clock: Clock, *, key: str, joint: str, device: str, by: str, gave: str
) -> Problem | None:
    """Record that this device has the joint from here; the person of the other device is named in `gave`."""

    def decide(state: State) -> list[Event] | Problem:
        has = holder(state.tightening, joint)
        if has is not None and has.device == device:
            return []
        return [JointTakenUp(key, joint, device, by.strip(), clock(), gave.strip())]

    return write(store, clock, decide)
