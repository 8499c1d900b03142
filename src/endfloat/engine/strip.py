"""The models of the strip: what comes off, what it is marked with, what is asked before it is too late."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from endfloat.engine.described import Described, Page
from endfloat.engine.operations import Caution

Points = Literal["front", "rear", "up", "down"]
Shape = Literal["round", "bar", "plate"]
Care = Literal["clean", "crack_test"]


class ComesOff(Described):
    """A part that comes off: the marks that it bears itself, and what is written on its label before it moves."""

    part: str = Field(min_length=1)
    marks: str = ""
    label: str = Field(min_length=1)


class Fasteners(Described):
    """Fasteners of one sort in one place, counted out; `easily_missed` says where they hide."""

    sort: str = Field(min_length=1)
    where: str = ""
    count: int = Field(ge=1)
    easily_missed: str = ""

    @property
    def name(self) -> str:
        """What they are called on the bench and in the record: "M6x25, front corner"."""
        return f"{self.sort}, {self.where}" if self.where else self.sort


class Void(Described):
    """What can not be used again once this is off: how many of it, and what is bought for it.

    `buy` names an item of the price list. `decided_by` names a decision of the plan that buys it in one size or
    another; while the agreed plan buys it there, `buy` is left alone.
    """

    part: str = Field(min_length=1)
    quantity: int = Field(default=1, ge=1)
    why: str = ""
    buy: str = ""
    decided_by: str = ""
    page: Page | None = None


class Choice(Described):
    """One of the two pictures: its words, and where the mark on the part points in the stated view."""

    words: str = Field(min_length=1)
    points: Points


class Orientation(Described):
    """How a part sits, asked as two pictures while it still sits there.

    `view` says from where both pictures are seen; in them the front of the engine is on the left. `shape` is the
    outline that is drawn.
    """

    asks: str = Field(min_length=1)
    view: str = Field(min_length=1)
    shape: Shape = "plate"
    choices: list[Choice] = Field(min_length=2, max_length=2)


class AsFound(Described):
    """A test or reading that this removal makes impossible: a characteristic of the description, or words.

    `at` names places of the characteristic; blank means all of them.
    """

    of: str = ""
    at: list[str] = Field(default_factory=list)
    asks: str = ""
    why: str = ""
    page: Page | None = None


class Gate(Described):
    """What is done to the part before money or a clean engine meets it, and the operations that wait for it.

    `how` names the process; `looks` are ticked one by one first, such as the wear that washing takes away.
    """

    how: str = Field(min_length=1)
    looks: list[str] = Field(default_factory=list)
    cautions: list[Caution] = Field(default_factory=list)
    holds: list[str] = Field(default_factory=list)
    page: Page | None = None


class Slackening(Described):
    """The joint that is slackened, and how: in what order, and by how much at a time.

    A blank `order` is still to look up.
    """

    joint: str
    order: list[str] | None = None
    how: str = Field(min_length=1)
    page: Page | None = None


def _part(value: object) -> object:
    return {"part": value, "label": value} if isinstance(value, str) else value


class Removal(Described):
    """One thing that is taken off and counted out. Its id is the key it stands under; the file's order is the strip's.

    `after` names the removals that must be done first, and `back` the operations of the build that put it back, first
    to last. `photograph` says what a photograph should show; blank asks for none. `attitude` is how the engine hangs
    on its stand.
    """

    title: str = Field(min_length=1)
    at: str = ""
    bank: str = ""
    parts: list[Annotated[ComesOff, BeforeValidator(_part, json_schema_input_type=str | ComesOff)]] = Field(
        min_length=1
    )
    fasteners: list[Fasteners] = Field(default_factory=list)
    slackens: Slackening | None = None
    tools: list[str] = Field(default_factory=list)
    persons: int = Field(default=1, ge=1)
    attitude: str = ""
    cautions: list[Caution] = Field(default_factory=list)
    after: list[str] = Field(default_factory=list)
    as_found: list[AsFound] = Field(default_factory=list)
    orientation: Orientation | None = None
    photograph: str = ""
    void: list[Void] = Field(default_factory=list)
    gates: dict[Care, Gate] = Field(default_factory=dict)
    back: list[str] = Field(default_factory=list)
    why: str = ""
    page: Page | None = None
