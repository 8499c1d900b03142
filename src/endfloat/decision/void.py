"""What removal makes void: what is bought for it beside what a plan buys, what that costs, and how it is told."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from endfloat.decision.plan import work_of
from endfloat.decision.prices import Prices
from endfloat.engine.model import Engine, Option
from endfloat.engine.strip import Void

Voids = Iterable[tuple[Void, str]]


@dataclass(frozen=True, slots=True)
class VoidLine:
    """An item of the price list, how often it is bought, and what it is for: each part with its removal."""

    item: str
    times: int
    voids: tuple[tuple[Void, str], ...]

    @property
    def words(self) -> str:
        """What it is for: "16 × left stem seal, 16 × right stem seal"."""
        return counted(void for void, _ in self.voids)


@dataclass(frozen=True, slots=True)
class Renewal:
    """What is bought beside the plan for what removal makes void; for `without_price` nothing to buy is named."""

    lines: tuple[VoidLine, ...] = ()
    without_price: tuple[tuple[Void, str], ...] = ()

    def cost(self, prices: Prices) -> int:
        """In hundredths of the currency."""
        return sum(line.times * prices.items[line.item].price for line in self.lines)

    def days(self, prices: Prices) -> int:
        """Working days until the slowest is on the bench."""
        return max((prices.items[line.item].days for line in self.lines), default=0)


def counted(voids: Iterable[Void]) -> str:
    """How many of each part, each part once."""
    pieces: dict[str, int] = {}
    for void in voids:
        pieces[void.part] = pieces.get(void.part, 0) + void.quantity
    return ", ".join(f"{count} × {part}" for part, count in pieces.items())


def whole_strip(engine: Engine) -> list[tuple[Void, str]]:
    """Everything that a full strip makes void, each with the removal that ends it."""
    return [(void, name) for name, removal in engine.strip.items() for void in removal.void]


def options_of(engine: Engine, choice: Mapping[str, str]) -> dict[str, Option]:
    """The options of a choice that mean work, by decision; what a changed description no longer knows is left out."""
    known = {n: key for n, key in choice.items() if n in engine.decisions and key in engine.decisions[n].options}
    return {name: engine.decisions[name].options[key] for name, key in work_of(engine, known)}


def bought_by(engine: Engine, choice: Mapping[str, str]) -> dict[str, Option]:
    """The options of a choice that buy parts, by decision."""
    return {name: option for name, option in options_of(engine, choice).items() if option.buys}


def renewal(engine: Engine, prices: Prices | None, choice: Mapping[str, str] | None, voids: Voids) -> Renewal:
    """What to buy for what is void, in whole purchases, less those of the same item that the plan buys.

    While there is no choice, what a decision buys in one size or another is left to it.
    """
    planned = bought_by(engine, choice or {})
    wanted: dict[str, list[tuple[Void, str]]] = {}
    nameless = []
    for void, removal in voids:
        if void.decided_by in planned or (void.decided_by and choice is None):
            continue
        if void.buy:
            wanted.setdefault(void.buy, []).append((void, removal))
        else:
            nameless.append((void, removal))
    already = Counter(item for option in planned.values() for item in option.catalogue)
    lines = []
    for item, each in wanted.items():
        pieces = prices.items[item].pieces if prices else 1
        times = -(-sum(void.quantity for void, _ in each) // pieces) - already[item]
        if times > 0:
            lines.append(VoidLine(item, times, tuple(each)))
    return Renewal(tuple(lines), tuple(nameless))


def renewal_of(engine: Engine, prices: Prices, choice: Mapping[str, str]) -> Renewal:
    """What a full strip asks to be bought beside the plan, whatever of it is done already."""
    return renewal(engine, prices, choice, whole_strip(engine))


@dataclass(frozen=True, slots=True)
class VoidTold:
    """The same in words, beside the price of a plan; blank where there is nothing to tell."""

    price: str
    together: str
    rows: tuple[tuple[str, str, str], ...]
    without_price: str


def void_told(prices: Prices, bought: Renewal, low: int, high: int | None, agreed: int | None = None) -> VoidTold:
    """What comes on top of a plan of `low` to `high` (none: or more), at the price that was `agreed` if one was."""
    extra = bought.cost(prices) if agreed is None else agreed
    rows = tuple(
        (times_words(line.times, prices.items[line.item].title), line.words, prices.shown(line.times * price))
        for line in bought.lines
        for price in [prices.items[line.item].price]
    )
    together = prices.ranged(low + extra, None if high is None else high + extra)
    nameless = counted(void for void, _ in bought.without_price)
    return VoidTold(prices.shown(extra) if extra else "", together, rows, nameless)


def times_words(times: int, title: str) -> str:
    """A line of the purchases in words."""
    return title if times == 1 else f"{times} × {title}"
