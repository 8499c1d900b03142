"""What the strip has made void or will, and what is bought for it beside what the plan buys already."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from endfloat.decision.void import (
    Renewal,
    VoidTold,
    bought_by,
    counted,
    renewal,
    renewal_of,
    void_told,
    whole_strip,
)
from endfloat.engine.model import Option
from endfloat.engine.strip import Void
from endfloat.job.parts import all_in, parts_in
from endfloat.workshop.sheets import described
from endfloat.workshop.strip import strip_of
from endfloat.workshop.take_in_parts import parts_expected
from endfloat.workshop.view import View


@dataclass(frozen=True, slots=True)
class VoidRow:
    """One sort of part that can no longer be used: how many, what, since which removal, and how it is had again."""

    quantity: int
    part: str
    why: str
    since: str
    bought: str


@dataclass(frozen=True, slots=True)
class Bought:
    """An item of the price list to be bought, how often, and what for."""

    item: str
    times: int
    use: str


def void_rows(seen: View, choice: Mapping[str, str] | None) -> list[VoidRow]:
    """Everything void so far, in the order in which it came off. `choice` is that of the agreed plan, if any."""
    strip, planned = strip_of(seen.state), bought_by(described(seen), choice or {})
    return [
        VoidRow(void.quantity, void.part, void.why, strip.removal(name).title, _bought(seen, void, choice, planned))
        for void, name in strip.void
    ]


def _bought(seen: View, void: Void, choice: Mapping[str, str] | None, planned: Mapping[str, Option]) -> str:
    if void.decided_by in planned:
        return f"the agreed plan buys: {planned[void.decided_by].title}"
    if void.decided_by and choice is None:
        return "the plan decides which; none is agreed yet"
    if void.buy and seen.prices is not None:
        return f"to buy: {seen.prices.items[void.buy].title}"
    return "nothing names what is bought for it, so it has no price: add it to your own list"


def void_renewal(seen: View, choice: Mapping[str, str] | None) -> Renewal:
    """What is void so far; with an agreed choice what the whole strip makes void, since that was agreed to."""
    voids = strip_of(seen.state).void if choice is None else whole_strip(described(seen))
    return renewal(described(seen), seen.prices, choice, voids)


def void_purchases(seen: View, choice: Mapping[str, str] | None) -> list[Bought]:
    """What is still to come for what is void, whole purchases only, less those of the same item that the plan buys."""
    if seen.prices is None:
        return []
    off, expected, here = strip_of(seen.state).stands.off, parts_expected(seen.state), parts_in(seen.state.arrivals)
    bought = []
    for line in void_renewal(seen, choice).lines:
        if all_in(described(seen), expected, here, [line.item]):
            continue
        since = counted(void for void, name in line.voids if name in off)
        later = counted(void for void, name in line.voids if name not in off)
        told = [words + each for words, each in (("void since the strip: ", since), ("void once off: ", later)) if each]
        bought.append(Bought(line.item, line.times, "; ".join(told)))
    return bought


def told_beside(seen: View, choice: Mapping[str, str], low: int, high: int | None) -> VoidTold | None:
    """What comes on top of the price of a choice for what removal makes void."""
    if seen.prices is None:
        return None
    return void_told(seen.prices, renewal_of(described(seen), seen.prices, choice), low, high)


def days_with_void(seen: View, choice: Mapping[str, str], days: int) -> int:
    """Working days until all of a plan and all that removal makes void is on the bench."""
    if seen.prices is None:
        return days
    return max(days, renewal_of(described(seen), seen.prices, choice).days(seen.prices))
