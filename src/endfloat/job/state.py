"""The state of a job: a fold over its events."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from endfloat.job.events import Event, JobOpened, ReadingTaken, ReadingWithdrawn
from endfloat.problems import Problem


@dataclass(frozen=True, slots=True)
class State:
    """What stands now: the job as opened, readings by key, and which of them were withdrawn or kept."""

    opened: JobOpened | None = None
    taken: dict[str, ReadingTaken] = field(default_factory=dict)
    withdrawn: frozenset[str] = frozenset()
    kept: frozenset[str] = frozenset()

    @property
    def standing(self) -> tuple[ReadingTaken, ...]:
        """Readings that count, in the order in which they were taken."""
        return tuple(reading for key, reading in self.taken.items() if key not in self.withdrawn)


def after(state: State, event: Event) -> State:
    """The state after one more event."""
    if isinstance(event, JobOpened):
        return replace(state, opened=event)
    if isinstance(event, ReadingTaken):
        return replace(state, taken={**state.taken, event.key: event})
    if isinstance(event, ReadingWithdrawn):
        return replace(state, withdrawn=state.withdrawn | {event.key})
    return replace(state, kept=state.kept | {event.key})


def fold(events: Iterable[Event]) -> State:
    """The state after all events, from nothing."""
    opened, taken = None, {}
    withdrawn: set[str] = set()
    kept: set[str] = set()
    for event in events:
        if isinstance(event, JobOpened):
            opened = event
        elif isinstance(event, ReadingTaken):
            taken[event.key] = event
        elif isinstance(event, ReadingWithdrawn):
            withdrawn.add(event.key)
        else:
            kept.add(event.key)
    return State(opened, taken, frozenset(withdrawn), frozenset(kept))


def refusal(state: State, event: Event) -> Problem | None:
    """Why this event may not happen now; None when it may."""
    if isinstance(event, JobOpened):
        if state.opened is None:
            return None
        return Problem("already_open", state.opened.name, "a second opening", "one", "Go on with the open job.")
    if state.opened is None:
        return Problem("not_open", "job", "nothing opened", "an opened job", "Open the job first.")
    if isinstance(event, ReadingTaken):
        if event.key in state.taken:
            return Problem("key_used", event.place, "a key used before", "a new key", "Send it under a new key.")
        return None
    word = "withdraw" if isinstance(event, ReadingWithdrawn) else "keep"
    if event.key not in {reading.key for reading in state.standing}:
        return Problem(
            "no_reading", event.key, f"no reading to {word}", "a standing reading", "Look at the list again."
        )
    if isinstance(event, ReadingWithdrawn) and not event.reason.strip():
        return Problem("no_reason", event.key, "no reason", "a reason", "Say in a word or two why it is withdrawn.")
    return None
