"""Take parts in as they come, and send back what is wrong; sending an entry twice is harmless."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from endfloat.decision.void import bought_by
from endfloat.engine.parts import BoughtPart
from endfloat.job.description import engine_of
from endfloat.job.events import Event, WorkNotBack, WorkReturned
from endfloat.job.part_events import PartArrived, PartSentBack
from endfloat.job.parts import PartEvent, all_in, expected_of, parts_in
from endfloat.job.state import State, after, refusal
from endfloat.problems import Problem
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import write
from endfloat.workshop.view import View


def parts_expected(state: State) -> dict[str, BoughtPart]:
    """The parts that must come into a job as it stands."""
    return expected_of(state.opened, state.agreed, state.strip) if state.opened else {}


def parts_listed(seen: View) -> dict[str, BoughtPart]:
    """The same, and what is here though nothing expects it any more, so that it can go back."""
    expected, described = parts_expected(seen.state), seen.engine.parts
    here = {name: count for name, count in parts_in(seen.state.arrivals).items() if count and name not in expected}
    return expected | {
        name: described.get(name, BoughtPart(title=title_of(seen, name), count=count)) for name, count in here.items()
    }


def title_of(seen: View, name: str) -> str:
    """What a part is called, also one that nothing expects any more."""
    told = seen.engine.parts | parts_expected(seen.state)
    if name in told:
        return told[name].title
    return seen.prices.items[name].title if seen.prices and name in seen.prices.items else name


def take_in(
    store: Store, clock: Clock, *, key: str, part: str, count: str, by: str, looked: Sequence[str] = ()
) -> Problem | None:
    """Record that parts came in, counted and looked at."""
    return write(store, clock, once(PartArrived(key, part, count.strip(), by.strip(), clock(), tuple(looked))))


def send_back(store: Store, clock: Clock, *, key: str, part: str, count: str, reason: str, by: str) -> Problem | None:
    """Record that parts are not here after all."""
    return write(store, clock, once(PartSentBack(key, part, count.strip(), reason.strip(), by.strip(), clock())))


def once(event: PartEvent) -> Callable[[State], list[Event]]:
    """The entry with what it answers, unless one of its key and sort is on the record."""

    def decide(state: State) -> list[Event]:
        if any(each.key == event.key and type(each) is type(event) for each in state.arrivals):
            return []
        if refusal(state, event):
            return [event]
        changed = after(state, event)
        if isinstance(event, PartArrived):
            return [event, *work_come_in(changed, key=event.key, by=event.by, at=event.at)]
        gone = [name for name, is_in in receipts(changed).items() if not is_in and name in changed.returned]
        touched = [name for name in gone if receipts(state)[name]]
        return [event, *(WorkNotBack(f"{event.key}/{n}", n, event.reason, event.by, event.at) for n in touched)]

    return decide


def receipts(state: State) -> dict[str, bool]:
    """Each decision of the agreed plan whose work is only buying, and whether all that it buys is in."""
    if state.opened is None or state.agreed is None:
        return {}
    engine, expected, here = engine_of(state.opened.engine), parts_expected(state), parts_in(state.arrivals)
    bought = bought_by(engine, state.agreed.choice)
    return {
        name: all_in(engine, expected, here, option.catalogue) for name, option in bought.items() if option.only_buys
    }


def work_come_in(state: State, *, key: str, by: str, at: str) -> list[Event]:
    """The work that is only buying is back when its parts are in: they are counted once, and nobody says it twice."""
    return [
        WorkReturned(f"{key}/{name}", name, state.agreed.choice[name], by, at)
        for name, is_in in receipts(state).items()
        if is_in and name not in state.returned and state.agreed is not None
    ]
