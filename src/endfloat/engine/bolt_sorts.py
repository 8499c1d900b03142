"""The models of a sort of bolt: what it is, what stands on it, and what its clamp load is worked out from."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from endfloat.engine.amounts import Amount
from endfloat.engine.described import Described, Page
from endfloat.engine.passes import Feel, WayBack

Lubricated = Literal["dry", "oil", "paste", "sealant"]


class Lubrication(Described):
    """What stands on the thread and under the head when the bolt is pulled; it changes the clamp load.

    `lowest` and `highest` are the coefficients of friction to reckon with in that state.
    """

    thread: Lubricated
    head: Lubricated
    page: Page
    lowest: Amount | None = None
    highest: Amount | None = None

    @property
    def friction(self) -> tuple[str, ...]:
        """Lowest and highest friction as typed; empty where either is blank."""
        return (self.lowest.text, self.highest.text) if self.lowest and self.highest else ()

    @property
    def ends(self) -> tuple[float, ...]:
        """Lowest and highest friction as numbers; empty where either is blank."""
        return (self.lowest.si, self.highest.si) if self.lowest and self.highest else ()

    @property
    def words(self) -> str:
        return f"thread {self.thread}, under the head {self.head}"


class Face(Described):
    """The face that turns on the part or the washer: its outer diameter, and the hole that it stands over."""

    across: Amount
    hole: Amount
    page: Page | None = None


class Grip(Described):
    """From where the stiffness follows: the free length, Young's modulus of the bolt, and the parts beside it.

    `parts` says how many times as stiff as the bolt the clamped parts are.
    """

    length: Amount
    modulus: Amount
    parts: Amount
    page: Page | None = None


class Bolt(Described):
    """One sort of bolt: thread, length under the head, strength class, and whether it may be pulled only once.

    Its own `felt_wrong` goes before that of the joint. `waist` is a shank thinner than the thread. `stiffness` is that
    of bolt and joint together; where it is not known, `grip` will do.
    """

    thread: str = Field(min_length=1)
    length: Amount
    strength: str = Field(alias="class", min_length=1)
    single_use: bool
    lubrication: Lubrication | None = None
    face: Face | None = None
    waist: Amount | None = None
    stiffness: Amount | None = None
    grip: Grip | None = None
    page: Page | None = None
    felt_wrong: dict[Feel, WayBack] = Field(default_factory=dict)
