"""What holds a step besides the order: the joint it tightens must say on the record that it is tight."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from endfloat.assembly.now import reopens
from endfloat.assembly.tightening import checks_left, left_in_pass
from endfloat.assembly.violations import Violation
from endfloat.engine.model import Engine
from endfloat.engine.operations import Pulls
from endfloat.job.events import JointEvent
from endfloat.job.joints import progress_of

TIGHTENED = "tightened"


def joint_holds(
    engine: Engine, events: Iterable[JointEvent], operation: str, done: Sequence[str] = ()
) -> list[Violation]:
    """Why a step is not done yet for a joint's sake: its own passes are not whole, or those it rests on no longer are.

    A joint that was tight when its step was confirmed may have been taken back since.
    """
    if operation not in engine.operations:
        return []
    recorded = tuple(events)
    pulls = engine.operations[operation].pulls
    own = _loose(engine, recorded, operation, pulls) if pulls else []
    return own or _no_longer(engine, recorded, operation, done)


def _no_longer(engine: Engine, events: tuple[JointEvent, ...], operation: str, done: Sequence[str]) -> list[Violation]:
    mine = engine.operations[operation].pulls
    for step in done:
        pulls = engine.operations[step].pulls
        if pulls is None or (mine is not None and mine.joint == pulls.joint):
            continue
        loose = _loose(engine, events, step, pulls)
        if loose and operation in reopens(engine, [*done, operation], step):
            sentence = f"{loose[0].sentence} It was whole when `{engine.operations[step].title}` was confirmed."
            return [Violation(TIGHTENED, (operation,), sentence)]
    return []


def _loose(engine: Engine, events: tuple[JointEvent, ...], operation: str, pulls: Pulls) -> list[Violation]:
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
