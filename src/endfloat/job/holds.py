"""What holds a step besides the order: the joint it tightens must say on the record that it is tight."""

from __future__ import annotations

from collections.abc import Iterable

from endfloat.assembly.tightening import checks_left, left_in_pass
from endfloat.assembly.violations import Violation
from endfloat.engine.model import Engine
from endfloat.job.events import JointEvent
from endfloat.job.joints import progress_of

TIGHTENED = "tightened"


def joint_holds(engine: Engine, events: Iterable[JointEvent], operation: str) -> list[Violation]:
    """Why a step that pulls passes of a joint is not done yet; empty when it is, or when it pulls none."""
    pulls = engine.operations[operation].pulls if operation in engine.operations else None
    if pulls is None:
        return []
    joint = engine.joints[pulls.joint]
    progress = progress_of(joint, pulls.joint, events)
    if progress.closed:
        return []
    for number in pulls.passes:
        left, all_of_it = left_in_pass(joint, progress, number), len(joint.covered(number))
        if left:
            sentence = f"{joint.title}: pass {number} has {all_of_it - len(left)} of {all_of_it} bolts on the record."
            return [Violation(TIGHTENED, (operation,), sentence)]
        checks = checks_left(joint, progress, number)
        if checks:
            return [Violation(TIGHTENED, (operation,), f"{joint.title}: {checks[0]} is not good yet.")]
    if pulls.closed:
        return [Violation(TIGHTENED, (operation,), f"{joint.title}: it is not closed yet. Look at every bolt.")]
    return []
