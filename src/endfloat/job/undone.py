"""What undoing a step of the build does to the joints that it tightened: no bolt may go on counting as tight."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from endfloat.assembly.now import reopens
from endfloat.assembly.tightening import APART, Progress
from endfloat.engine.model import Engine
from endfloat.engine.operations import Pulls
from endfloat.job.events import JointEvent
from endfloat.job.joints import progress_of


def joints_undone(
    engine: Engine, done: Sequence[str], events: Iterable[JointEvent], operation: str
) -> dict[str, tuple[int, Progress]]:
    """Joints that undoing a step takes back, each with the first pass that no longer counts and how far it is now.

    Pass 0 says that the joint only is no longer closed. A step whose bolts are pulled but that is not confirmed yet
    falls like one that is.
    """
    recorded = tuple(events)
    progress = {name: progress_of(joint, name, recorded) for name, joint in engine.joints.items()}
    pulling = {step: each.pulls for step, each in engine.operations.items() if each.pulls is not None}
    begun = [step for step, pulls in pulling.items() if step not in done and _stands(pulls, progress[pulls.joint])]
    fallen = {operation, *reopens(engine, [*done, *begun], operation)}
    found: dict[str, int] = {}
    for step, pulls in pulling.items():
        if step in fallen and _stands(pulls, progress[pulls.joint]):
            first = min(pulls.passes, default=APART)
            earlier = found.get(pulls.joint, APART)
            found[pulls.joint] = min(first, earlier) if first and earlier else first or earlier
    return {name: (first, progress[name]) for name, first in found.items()}


def _stands(pulls: Pulls, progress: Progress) -> bool:
    if not pulls.passes:
        return progress.closed
    first = min(pulls.passes)
    return progress.closed or any(number >= first for number, _ in progress.pulled)
