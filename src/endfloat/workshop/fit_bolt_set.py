"""Put a named set of bolts into a joint, and say what is on their threads; sending it twice is harmless."""

from __future__ import annotations

from endfloat.engine.joints import Joint
from endfloat.job.events import BoltSetFitted, Event
from endfloat.job.state import State
from endfloat.problems import Problem
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import write
from endfloat.workshop.tightening import joint_view


def fit_bolt_set(
    store: Store, clock: Clock, *, key: str, joint: str, bolts: str, stated: dict[str, tuple[str, str]], by: str
) -> Problem | None:
    """Record the set that is in; `stated` holds thread and head by sort of bolt. A Problem writes nothing."""

    def decide(state: State) -> list[Event] | Problem:
        seen = joint_view(state, joint)
        if isinstance(seen, Problem):
            return seen
        if seen.recorded_under(key) is not None:
            return []
        words = lubrication_as_stated(seen.joint, stated)
        if isinstance(words, Problem):
            return words
        return [BoltSetFitted(key, joint, bolts.strip(), words, by.strip(), clock())]

    return write(store, clock, decide)


def sorts_in_sequence(joint: Joint) -> list[str]:
    """The sorts of bolt whose lubrication a person states before the first pull."""
    wanted = [each.bolt for each in joint.fasteners if each.apart is None]
    return list(dict.fromkeys(wanted))


def lubrication_as_stated(joint: Joint, stated: dict[str, tuple[str, str]]) -> str | Problem:
    """What was said, in words; a Problem when it was not said or the service book says otherwise."""
    words = []
    for sort in sorts_in_sequence(joint):
        thread, head = stated.get(sort, ("", ""))
        name = sort.replace("_", " ")
        if not thread or not head:
            return Problem(
                "lubrication_unknown",
                joint.title,
                f"nothing said of thread and head of the {name}",
                "dry, oil, paste or sealant for each",
                "Look at the bolts in your hand and say it: it changes the clamp load more than the wrench does.",
            )
        book = joint.bolts[sort].lubrication
        if book is not None and (thread, head) != (book.thread, book.head):
            return Problem(
                "lubrication_differs",
                joint.title,
                f"{name}: thread {thread}, under the head {head}",
                f"{book.words}, page {book.page}",
                "Clean the bolts and bring them to what your service book says; the torque holds for that alone.",
            )
        words.append(f"{name}: thread {thread}, under the head {head}")
    return "; ".join(words)
