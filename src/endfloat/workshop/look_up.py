"""A number that the description left blank is found in the service book and typed at the bench, with its page."""

from __future__ import annotations

import re

from endfloat.job.events import Event
from endfloat.job.joint_events import AmountLookedUp, SequenceLookedUp
from endfloat.job.state import State
from endfloat.problems import Problem
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import write
from endfloat.workshop.tightening import JointView, joint_view


def look_up_amount(
    store: Store,
    clock: Clock,
    *,
    key: str,
    joint: str,
    pass_number: int,
    sort: str,
    bolt: str,
    amount: str,
    page: str,
    by: str,
) -> Problem | None:
    """Record how much a sort of bolt is pulled in a pass; sending it twice is harmless, a Problem writes nothing."""

    def decide(state: State) -> list[Event] | Problem:
        seen = joint_view(state, joint)
        if isinstance(seen, Problem) or seen.recorded_under(key) is not None:
            return seen if isinstance(seen, Problem) else []
        number = page_number(seen, page)
        if isinstance(number, Problem):
            return number
        return [AmountLookedUp(key, joint, pass_number, sort, bolt, amount.strip(), number, by.strip(), clock())]

    return write(store, clock, decide)


def look_up_sequence(
    store: Store, clock: Clock, *, key: str, joint: str, pass_number: int, sequence: str, page: str, by: str
) -> Problem | None:
    """Record the order of a pass (0: of the joint), typed as numbers with spaces or commas between."""

    def decide(state: State) -> list[Event] | Problem:
        seen = joint_view(state, joint)
        if isinstance(seen, Problem) or seen.recorded_under(key) is not None:
            return seen if isinstance(seen, Problem) else []
        number = page_number(seen, page)
        if isinstance(number, Problem):
            return number
        order = tuple(each for each in re.split(r"[\s,;]+", sequence) if each)
        return [SequenceLookedUp(key, joint, pass_number, order, number, by.strip(), clock())]

    return write(store, clock, decide)


def page_number(seen: JointView, page: str) -> int | Problem:
    """The page as a number; a Problem when none was typed."""
    text = page.strip()
    if text.isdecimal() and int(text) > 0:
        return int(text)
    found = f"page `{text}`" if text else "no page"
    remedy = "Type the page; it goes on the record beside the number."
    return Problem("no_page", seen.joint.title, found, "the page of the service book it stands on", remedy)
