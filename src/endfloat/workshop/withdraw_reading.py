"""Withdraw a reading with a reason; it stays in the record. Sending it twice is harmless."""

from __future__ import annotations

from endfloat.job.events import Event, ReadingWithdrawn
from endfloat.job.state import State
from endfloat.problems import Problem
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import write


def withdraw_reading(store: Store, clock: Clock, *, key: str, reason: str, by: str) -> Problem | None:
    """Record that the reading no longer counts; a Problem without a reason or when it does not stand."""

    def decide(state: State) -> list[Event] | Problem:
        if not by.strip():
            return Problem("no_name", "reading", "no name", "who withdraws it", "Type a name; it goes on the record.")
        return [] if key in state.withdrawn else [ReadingWithdrawn(key, reason.strip(), by.strip())]

    return write(store, clock, decide)
