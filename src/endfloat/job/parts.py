"""The parts of a job: how many of each are in, what is expected, and which steps wait for them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping

from endfloat.assembly.violations import Violation
from endfloat.decision.prices import Item, Prices
from endfloat.decision.void import bought_by, counted, options_of, renewal, whole_strip
from endfloat.engine.model import Engine
from endfloat.engine.parts import BoughtPart
from endfloat.engine.strip import Void
from endfloat.job.description import engine_of, prices_of
from endfloat.job.events import JobOpened, PlanAgreed
from endfloat.job.part_events import PartArrived, PartSentBack
from endfloat.job.strip import stripped
from endfloat.job.strip_events import StripEvent
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


def expected_of(opened: JobOpened, agreed: PlanAgreed | None, strip: Iterable[StripEvent]) -> dict[str, BoughtPart]:
    """The parts that must come into a job as it stands."""
    engine = engine_of(opened.engine)
    off = stripped(engine, strip).off
    return expected_parts(engine, agreed.choice if agreed else None, prices_of(opened.prices, opened.engine), off)


def expected_parts(
    engine: Engine, choice: Mapping[str, str] | None, prices: Prices | None = None, off: Collection[str] = ()
) -> dict[str, BoughtPart]:
    """The parts that must come in: those always bought, those of the agreed choice, and what removal makes void.

    The description says how some are counted and looked at. Any other is named as its line of the price list is, and
    what stands in for a void part is held against the old one.
    """
    bought = lines_bought(engine, choice, prices, off)
    chosen = options_of(engine, choice or {}).values()
    lines = bought.keys() | {item for option in chosen for item in option.catalogue}
    told = {
        name: part for name, part in engine.parts.items() if part.always or not part.items or lines & set(part.items)
    }
    described = {item for name, part in engine.parts.items() for item in (name, *part.items)}
    return told | {item: part for item, part in bought.items() if item not in described}


def lines_bought(
    engine: Engine, choice: Mapping[str, str] | None, prices: Prices | None, off: Collection[str]
) -> dict[str, BoughtPart]:
    """What the choice buys, and what is bought for what is off (with a choice: for the whole strip), by line.

    What is fitted is not a part to count in: it may be an hour of filing. What is void and has no line stands under a
    name of its own.
    """
    voids = [each for each in whole_strip(engine) if choice is not None or each[1] in off]
    planned, found = bought_by(engine, choice or {}), renewal(engine, prices, choice, voids)
    for_line: dict[str, list[Void]] = {line.item: [void for void, _ in line.voids] for line in found.lines}
    times = Counter({line.item: line.times for line in found.lines})
    for name, option in planned.items():
        renewed = [void for void, _ in voids if void.decided_by == name]
        for item in option.catalogue if option.only_buys or renewed else ():
            for_line.setdefault(item, []).extend(renewed)
            times[item] += 1
    parts = {item: _as_line(item, times[item], prices, each) for item, each in for_line.items()}
    for void, removal in found.without_price:
        name = f"{removal}.{engine.strip[removal].void.index(void) + 1}"
        parts[name] = BoughtPart(title=void.part, count=void.quantity, looks=[held_against([void])])
    return parts


def _as_line(item: str, times: int, prices: Prices | None, voids: Iterable[Void]) -> BoughtPart:
    """A line of the price list as parts to count in."""
    listed = prices.items[item] if prices else Item(item, 0, 0)
    looks = [held_against([void]) for void in voids]
    return BoughtPart(title=listed.title, count=times * listed.pieces, items=[item], looks=list(dict.fromkeys(looks)))


def held_against(voids: Iterable[Void]) -> str:
    """The look at a part that stands in for an old one."""
    return f"held against the old: {counted(voids)}"


def all_in(engine: Engine, expected: Mapping[str, BoughtPart], here: Mapping[str, int], items: Iterable[str]) -> bool:
    """Whether every part that is counted in for these lines of the price list has come."""
    wanted = {name for item in items for name in parts_of(engine, item)}
    return all(name in expected and here.get(name, 0) >= expected[name].count for name in wanted)


def parts_of(engine: Engine, item: str) -> list[str]:
    """The parts that are counted in for a line: those that the description names for it, or the line itself."""
    return [name for name, part in engine.parts.items() if item == name or item in part.items] or [item]


def part_holds(expected: Mapping[str, BoughtPart], events: Iterable[PartEvent], operation: str) -> list[Violation]:
    """Why a step waits for parts; empty when all that it fits are in."""
    here = parts_in(events)
    return [
        Violation(ARRIVED, (operation,), f"{part.title}: {here.get(name, 0)} of {part.count} are in.")
        for name, part in expected.items()
        if operation in part.fitted_by and here.get(name, 0) < part.count
    ]


def part_refusal(known: Mapping[str, BoughtPart], events: tuple[PartEvent, ...], event: PartEvent) -> Problem | None:
    """Why this may not be recorded; None when it may. What is here may go back though nothing expects it any more."""
    here = parts_in(events).get(event.part, 0)
    part = known.get(event.part)
    if part is None and isinstance(event, PartSentBack) and here:
        part = BoughtPart(title=event.part, count=here)
    if part is None:
        return Problem("unknown_part", "parts", f"`{event.part}`", "a part of this engine", "Choose it from the list.")
    if event.key in {each.key for each in events}:
        return Problem("key_used", part.title, "a key used before", "a new key", "Send it under a new key.")
    if not event.by.strip():
        return Problem("no_name", part.title, "no name", "who says so", "Type a name; it goes on the record.")
    if not event.count.isdecimal() or int(event.count) == 0:
        found = f"`{event.count}`" if event.count.strip() else "no count"
        return Problem("no_count", part.title, found, "a whole number, 1 or more", "Count them, then type the number.")
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
