"""What the strip has made void, and what is bought for it beside what the plan buys already."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from endfloat.decision.plan import work_of
from endfloat.engine.model import Option
from endfloat.engine.strip import Void
from endfloat.workshop.sheets import described
from endfloat.workshop.strip import strip_of
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


def bought_by_plan(seen: View, choice: Mapping[str, str]) -> dict[str, Option]:
    """The options of a choice that buy parts, by decision."""
    engine = described(seen)
    options = {name: engine.decisions[name].options[key] for name, key in work_of(engine, dict(choice))}
    return {name: option for name, option in options.items() if option.sort in ("replace", "fit") and option.catalogue}


def void_rows(seen: View, choice: Mapping[str, str] | None) -> list[VoidRow]:
    """Everything void so far, in the order in which it came off. `choice` is that of the agreed plan, if any."""
    strip, planned = strip_of(seen.state), bought_by_plan(seen, choice or {})
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
    return "nothing names what is bought for it: add it to your own list"


def void_purchases(seen: View, choice: Mapping[str, str] | None) -> list[Bought]:
    """What to buy for what is void, whole purchases only, less those of the same item that the plan buys."""
    if seen.prices is None:
        return []
    planned = bought_by_plan(seen, choice or {})
    wanted: Counter[str] = Counter()
    uses: dict[str, dict[str, int]] = {}
    for void, _ in strip_of(seen.state).void:
        if void.decided_by in planned or (void.decided_by and choice is None) or not void.buy:
            continue
        wanted[void.buy] += void.quantity
        parts = uses.setdefault(void.buy, {})
        parts[void.part] = parts.get(void.part, 0) + void.quantity
    already = Counter(item for option in planned.values() for item in option.catalogue)
    bought = []
    for item, pieces in wanted.items():
        times = -(-pieces // seen.prices.items[item].pieces) - already[item]
        if times > 0:
            told = ", ".join(f"{count} × {part}" for part, count in uses[item].items())
            bought.append(Bought(item, times, f"void since the strip: {told}"))
    return bought
