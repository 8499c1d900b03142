"""Which device records a joint: the first that pulls on it, until it is closed or handed over."""

from __future__ import annotations

from collections.abc import Iterable

from endfloat.engine.joints import Joint
from endfloat.job.events import BoltPulled, JointClosed, JointEvent
from endfloat.job.joint_events import JointTakenUp
from endfloat.problems import Problem


def holder(events: Iterable[JointEvent], joint: str) -> JointTakenUp | None:
    """Who has a joint, on which device; None before the first pull and once it is closed."""
    has: JointTakenUp | None = None
    for event in events:
        if event.joint != joint:
            continue
        if isinstance(event, JointTakenUp):
            has = event
        elif isinstance(event, JointClosed):
            has = None
    return has


def other_device(joint: Joint, events: Iterable[JointEvent], event: BoltPulled) -> Problem | None:
    """Why a pull from a device that does not have the joint is not taken; a pull of an unknown device is not asked."""
    has = holder(events, event.joint)
    if not event.device or has is None or has.device == event.device:
        return None
    remedy = "Watch it there, or take it over; both say yes."
    return Problem("other_device", joint.title, "a pull from this device", f"that of {has.by}, who has it", remedy)


def taking_up_refused(joint: Joint, events: Iterable[JointEvent], event: JointTakenUp) -> Problem | None:
    """Why a device may not take a joint up: another has it, and its person has not said yes."""
    has = holder(events, event.joint)
    if has is None or has.device == event.device:
        return None
    if event.gave.strip().casefold() == has.by.strip().casefold():
        return None
    found = f"`{event.gave.strip()}`" if event.gave.strip() else "no yes of the other"
    return Problem("both_say_yes", joint.title, found, f"{has.by}, who has it", "Ask, then type that name too.")
