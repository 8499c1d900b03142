"""The joints of a job: their progress, folded from what was recorded, and whether more may be recorded."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import cast

from endfloat.assembly.pull_rules import objection
from endfloat.assembly.tightening import (
    Close,
    Condemn,
    Deed,
    Fit,
    GoBack,
    LookAt,
    Progress,
    Pull,
    Undo,
    done,
    everything_left,
    left_in_pass,
)
from endfloat.engine.joints import Joint
from endfloat.engine.passes import Feel
from endfloat.job.description import engine_of
from endfloat.job.events import (
    BoltCondemned,
    BoltPulled,
    BoltSetFitted,
    JobOpened,
    JointClosed,
    JointEvent,
    JointTakenBack,
    PassCompleted,
)
from endfloat.job.joint_device import other_device, taking_up_refused
from endfloat.job.joint_events import JointChecked, JointTakenUp, JointUndone, LookedUp
from endfloat.job.looked_up import as_known, looking_up_refused
from endfloat.problems import Problem


def joints_of(engine_text: str) -> dict[str, Joint]:
    """The joints of the description kept in the job."""
    return engine_of(engine_text).joints


def as_deed(event: JointEvent) -> Deed | None:
    """What a person did to the joint; a completed pass is a conclusion, a number looked up no deed."""
    if isinstance(event, BoltSetFitted):
        return Fit(event.bolts, event.at)
    if isinstance(event, BoltPulled):
        return Pull(event.pass_number, event.bolt, event.at)
    if isinstance(event, BoltCondemned):
        return Condemn(event.pass_number, event.bolt, cast(Feel, event.feel), event.at)
    if isinstance(event, JointTakenBack):
        return GoBack(event.at, event.new_bolt)
    if isinstance(event, JointChecked):
        return LookAt(event.check, event.place, event.text, event.within, event.at)
    if isinstance(event, JointUndone):
        return Undo(event.first_pass, event.step, event.at)
    return Close(event.at) if isinstance(event, JointClosed) else None


def progress_of(joint: Joint, name: str, events: Iterable[JointEvent]) -> Progress:
    """How far one joint is after what was recorded.

    A description that was revised since may ask for more than was pulled: the joint is then open again.
    """
    progress = Progress()
    for event in events:
        deed = as_deed(event)
        if event.joint == name and deed is not None:
            progress = done(joint, progress, deed)
    return replace(progress, closed=progress.closed and not everything_left(joint, progress))


def pulled_before(events: Iterable[JointEvent]) -> frozenset[str]:
    """The names of all sets and single bolts that were ever pulled in this job."""
    pulled = {event.bolts for event in events if isinstance(event, BoltPulled | BoltCondemned)}
    return frozenset(pulled | {event.new_bolt for event in events if isinstance(event, JointTakenBack)} - {""})


def joint_refusal(opened: JobOpened, events: tuple[JointEvent, ...], event: JointEvent) -> Problem | None:
    """Why this may not be recorded now; None when it may."""
    described = joints_of(opened.engine).get(event.joint)
    if described is None:
        return Problem("unknown_joint", event.joint, "no such joint", "a joint of this engine", "Choose it again.")
    joint = as_known(described, event.joint, events)
    progress = progress_of(joint, event.joint, events)
    if isinstance(event, PassCompleted):
        return _other_set(joint, progress, event.bolts) or _not_complete(joint, progress, event)
    if event.key in {each.key for each in events if not isinstance(each, PassCompleted)}:
        return Problem("key_used", joint.title, "a key used before", "a new key", "Send it under a new key.")
    if not event.by.strip():
        return Problem("no_name", joint.title, "no name", "who did it", "Type a name; it goes on the record.")
    if isinstance(event, LookedUp):
        return looking_up_refused(described, progress, event)
    if isinstance(event, JointTakenUp):
        return taking_up_refused(joint, events, event)
    elsewhere = other_device(joint, events, event) if isinstance(event, BoltPulled) else None
    if elsewhere:
        return elsewhere
    wrong = None if isinstance(event, BoltSetFitted) else _other_set(joint, progress, event.bolts)
    deed = as_deed(event)
    if wrong or deed is None:
        return wrong
    return objection(joint, progress, deed, pulled_before=pulled_before(events))


def _other_set(joint: Joint, progress: Progress, bolts: str) -> Problem | None:
    if bolts == progress.fitted:
        return None
    found = f"bolt set {bolts or 'without a name'}"
    expected = f"set {progress.fitted}, which is in" if progress.fitted else "a set that was entered"
    return Problem("other_bolt_set", joint.title, found, expected, "Look at the joint again.")


def _not_complete(joint: Joint, progress: Progress, event: PassCompleted) -> Problem | None:
    known = 1 <= event.pass_number <= len(joint.passes)
    left = left_in_pass(joint, progress, event.pass_number) if known else joint.fasteners
    if not left:
        return None
    found = f"pass {event.pass_number} with {len(left)} bolts left"
    return Problem("pass_not_complete", joint.title, found, "every bolt pulled", "Pull what is left first.")
