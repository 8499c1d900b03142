"""Load the record, ask the rules, append; on a clash load and ask again."""

from __future__ import annotations

from collections.abc import Callable

from endfloat.errors import StaleVersion
from endfloat.job.events import Event
from endfloat.job.state import State, after, fold, refusal
from endfloat.job.wire import events_of, verify
from endfloat.problems import Problem
from endfloat.workshop.ports import Clock, Store

TRIES = 20


def load(store: Store) -> tuple[State, int]:
    """The state of a job and the number of its entries; DamagedRecord when the chain is broken."""
    entries = store.entries()
    verify(entries)
    return fold(events_of(entries)), len(entries)


def write(store: Store, clock: Clock, decide: Callable[[State], list[Event] | Problem]) -> Problem | None:
    """Append what `decide` makes of the present state; a Problem leaves the record as it was.

    Each event is asked of the state that the ones before it leave.
    """
    for attempt in range(TRIES):
        state, count = load(store)
        events = decide(state)
        if isinstance(events, Problem):
            return events
        for event in events:
            problem = refusal(state, event)
            if problem:
                return problem
            state = after(state, event)
        try:
            store.append(events, expected=count, at=clock())
        except StaleVersion:
            if attempt == TRIES - 1:
                raise
        else:
            return None
    return None
