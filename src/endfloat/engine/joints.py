"""The models of a joint: its bolts, the order and the passes in which they are pulled, and the ways back."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal

from pydantic import Field

from endfloat.engine.amounts import Amount
from endfloat.engine.described import Described, Page
from endfloat.engine.operations import Caution
from endfloat.quantities.units import Kind

Lubricated = Literal["dry", "oil", "paste", "sealant"]
Side = Literal["left", "right", "top", "bottom", "towards you", "away from you"]
Feel = Literal["no_rise", "stopped_short", "slipped"]


def listed(numbers: Sequence[str]) -> str:
    """Bolts in words: "bolt 8", "bolts 8 and 10"."""
    if len(numbers) == 1:
        return f"bolt {numbers[0]}"
    return f"bolts {', '.join(numbers[:-1])} and {numbers[-1]}"


class Lubrication(Described):
    """What stands on the thread and under the head when the bolt is pulled; it changes the clamp load."""

    thread: Lubricated
    head: Lubricated
    page: Page

    @property
    def words(self) -> str:
        return f"thread {self.thread}, under the head {self.head}"


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


class Pass(Described):
    """One round over the sequence: a torque, or an angle added to what stands already."""

    amount: Amount | None = None
    page: Page
    note: str = ""


class WayBack(Described):
    """What the service book says when a tightening has gone wrong: data, never a rule of the program.

    The passes from `start_again_at` on no longer count for the bolts that were slackened.
    """

    slacken: Literal["all", "this one", "none"]
    renew: Literal["set", "this one", "none"]
    start_again_at: int = Field(ge=1)
    page: Page
    caution: str = ""

    @property
    def words(self) -> str:
        slacken = {"all": "slacken all", "this one": "slacken this bolt", "none": "slacken nothing"}[self.slacken]
        renew = {"set": "renew the whole set", "this one": "renew this bolt", "none": "renew nothing"}[self.renew]
        again = f"start again at pass {self.start_again_at}"
        if self.slacken == "this one":
            again = "pull it again from the start" if self.start_again_at == 1 else f"pull it again from {again[15:]}"
        return f"{slacken}, {renew}, {again} (page {self.page})"


class Bolt(Described):
    """One sort of bolt: thread, length under the head, strength class, and whether it may be pulled only once.

    Its own `felt_wrong` goes before that of the joint.
    """

    thread: str = Field(min_length=1)
    length: Amount
    strength: str = Field(alias="class", min_length=1)
    single_use: bool
    lubrication: Lubrication | None = None
    page: Page | None = None
    felt_wrong: dict[Feel, WayBack] = Field(default_factory=dict)


class Stop(WayBack):
    """A way back after a pause longer than `longest`."""

    longest: Amount


class Interrupted(Described):
    """The rules for a pause inside a pass, and for one between two passes."""

    inside_pass: Stop | None = None
    between_passes: Stop | None = None


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
    """One joint; every bolt that is not `apart` stands in the sequence once."""

    title: str = Field(min_length=1)
    bank: str = ""
    closes: str = Field(min_length=1)
    cautions: list[Caution] = Field(default_factory=list)
    drawing: Drawing
    bolts: dict[str, Bolt] = Field(min_length=1)
    fasteners: list[Fastener] = Field(min_length=1)
    sequence: list[str] = Field(min_length=1)
    page: Page
    passes: list[Pass] = Field(min_length=1)
    interrupted: Interrupted = Interrupted()
    felt_wrong: dict[Feel, WayBack] = Field(default_factory=dict)

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

    def angle_after(self, passes: list[int]) -> float:
        """Degrees a bolt has turned by these passes; a torque adds none that is known."""
        amounts = [each.amount for number, each in enumerate(self.passes, start=1) if number in passes]
        return sum(
            math.degrees(amount.si) for amount in amounts if amount is not None and amount.unit.kind is Kind.ANGLE
        )
