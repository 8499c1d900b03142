"""In the middle of a build: may this step be done now, and what falls with a step that is undone?"""

from __future__ import annotations

from collections.abc import Sequence

from endfloat.assembly.check import check
from endfloat.assembly.violations import Violation
from endfloat.engine.circles import runs
from endfloat.engine.model import Engine
from endfloat.engine.precedences import precedences


def may_do(description: Engine, done: Sequence[str], operation: str) -> list[Violation]:
    """Why `operation` may not be the next step after `done`, in the order done; empty where it may.

    The same checks as for a whole order. Clocks count the minutes of the description, and a wait is a step.
    """
    standing = set(check(description, done))
    return [each for each in check(description, [*done, operation]) if each not in standing]


def frees(description: Engine, done: Sequence[str], operation: str) -> list[str]:
    """The steps that would free a refused one: what it waits for and can be done now, nearest first."""
    waits = _waits_for(description, operation, set(done))
    return [step for step in waits if not may_do(description, done, step)]


def _waits_for(description: Engine, operation: str, done: set[str]) -> list[str]:
    links = precedences(description)
    found = [operation]
    for step in found:
        found += sorted({each.first for each in links if each.then == step} - done - set(found))
    return found[1:]


def reopens(description: Engine, done: Sequence[str], operation: str) -> list[str]:
    """What undoing a step re-opens, in the order done: all that waited for it, and runs that it parts."""
    links = precedences(description)
    together = [set(steps) for _, _, steps in runs(description)]
    fallen = [operation]
    for step in fallen:
        again = {each.then for each in links if each.first == step}
        again.update(*(run for run in together if step in run))
        fallen += sorted((again & set(done)) - set(fallen))
    return [step for step in done if step in fallen and step != operation]
