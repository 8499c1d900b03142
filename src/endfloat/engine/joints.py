"""The models of a joint: where its bolts are, the order and the passes in which they are pulled."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal

from pydantic import Field

from endfloat.engine.amounts import Amount
from endfloat.engine.bolt_sorts import Bolt
from endfloat.engine.described import Described, Page
from endfloat.engine.operations import Caution
from endfloat.engine.passes import Check, Feel, Interrupted, Pass, WayBack
from endfloat.quantities.typed_text import Typed
from endfloat.quantities.units import Kind

Side = Literal["left", "right", "top", "bottom", "towards you", "away from you"]


def listed(numbers: Sequence[str]) -> str:
    """Bolts in words: "bolt 8", "bolts 8 and 10"."""
    if len(numbers) == 1:
        return f"bolt {numbers[0]}"
    return f"bolts {', '.join(numbers[:-1])} and {numbers[-1]}"


class Apart(Described):
    """A fastener pulled on its own, outside the sequence, once pass `after_pass` is complete (0: at any time)."""

    amount: Amount | None = None
    after_pass: int = Field(ge=0)
    page: Page


class Fastener(Described):
    """One bolt in its hole; `x` runs right and `y` down in the stated view.

    `easily_missed` says where it hides; blank means it is in plain sight.
    """

    number: str
    bolt: str
    x: Amount
    y: Amount
    easily_missed: str = ""
    apart: Apart | None = None


class Landmark(Described):
    """A round thing that shows a person where he is: a bore, a journal."""

    name: str = ""
    x: Amount
    y: Amount
    diameter: Amount


class Drawing(Described):
    """How the joint lies in front of the person: the view in words, where the front is, and the outline."""

    view: str = Field(min_length=1)
    front: Side
    top_is_up: bool = False
    outline: list[tuple[Amount, Amount]] = Field(min_length=3)
    landmarks: list[Landmark] = Field(default_factory=list)


class Joint(Described):
    """One joint; every bolt that is not `apart` stands in the sequence once.

    A blank `sequence` is still to look up, on `page` where the description names it. `undone` is the way back when a
    step of the build that tightened it is undone.
    """

    title: str = Field(min_length=1)
    bank: str = ""
    closes: str = Field(min_length=1)
    cautions: list[Caution] = Field(default_factory=list)
    drawing: Drawing
    bolts: dict[str, Bolt] = Field(min_length=1)
    fasteners: list[Fastener] = Field(min_length=1)
    sequence: list[str] | None = None
    page: Page | None = None
    passes: list[Pass] = Field(min_length=1)
    checks: dict[str, Check] = Field(default_factory=dict)
    interrupted: Interrupted = Interrupted()
    felt_wrong: dict[Feel, WayBack] = Field(default_factory=dict)
    undone: WayBack | None = None

    def covered(self, number: int) -> tuple[str, ...]:
        """The bolts that a pass covers; their order is that of the pass where it has one of its own."""
        described = self.passes[number - 1]
        if described.sequence:
            return tuple(described.sequence)
        return tuple(
            each.number
            for each in self.fasteners
            if each.apart is None and (not described.bolts or each.bolt in described.bolts)
        )

    def order(self, number: int) -> tuple[str, ...] | None:
        """The bolts of a pass in the order in which they are pulled; None when that is still to look up."""
        described = self.passes[number - 1]
        if described.sequence:
            return tuple(described.sequence)
        if described.sequence is None or not self.sequence:
            return None
        covered = self.covered(number)
        return tuple(bolt for bolt in self.sequence if bolt in covered)

    def sorts_in(self, number: int) -> tuple[str, ...]:
        """The sorts of bolt that a pass covers, in the order of the file."""
        covered = self.covered(number)
        return tuple(dict.fromkeys(each.bolt for each in self.fasteners if each.number in covered))

    def amount_for(self, number: int, sort: str) -> Typed | None:
        """How much a sort of bolt is pulled in a pass; None when it is still to look up."""
        described = self.passes[number - 1]
        return described.amounts.get(sort, described.amount)

    def last_pass_of(self, bolt: str) -> int:
        """The last pass that covers a bolt; 0 for one pulled apart from the passes."""
        return max((n for n in range(1, len(self.passes) + 1) if bolt in self.covered(n)), default=0)

    def fastener(self, number: str) -> Fastener | None:
        """The fastener of that number."""
        return next((each for each in self.fasteners if each.number == number), None)

    def way_back(self, number: str, feel: Feel) -> WayBack | None:
        """What the service book says of a bolt that felt so: of its sort first, else of the joint."""
        fastener = self.fastener(number)
        own = self.bolts[fastener.bolt].felt_wrong if fastener else {}
        return own.get(feel) or self.felt_wrong.get(feel)

    @property
    def apart(self) -> tuple[Fastener, ...]:
        """Fasteners pulled on their own, in the order of the file."""
        return tuple(each for each in self.fasteners if each.apart is not None)

    @property
    def easily_missed(self) -> tuple[Fastener, ...]:
        """Fasteners that are forgotten, in the order of the file."""
        return tuple(each for each in self.fasteners if each.easily_missed)

    @property
    def single_use(self) -> bool:
        """Whether any of its bolts may be pulled only once."""
        return any(self.bolts[each.bolt].single_use for each in self.fasteners)

    @property
    def drawn_by_angle(self) -> bool:
        """Whether any pass turns by an angle: such a bolt may have yielded, and a wrench would stretch it further."""
        amounts = [amount for each in self.passes for amount in (each.amount, *each.amounts.values())]
        return any(amount is not None and amount.unit.kind is Kind.ANGLE for amount in amounts)

    def angle_after(self, bolt: str, passes: list[int]) -> float:
        """Degrees a bolt has turned by these passes; a torque adds none that is known."""
        fastener = self.fastener(bolt)
        known = [number for number in passes if 1 <= number <= len(self.passes)]
        amounts = [self.amount_for(number, fastener.bolt) for number in known] if fastener else []
        return sum(
            math.degrees(amount.si) for amount in amounts if amount is not None and amount.unit.kind is Kind.ANGLE
        )
