"""The parts of a job: how many of each are in, what is expected, and which steps wait for them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from endfloat.assembly.violations import Violation
from endfloat.engine.model import Engine
from endfloat.engine.parts import BoughtPart
from endfloat.job.part_events import PartArrived, PartSentBack
from endfloat.problems import Problem

ARRIVED = "arrived"
PartEvent = PartArrived | PartSentBack


def parts_in(events: Iterable[PartEvent]) -> dict[str, int]:
    """How many of each part are in."""
    here: dict[str, int] = {}
    for event in events:
        change = int(event.count) if isinstance(event, PartArrived) else -int(event.count)
        here[event.part] = here.get(event.part, 0) + change
    return here


def expected_parts(engine: Engine, choice: Mapping[str, str] | None) -> dict[str, BoughtPart]:
    """The parts that must come in: those always bought, and those that the agreed choice buys."""
    bought = {
        item
        for decision, option in (choice or {}).items()
        if decision in engine.decisions and option in engine.decisions[decision].options
        for item in engine.decisions[decision].options[option].catalogue
    }
    return {name: part for name, part in engine.parts.items() if not part.items or bought & set(part.items)}


def part_holds(
    engine: Engine, choice: Mapping[str, str] | None, events: Iterable[PartEvent], operation: str
) -> list[Violation]:
    """Why a step waits for parts; empty when all that it fits are in."""
    here = parts_in(events)
    return [
        Violation(ARRIVED, (operation,), f"{part.title}: {here.get(name, 0)} of {part.count} are in.")
        for name, part in expected_parts(engine, choice).items()
        if operation in part.fitted_by and here.get(name, 0) < part.count
    ]


def part_refusal(engine: Engine, events: tuple[PartEvent, ...], event: PartEvent) -> Problem | None:
    """Why this may not be recorded; None when it may."""
    part = engine.parts.get(event.part)
    if part is None:
        return Problem("unknown_part", "parts", f"`{event.part}`", "a part of this engine", "Choose it from the list.")
    if event.key in {each.key for each in events}:
        return Problem("key_used", part.title, "a key used before", "a new key", "Send it under a new key.")
    if not event.by.strip():
        return Problem("no_name", part.title, "no name", "who says so", "Type a name; it goes on the record.")
    if not event.count.isdecimal() or int(event.count) == 0:
        found = f"`{event.count}`" if event.count.strip() else "no count"
        return Problem("no_count", part.title, found, "a whole number, 1 or more", "Count them, then type the number.")
    here = parts_in(events).get(event.part, 0)
    if isinstance(event, PartSentBack):
        if not event.reason.strip():
            return Problem("no_reason", part.title, "no reason", "a reason", "Say in a word or two why.")
        if int(event.count) > here:
            return Problem(
                "not_here", part.title, f"{event.count} sent back", f"at most {here}, which are in", "Count."
            )
        return None
    if here + int(event.count) > part.count:
        found, expected = f"{event.count} more with {here} in", f"{part.count} in all"
        return Problem("too_many", part.title, found, expected, "Count again; a spare is not taken in here.")
    unseen = [look for look in part.looks if look not in event.looked]
    if unseen:
        return Problem("not_looked", part.title, f"not ticked: {'; '.join(unseen)}", "every look ticked", "Look first.")
    return None
