"""What every deed at a joint shares: the joint as it stands, and the key of what is done next."""

from __future__ import annotations

from dataclasses import dataclass

from endfloat.assembly.tightening import Progress, next_pull
from endfloat.engine.joints import Joint
from endfloat.job.events import BoltPulled, JointEvent, PassCompleted
from endfloat.job.joints import joints_of, progress_of, pulled_before
from endfloat.job.looked_up import as_known
from endfloat.job.state import State
from endfloat.problems import Problem


@dataclass(frozen=True, slots=True)
class JointView:
    """One joint as it stands now; `recorded` holds its own events only, `other_bank` that its bank is not the first."""

    name: str
    joint: Joint
    progress: Progress
    recorded: tuple[JointEvent, ...]
    pulled_before: frozenset[str]
    other_bank: bool = False

    @property
    def upcoming(self) -> tuple[int, str] | None:
        """The pass and bolt of the sequence that come next."""
        return next_pull(self.joint, self.progress)

    def key(self, word: str) -> str:
        """A key that is the same until the joint has moved on, so that a second press is the same entry."""
        return f"{self.name}/{self.progress.attempt}/{word}"

    def recorded_under(self, key: str) -> JointEvent | None:
        """What was recorded under a key."""
        keyed = (each for each in self.recorded if not isinstance(each, PassCompleted))
        return next((each for each in keyed if each.key == key), None)

    @property
    def last_pull(self) -> BoltPulled | None:
        """The latest pull at this joint, by whichever set."""
        return next((each for each in reversed(self.recorded) if isinstance(each, BoltPulled)), None)


def joint_views(state: State) -> dict[str, JointView]:
    """Every joint of the job's engine, in the order of its description, with what was looked up at the bench."""
    described = joints_of(state.opened.engine) if state.opened else {}
    spent = pulled_before(state.tightening)
    banks = list(dict.fromkeys(joint.bank for joint in described.values() if joint.bank))
    return {
        name: JointView(
            name,
            as_known(joint, name, state.tightening),
            progress_of(joint, name, state.tightening),
            tuple(event for event in state.tightening if event.joint == name),
            spent,
            joint.bank in banks[1:],
        )
        for name, joint in described.items()
    }


def joint_view(state: State, name: str) -> JointView | Problem:
    """One joint; a Problem when the engine has none of that name."""
    found = joint_views(state).get(name)
    if found is None:
        return Problem("unknown_joint", name, "no such joint", "a joint of this engine", "Choose it from the list.")
    return found
