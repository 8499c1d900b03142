"""In the middle of a build: may this step be done now, and what falls with a step that is undone?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from endfloat.assembly.check import check
from endfloat.assembly.poses import concerns, first_pose, pose_after, refused, ways_on
from endfloat.assembly.violations import Violation
from endfloat.engine.circles import runs
from endfloat.engine.model import Engine
from endfloat.engine.precedences import SAFE_STATES, precedences
from endfloat.engine.relations import KeptTrue

FOR_GOOD = ("single_use", SAFE_STATES)


def may_do(description: Engine, done: Sequence[str], operation: str) -> list[Violation]:
    """Why `operation` may not be the next step after `done`, in the order done; empty where it may.

    The same checks as for a whole order. Clocks count the minutes of the description, and a wait is a step. What is
    spent or bent for good is told even where it follows from something else, so that nobody signs it away unseen.
    """
    standing = {(each.relation, each.operations) for each in check(description, done, always=FOR_GOOD)}
    found = check(description, [*done, operation], always=FOR_GOOD)
    return [each for each in found if (each.relation, each.operations) not in standing]


def frees(description: Engine, done: Sequence[str], operation: str) -> list[str]:
    """The steps that would free a refused one: what it waits for and can be done now, nearest first."""
    waits = [*_makes_safe(description, done, operation), *_waits_for(description, operation, set(done))]
    needing = {link.then for link in precedences(description) if link.first not in done}
    return [step for step in dict.fromkeys(waits) if step not in needing and not may_do(description, done, step)]


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
    needs: dict[str, set[str]] = {}
    for link in precedences(description):
        needs.setdefault(link.then, set()).add(link.first)
    found = [operation]
    for step in found:
        found += sorted(needs.get(step, set()) - done - set(found))
    return found[1:]


@dataclass(frozen=True, slots=True)
class Rescue:
    """A state that undoing has lost while it is still needed: what to do, and the steps that are re-opened for it."""

    state: str
    why: str
    do: str
    again: tuple[str, ...]

    def text(self) -> str:
        """The rule in a sentence."""
        told = f" Once lost: {self.do}." if self.do else ""
        return f"It is no longer sure that {self.state}: {self.why}.{told}"


@dataclass(frozen=True, slots=True)
class Undone:
    """What undoing a step brings with it: steps re-opened, in the order done, and states to bring back."""

    reopened: tuple[str, ...]
    rescues: tuple[Rescue, ...]


def reopens(description: Engine, done: Sequence[str], operation: str) -> list[str]:
    """What undoing a step re-opens, in the order done."""
    return list(undone(description, done, operation).reopened)


def undone(description: Engine, done: Sequence[str], operation: str) -> Undone:
    """What undoing a step brings with it.

    Re-opened is all that waited for it, runs that it parts, every step that would then have begun or left crank and
    cams outside the safe pairs, and what the rescue rule of a lost state says is to be done again.
    """
    fallen = _waited(description, done, [operation])
    while True:
        still = [step for step in done if step not in fallen]
        lost = [state for state in description.relations.kept_true if _is_lost(state, done, still)]
        again = [step for state in lost for step in state.regain_by if step in still]
        again = again or _stranded(description, done, still)
        if not again:
            break
        fallen = _waited(description, done, [*fallen, *again])
    rescues = [Rescue(each.state, each.why, each.regain, tuple(each.regain_by)) for each in lost]
    return Undone(tuple(step for step in done if step in fallen and step != operation), tuple(rescues))


def _is_lost(state: KeptTrue, done: Sequence[str], still: Sequence[str]) -> bool:
    """Whether a state that had been made is lost by what no longer stands, and is needed again."""
    if state.set_by not in done or all(step in still for step in state.during):
        return False
    given_up = state.ended_by in done and state.ended_by not in still
    parted = state.ended_by not in done and any(step in done and step not in still for step in state.lost_by_undoing)
    return state.set_by not in still or given_up or parted


def _waited(description: Engine, done: Sequence[str], roots: Sequence[str]) -> list[str]:
    follow: dict[str, set[str]] = {}
    for link in precedences(description):
        follow.setdefault(link.first, set()).add(link.then)
    together = [set(steps) for _, _, steps in runs(description)]
    fallen = list(roots)
    for step in fallen:
        again = set(follow.get(step, ()))
        again.update(*(run for run in together if step in run))
        fallen += sorted((again & set(done)) - set(fallen))
    return fallen


def _stranded(description: Engine, done: Sequence[str], still: Sequence[str]) -> list[str]:
    """The first step left standing that crank or cams do not allow any more, if any; it was sound before."""
    before = {each.operations for each in check(description, done) if each.relation == SAFE_STATES}
    found = [each.operations for each in check(description, still) if each.relation == SAFE_STATES]
    return [operations[0] for operations in found if operations not in before and len(operations) == 1][:1]
