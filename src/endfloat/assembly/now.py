"""In the middle of a build: may this step be done now, and what falls with a step that is undone?"""

from __future__ import annotations

from collections.abc import Sequence

from endfloat.assembly.check import check
from endfloat.assembly.poses import concerns, first_pose, pose_after, refused, ways_on
from endfloat.assembly.violations import Violation
from endfloat.engine.circles import runs
from endfloat.engine.model import Engine
from endfloat.engine.precedences import SAFE_STATES, precedences


def may_do(description: Engine, done: Sequence[str], operation: str) -> list[Violation]:
    """Why `operation` may not be the next step after `done`, in the order done; empty where it may.

    The same checks as for a whole order. Clocks count the minutes of the description, and a wait is a step.
    """
    standing = {(each.relation, each.operations) for each in check(description, done)}
    return [each for each in check(description, [*done, operation]) if (each.relation, each.operations) not in standing]


def frees(description: Engine, done: Sequence[str], operation: str) -> list[str]:
    """The steps that would free a refused one: what it waits for and can be done now, nearest first."""
    waits = [*_makes_safe(description, done, operation), *_waits_for(description, operation, set(done))]
    return [step for step in dict.fromkeys(waits) if not may_do(description, done, step)]


def _makes_safe(description: Engine, done: Sequence[str], operation: str) -> list[str]:
    """The steps that bring crank and cams to where a step may be done; empty where they stand so."""
    pose = first_pose(description)
    if pose is None or not concerns(description, operation):
        return []
    for step in done:
        pose = pose_after(description, pose, step)
    left = [step for step in description.operations if step not in done]
    return ways_on(description, pose, operation, left) if refused(description, pose, operation) else []


def _waits_for(description: Engine, operation: str, done: set[str]) -> list[str]:
    links = precedences(description)
    found = [operation]
    for step in found:
        found += sorted({each.first for each in links if each.then == step} - done - set(found))
    return found[1:]


def reopens(description: Engine, done: Sequence[str], operation: str) -> list[str]:
    """What undoing a step re-opens, in the order done.

    All that waited for it, runs that it parts, and every step that would then have begun or left crank and cams in a
    state outside the safe pairs.
    """
    fallen = _waited(description, done, [operation])
    while True:
        still = [step for step in done if step not in fallen]
        stranded = _stranded(description, done, still)
        if not stranded:
            return [step for step in done if step in fallen and step != operation]
        fallen = _waited(description, done, [*fallen, *stranded])


def _waited(description: Engine, done: Sequence[str], roots: Sequence[str]) -> list[str]:
    links = precedences(description)
    together = [set(steps) for _, _, steps in runs(description)]
    fallen = list(roots)
    for step in fallen:
        again = {each.then for each in links if each.first == step}
        again.update(*(run for run in together if step in run))
        fallen += sorted((again & set(done)) - set(fallen))
    return fallen


def _stranded(description: Engine, done: Sequence[str], still: Sequence[str]) -> list[str]:
    """The first step left standing that crank or cams do not allow any more, if any; it was sound before."""
    before = {each.operations for each in check(description, done) if each.relation == SAFE_STATES}
    found = [each.operations for each in check(description, still) if each.relation == SAFE_STATES]
    return [operations[0] for operations in found if operations not in before and len(operations) == 1][:1]
