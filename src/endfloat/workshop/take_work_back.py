"""Work of the agreed plan has come back; sending it twice is harmless."""

from __future__ import annotations

from endfloat.decision.plan import work_of
from endfloat.job.description import engine_of
from endfloat.job.events import Event, WorkNotBack, WorkReturned
from endfloat.job.state import State
from endfloat.problems import Problem
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import write


def take_work_back(store: Store, clock: Clock, *, key: str, decision: str, by: str) -> Problem | None:
    """Record that the work agreed for a decision is done; a Problem writes nothing. Bought parts are counted in."""

    def decide(state: State) -> list[Event] | Problem:
        if key in {event.key for event in state.bench}:
            return []
        agreed, opened = state.agreed, state.opened
        if (
            agreed is None
            or opened is None
            or (decision, agreed.choice.get(decision)) not in work_of(engine_of(opened.engine), agreed.choice)
        ):
            what = decision.replace("_", " ") or "work"
            return Problem("not_agreed", what, "no work of an agreed plan", "work of the agreed plan", "Agree first.")
        option = engine_of(opened.engine).decisions[decision].options[agreed.choice[decision]]
        if option.only_buys:
            remedy = "Count them in on the page of the parts."
            return Problem("bought", option.title, "bought parts", "work that a machine shop does", remedy)
        return [WorkReturned(key, decision, agreed.choice[decision], by.strip(), clock())]

    return write(store, clock, decide)


def not_back_after_all(store: Store, clock: Clock, *, key: str, decision: str, reason: str, by: str) -> Problem | None:
    """Record that work is not back after all, with a reason; a Problem writes nothing."""

    def decide(state: State) -> list[Event] | Problem:
        if key in {event.key for event in state.bench}:
            return []
        return [WorkNotBack(key, decision, reason.strip(), by.strip(), clock())]

    return write(store, clock, decide)
