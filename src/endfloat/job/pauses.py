"""Work that was broken off: whether somebody must look at the last steps before the next one is done.

A person is asked who made no entry for longer than the step in hand takes and ten minutes more, who is new at a build
that is begun, or after work was stopped. An entry of somebody else does not answer for him.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import timedelta

from endfloat.engine.model import Engine
from endfloat.job.clocks import moment
from endfloat.job.conditions import kept_now, lost_conditions
from endfloat.job.events import BuildEvent, BuildOrderLaidOut, Event, StepConfirmed, StepDoneAgainstAdvice
from endfloat.job.pause_events import ConditionLost, PauseEvent, WorkStopped, WorkTakenUp
from endfloat.job.steps import done_after
from endfloat.problems import Problem

# After this long away, beside the time of the step in hand, the last steps are looked at; common practice, no source.
AWAY_MINUTES = 10
LAST = 3


@dataclass(frozen=True, slots=True)
class Away:
    """A person was away for so many minutes, until a time."""

    minutes: int
    until: str


def stopped(events: Iterable[BuildEvent]) -> WorkStopped | None:
    """The stop after which nobody has taken the work up yet."""
    told = [event for event in events if isinstance(event, WorkStopped | WorkTakenUp)]
    return told[-1] if told and isinstance(told[-1], WorkStopped) else None


def same_person(one: str, other: str) -> bool:
    """Whether two typed names mean one person."""
    return one.strip().casefold() == other.strip().casefold()


def away(engine: Engine, entries: Sequence[tuple[str, Event]], now: str, operation: str | None) -> Away | None:
    """The longest time that a person was away; `entries` are his own, with their times, `operation` the step in hand.

    None where he never was away for longer than the step in hand takes and ten minutes more.
    """
    longest: Away | None = None
    until, in_hand = now, operation
    for at, event in reversed(entries):
        minutes = engine.operations[in_hand].minutes if in_hand in engine.operations else 0
        passed = moment(until) - moment(at)
        if passed > timedelta(minutes=AWAY_MINUTES + minutes):
            found = Away(int(passed.total_seconds() // 60), until)
            longest = found if longest is None or found.minutes > longest.minutes else longest
        until = at
        if isinstance(event, StepConfirmed | StepDoneAgainstAdvice):
            in_hand = event.operation
    return longest


def not_taken_up(events: Iterable[BuildEvent], title: str) -> Problem | None:
    """Why no step is done while the work is stopped."""
    stop = stopped(events)
    if stop is None:
        return None
    found = f"work that {stop.by} stopped"
    return Problem("stopped", title, found, "work taken up again", "Read the tag and look at the last steps first.")


def pause_refusal(engine: Engine, events: tuple[BuildEvent, ...], event: PauseEvent) -> Problem | None:
    """Why this may not be recorded of a pause now; None when it may."""
    if not event.by.strip():
        return Problem("no_name", "the work", "no name", "who says so", "Type a name; it goes on the record.")
    if event.key in {each.key for each in events if isinstance(each, PauseEvent)}:
        return Problem("key_used", "the work", "a key used before", "a new key", "Send it under a new key.")
    done: list[str] = []
    for each in events:
        done = done_after(engine, done, each)
    if isinstance(event, ConditionLost):
        return _losing_refused(engine, events, done, event)
    if isinstance(event, WorkStopped):
        return _stopping_refused(events, event)
    wrong = [*(step for step in event.still_so if step not in done), *(s for s in event.reopened if s in done)]
    if wrong or (done and not event.still_so and not event.reopened):
        found = f"`{wrong[0]}`, which stands otherwise" if wrong else "no step looked at"
        return Problem("not_looked", "the last steps", found, "an answer for each", "Look at the list again.")
    return None


def _stopping_refused(events: tuple[BuildEvent, ...], event: WorkStopped) -> Problem | None:
    already = stopped(events)
    if already:
        found = f"stopped already by {already.by}"
        return Problem("stopped", "the work", found, "work that goes on", "Read the tag, or take the work up.")
    if not event.why.strip():
        return Problem("no_reason", "the work", "no reason", "why you stop", "Say in a word or two why.")
    return None


def _losing_refused(
    engine: Engine, events: tuple[BuildEvent, ...], done: list[str], event: ConditionLost
) -> Problem | None:
    kept = {each.state for each in kept_now(engine, done)} - set(lost_conditions(engine, events))
    if event.condition in kept:
        return None
    return Problem("not_kept", event.condition, "not kept now", "a condition that is kept", "Look at the list again.")


def last_steps(done: Sequence[str]) -> tuple[str, ...]:
    """The steps that are looked at before work goes on: the last ones done."""
    return tuple(done[-LAST:])


def presence(entries: Iterable[tuple[str, Event]], by: str) -> list[tuple[str, Event]]:
    """A person's own entries since that person last took the work up, or since the build began."""
    kept: list[tuple[str, Event]] = []
    begun = False
    for at, event in entries:
        begun = begun or (isinstance(event, BuildEvent) and not isinstance(event, BuildOrderLaidOut))
        if not begun or not same_person(getattr(event, "by", ""), by):
            continue
        kept = [(at, event)] if isinstance(event, WorkTakenUp) else [*kept, (at, event)]
    return kept
