"""Which steps of the build stand after what happened."""

from __future__ import annotations

from endfloat.assembly.now import reopens
from endfloat.engine.model import Engine
from endfloat.job.events import BuildEvent, StepConfirmed, StepDoneAgainstAdvice, StepReopened


def done_after(engine: Engine, done: list[str], event: BuildEvent) -> list[str]:
    """The steps that stand after one more event, in the order done. Undoing one takes with it what waited for it."""
    if isinstance(event, StepConfirmed | StepDoneAgainstAdvice) and event.operation in engine.operations:
        return [*done, event.operation]
    if isinstance(event, StepReopened) and event.operation in done:
        fallen = {event.operation, *reopens(engine, done, event.operation)}
        return [step for step in done if step not in fallen]
    return done
