"""Take parts in as they come, and send back what is wrong; sending an entry twice is harmless."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from endfloat.job.events import Event
from endfloat.job.part_events import PartArrived, PartSentBack
from endfloat.job.parts import PartEvent
from endfloat.job.state import State
from endfloat.problems import Problem
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import write


def take_in(
    store: Store, clock: Clock, *, key: str, part: str, count: str, by: str, looked: Sequence[str] = ()
) -> Problem | None:
    """Record that parts came in, counted and looked at."""
    return write(store, clock, once(PartArrived(key, part, count.strip(), by.strip(), clock(), tuple(looked))))


def send_back(store: Store, clock: Clock, *, key: str, part: str, count: str, reason: str, by: str) -> Problem | None:
    """Record that parts are not here after all."""
    return write(store, clock, once(PartSentBack(key, part, count.strip(), reason.strip(), by.strip(), clock())))


def once(event: PartEvent) -> Callable[[State], list[Event]]:
    """The entry, unless one of its key and sort is on the record."""

    def decide(state: State) -> list[Event]:
        same = [each for each in state.arrivals if each.key == event.key and type(each) is type(event)]
        return [] if same else [event]

    return decide
