"""A bolt is pulled only when the build has come to the step that pulls it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from endfloat.assembly.now import frees
from endfloat.assembly.tightening import Progress, left_in_pass
from endfloat.engine.joints import Joint
from endfloat.engine.model import Engine
from endfloat.job.build import advice, laid_out, steps_done
from endfloat.job.description import engine_of
from endfloat.job.events import BoltPulled, BuildEvent, JobOpened, JointEvent
from endfloat.job.joints import joints_of, progress_of
from endfloat.job.looked_up import as_known
from endfloat.problems import Problem


def before_its_turn(
    opened: JobOpened, building: Iterable[BuildEvent], events: tuple[JointEvent, ...], pulled: BoltPulled
) -> Problem | None:
    """Why a bolt is pulled too early; None when its step may be done, is done, or no build order is laid out.

    Steps of the same joint whose bolts are all pulled count as done: nobody has to lay the wrench down between passes
    to confirm one.
    """
    engine, recorded = engine_of(opened.engine), tuple(building)
    step = _step_of(engine, pulled)
    done = steps_done(engine, recorded)
    if step is None or step in done or not laid_out(engine, recorded):
        return None
    joint = as_known(joints_of(opened.engine)[pulled.joint], pulled.joint, events)
    so_far = [*done, *_pulled_whole(engine, pulled.joint, joint, progress_of(joint, pulled.joint, events), done, step)]
    early = advice(engine, so_far, step)
    if not early:
        return None
    free = frees(engine, so_far, step)
    first = "; ".join(engine.operations[each].title for each in free[:3]) or "what it waits for"
    return Problem("before_its_turn", joint.title, early[0].sentence, "what comes first", f"Do first: {first}.")


def _steps(engine: Engine, joint: str) -> list[str]:
    return [name for name, step in engine.operations.items() if step.pulls is not None and step.pulls.joint == joint]


def _step_of(engine: Engine, pulled: BoltPulled) -> str | None:
    """The step that pulls this pass; a bolt apart from the sequence belongs to the one that closes the joint."""
    for name in _steps(engine, pulled.joint):
        pulls = engine.operations[name].pulls
        assert pulls is not None
        if pulled.pass_number in pulls.passes or (pulled.pass_number == 0 and pulls.closed):
            return name
    return None


def _pulled_whole(
    engine: Engine, name: str, joint: Joint, progress: Progress, done: Sequence[str], but: str
) -> list[str]:
    whole = []
    for step in _steps(engine, name):
        pulls = engine.operations[step].pulls
        assert pulls is not None
        left = [number for number in pulls.passes if left_in_pass(joint, progress, number)]
        if step != but and step not in done and pulls.passes and not left:
            whole.append(step)
    return whole
