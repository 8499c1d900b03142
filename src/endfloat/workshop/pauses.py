"""Stop the work with a tag, take it up again by looking at the last steps, and say what was found lost."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from endfloat.job.events import Event
from endfloat.job.pause_events import ConditionLost, PauseEvent, WorkStopped, WorkTakenUp
from endfloat.job.state import State, after
from endfloat.problems import Problem
from endfloat.workshop.build import build_of, reopening
from endfloat.workshop.last_look import NO, YES, asked
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import write
from endfloat.workshop.standing import Face, standing


def stop_work(store: Store, clock: Clock, face: Face, *, key: str, why: str, by: str) -> Problem | None:
    """Record that work stopped, with what stands loose; sending it twice is harmless."""

    def decide(state: State) -> list[Event] | Problem:
        if _known(state, key):
            return []
        now = clock()
        told = standing(state, now, face)
        return [WorkStopped(key, why.strip(), told.loose, told.leave, told.running, told.first, by.strip(), now)]

    return write(store, clock, decide)


def take_up(
    store: Store, clock: Clock, *, key: str, by: str, steps: Mapping[str, str], kept: Mapping[str, str]
) -> Problem | None:
    """Record the answers about the last steps and what must be true; a step that is not so is re-opened.

    Sending it twice is harmless.
    """

    def decide(state: State) -> list[Event] | Problem:
        if _known(state, key):
            return []
        build, now, who = build_of(state), clock(), by.strip()
        question = asked(state, "")
        open_still = [build.step(step).title for step in question.steps if steps.get(step) not in (YES, NO)]
        open_still += [each for each in question.kept if kept.get(each) not in (YES, NO)]
        if open_still:
            found = f"no answer for: {'; '.join(open_still)}"
            return Problem("not_looked", "the last steps", found, "yes or no for each", "Look, then say it.")
        lost = [each for each in question.kept if kept[each] == NO]
        wrong = [step for step in reversed(question.steps) if steps[step] == NO]
        events: list[Event] = [ConditionLost(f"{key}/{number}", each, who, now) for number, each in enumerate(lost)]
        events += _reopened(state, wrong, who, now)
        left = build_of(_after_all(state, events)).done
        so = tuple(step for step in question.steps if step in left)
        gone = tuple(step for step in question.steps if step not in left)
        still = tuple(each for each in question.kept if kept[each] == YES)
        return [*events, WorkTakenUp(key, so, gone, still, who, now)]

    return write(store, clock, decide)


def _reopened(state: State, wrong: Sequence[str], by: str, at: str) -> list[Event]:
    """The last step first; what falls with one is not re-opened a second time."""
    events: list[Event] = []
    for step in wrong:
        now = _after_all(state, events)
        if step in build_of(now).done:
            events += reopening(now, step, "Found otherwise when the work was taken up.", by, at)
    return events


def _after_all(state: State, events: Sequence[Event]) -> State:
    for event in events:
        state = after(state, event)
    return state


def _known(state: State, key: str) -> bool:
    return any(isinstance(each, PauseEvent) and each.key == key for each in state.building)
