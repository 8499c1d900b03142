"""What things cost and how long they take, by catalogue id."""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from endfloat.engine.model import Engine, Option
from endfloat.engine.positions import Located, Path, read_yaml
from endfloat.problems import Problem, quoted

_PRICE = re.compile(r"^\d{1,9}(?:[.,]\d{1,2})?$")
_DAYS = re.compile(r"^\d{1,4}$")
_PIECES = re.compile(r"^[1-9]\d{0,3}$")
ITEM_WORDS = ("title", "price", "days", "note", "pieces")


@dataclass(frozen=True, slots=True)
class Item:
    """One thing to be had: price in hundredths of the currency, working days until it is on the bench.

    `pieces` is how many parts one purchase holds.
    """

    title: str
    price: int
    days: int
    note: str = ""
    pieces: int = 1


@dataclass(frozen=True, slots=True)
class Prices:
    """A price list."""

    currency: str
    items: Mapping[str, Item]

    def of(self, option: Option) -> int:
        """What an option costs, in hundredths."""
        return sum(self.items[key].price for key in option.catalogue)

    def days(self, option: Option) -> int:
        """Working days of an option; its items are ordered together."""
        return max((self.items[key].days for key in option.catalogue), default=0)

    def shown(self, hundredths: int) -> str:
        """An amount with its currency."""
        whole = Decimal(hundredths) / 100
        return f"{whole:,.2f}".removesuffix(".00") + f" {self.currency}"

    def ranged(self, low: int, high: int | None) -> str:
        """An amount, or the range it lies in; `high` is none where nothing bounds it."""
        if high is None:
            return f"{self.shown(low)} or more"
        return self.shown(low) + (f" to {self.shown(high)}" if high != low else "")


def read_prices(raw: bytes, *, name: str, engine: Engine) -> Prices | list[Problem]:
    """Read a price list; every problem at once, also what the engine's options want and the list lacks."""
    located = read_yaml(raw, name=name)
    if isinstance(located, list):
        return located
    data = located.data
    if (
        not isinstance(data, dict)
        or not isinstance(data.get("items"), dict)
        or not isinstance(data.get("currency"), str)
    ):
        expected = "`currency:` and `items:`"
        return [located.problem("not_prices", (), found="another sort of file", expected=expected, remedy="Add them.")]
    problems: list[Problem] = []
    items: dict[str, Item] = {}
    for key, entry in data["items"].items():
        answer = _item(located, ("items", key), entry)
        if isinstance(answer, Item):
            items[key] = answer
        else:
            problems += answer
    known = set(data["items"])
    wanted: dict[str, str] = {}
    for decision, described in engine.decisions.items():
        for option, each in described.options.items():
            for item in each.catalogue:
                wanted.setdefault(item, f"{decision}.{option}")
    for removal, step in engine.strip.items():
        for void in step.void:
            if void.buy:
                wanted.setdefault(void.buy, f"strip.{removal}")
    for item, user in wanted.items():
        if item not in known:
            near = difflib.get_close_matches(item, known, n=1)
            remedy = f"Did you mean `{near[0]}`?" if near else "Add it to the price list."
            found = f"no `{item}`, which {user} of the engine wants"
            problems.append(located.problem("no_price", ("items",), found=found, expected="its price", remedy=remedy))
    return problems or Prices(data["currency"], items)


def _item(located: Located, path: Path, entry: object) -> Item | list[Problem]:
    if not isinstance(entry, dict):
        return [located.problem("not_an_item", path, found="no map", expected="title, price, days", remedy="Add them.")]
    problems = [
        located.problem(
            "unknown_word", (*path, word), found=f"`{word}`", expected=", ".join(ITEM_WORDS), remedy="Remove it."
        )
        for word in entry
        if word not in ITEM_WORDS
    ]
    price, days = str(entry.get("price") or ""), str(entry.get("days") or "")
    if not _PRICE.match(price):
        expected = "an amount with at most two decimals, such as 560.00"
        problems.append(
            located.problem("no_price", (*path, "price"), found=quoted(price), expected=expected, remedy="Type it so.")
        )
    if not _DAYS.match(days):
        problems.append(
            located.problem(
                "no_days", (*path, "days"), found=quoted(days), expected="whole working days", remedy="Type a number."
            )
        )
    pieces = str(entry.get("pieces") or "1")
    if not _PIECES.match(pieces):
        expected = "how many parts one purchase holds, 1 or more"
        problems.append(
            located.problem(
                "no_pieces", (*path, "pieces"), found=quoted(pieces), expected=expected, remedy="Type a number."
            )
        )
    if problems:
        return problems
    hundredths = int(Decimal(price.replace(",", ".")) * 100)
    return Item(str(entry.get("title") or path[-1]), hundredths, int(days), str(entry.get("note") or ""), int(pieces))
