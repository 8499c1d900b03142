"""What must be kept true and was lost by undoing: until it is confirmed again, no step that needs it is done."""

from __future__ import annotations

from collections.abc import Iterable

from endfloat.assembly.now import Rescue, undone
from endfloat.assembly.violations import Violation
from endfloat.engine.model import Engine
from endfloat.engine.relations import KeptTrue
from endfloat.job.events import BuildEvent, StepReopened
from endfloat.job.order_events import ConditionRegained
from endfloat.job.pause_events import ConditionLost
from endfloat.job.steps import done_after
from endfloat.problems import Problem


def lost_conditions(engine: Engine, events: Iterable[BuildEvent]) -> dict[str, Rescue]:
    """The states lost and not brought back, each by its words. Doing again the step that sets one brings it back."""
    done: list[str] = []
    lost: dict[str, Rescue] = {}
    setters = {record.state: record.set_by for record in engine.relations.kept_true}
    for event in events:
        if isinstance(event, StepReopened) and event.operation in done:
            lost.update((each.state, each) for each in undone(engine, done, event.operation).rescues)
        elif isinstance(event, ConditionLost):
            lost.update(
                (each.state, _by_hand(each)) for each in kept_now(engine, done) if each.state == event.condition
            )
        elif isinstance(event, ConditionRegained):
            lost.pop(event.condition, None)
        before, done = done, done_after(engine, done, event)
        for state in [state for state in lost if setters[state] in done and setters[state] not in before]:
            del lost[state]
    return lost


def kept_now(engine: Engine, done: Iterable[str]) -> list[KeptTrue]:
    """The conditions that were made true, are not given up, and that a step still to do needs."""
    steps = set(done)
    return [
        each
        for each in engine.relations.kept_true
        if each.set_by in steps and each.ended_by not in steps and not steps.issuperset(each.during)
    ]


def _by_hand(record: KeptTrue) -> Rescue:
    return Rescue(record.state, record.why, record.regain, tuple(record.regain_by))


def condition_holds(engine: Engine, events: Iterable[BuildEvent], operation: str) -> list[Violation]:
    """Why a step that needs a lost state is not done now."""
    lost = lost_conditions(engine, events)
    return [
        Violation("kept_true", (operation,), lost[record.state].text())
        for record in engine.relations.kept_true
        if record.state in lost and operation in record.during
    ]


def regain_refusal(engine: Engine, events: tuple[BuildEvent, ...], event: ConditionRegained) -> Problem | None:
    """Why it may not be recorded that a state is true again."""
    if not event.by.strip():
        return Problem("no_name", event.condition, "no name", "who says so", "Type a name; it goes on the record.")
    if event.key in {each.key for each in events if isinstance(each, ConditionRegained)}:
        return Problem("key_used", event.condition, "a key used before", "a new key", "Send it under a new key.")
    if event.condition not in lost_conditions(engine, events):
        return Problem("not_lost", event.condition, "nothing lost", "a state that was lost", "Look at the step again.")
    return None
