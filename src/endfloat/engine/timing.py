"""The models of cam timing: where the lobes should stand, how they are read, and what must be so before a turn."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from endfloat.engine.amounts import Amount
from endfloat.engine.described import Described, Page

Point = Literal["opens", "closes", "rising", "falling", "centre"]
POINTS: dict[str, tuple[Point, ...]] = {
    "events": ("opens", "closes"),
    "equal lift": ("rising", "falling"),
    "centre": ("centre",),
}


class DeadCentreByStop(Described):
    """How the top dead centre of one cylinder is found: the piston touches a stop on either side of it.

    `seen` says how the right one of its two tops is known, such as "both valves of left 1 are shut". Throw, rod,
    offset of the pin line (blank is none; positive where the crank pin descends) and the drop of the piston at the
    stop put the middle of the two touches right.
    """

    cylinder: str
    seen: str = Field(min_length=1)
    throw: Amount
    rod: Amount
    offset: Amount | None = None
    drop: Amount
    page: Page


class Prediction(Described):
    """A quantity that says how early (positive) or late a cam must stand, at one place, and after what in words."""

    of: str
    at: str
    words: str = Field(min_length=1)


class Cam(Described):
    """One cam and where its lobe centre should stand, in degrees of the crank as service books print them.

    An intake lobe is told after the top at which both valves rock, an exhaust lobe before it; `low` and `high` are the
    limits of the centre. `top_at` is how far the crank turns from the dead centre found to that top of this cylinder.
    `reads` says what is read at the wheel: the two events at the check `lift`, two readings at one equal lift, or the
    centre itself. An intake `opens` before the top and `closes` after the bottom, an exhaust opens before the bottom
    and closes after the top; an event on the other side is negative. `teeth` are those of the wheel on the cam.
    `expected` says by what quantity the work done moves it. A blank number is still to look up.
    """

    title: str = Field(min_length=1)
    bank: str = ""
    valve: Literal["intake", "exhaust"]
    cylinder: str
    top_at: Amount
    reads: Literal["events", "equal lift", "centre"]
    lift: Amount | None = None
    centre: Amount | None = None
    low: Amount | None = None
    high: Amount | None = None
    opens: Amount | None = None
    closes: Amount | None = None
    teeth: int = Field(ge=3)
    expected: Prediction | None = None
    page: Page

    @property
    def points(self) -> tuple[Point, ...]:
        """What is read of it, in the order in which a running crank comes to it."""
        return POINTS[self.reads]


class Condition(Described):
    """Something that must be so before the engine is turned, ticked with a tick of its own.

    `short` names it on the shut button. With `clocks`, the names (`what`) of cures under `clocked`, it is a wait: it
    shuts the gate until all of them are over and has no tick. What must be looked at besides is another condition.
    """

    says: str = Field(min_length=1)
    short: str = Field(min_length=1)
    clocks: list[str] = Field(default_factory=list)
    page: Page


class ConfirmBefore(Described):
    """Cams that are confirmed once more right before a step; any step done in between makes the confirming void."""

    says: str = Field(min_length=1)
    cams: list[str] = Field(min_length=1)
    page: Page


class Overshoot(Described):
    """What to do when the crank went past a reading; a crank turned back has no dead centre any more."""

    says: str = Field(min_length=1)
    page: Page


class Pattern(Described):
    """One line of the diagnosis: which cams are out together, by how much, and what fits that.

    `out` is `all`, `one bank`, `one cam` or the names of cams; every other cam must hold. What is compared is what no
    expectation explains, or the first and the second reading of a cam, or its opening and its closing side. The size
    is an interval, or `whole_teeth` of its own wheel, or a `whole_turn` of the crank.
    """

    out: Literal["all", "one bank", "one cam"] | list[str]
    compares: Literal["with what is expected", "first and second reading", "opening and closing"] = (
        "with what is expected"
    )
    way: Literal["early", "late", "either"] = "either"
    low: Amount | None = None
    high: Amount | None = None
    whole_teeth: bool = False
    whole_turn: bool = False
    fits: str = Field(min_length=1)
    page: Page | None = None


class Timing(Described):
    """How the cams of this engine are timed with a degree wheel on the crank.

    The wheel is read growing the running way. `at` maps a step of the build to the cams that are read at it: the step
    is held until they read good after the `turns`, which are made at the step `turn_at`. `confirm_before` maps a step
    to cams confirmed right before it. Undoing a step of `opened_by` opens the drive: what was read no longer counts.
    After a pause longer than `longest_pause` the wheel is not trusted before dead centre was found again, and the
    gate is ticked anew. Errors that differ by less than `alike` count as the same, and below it as
    none, in the `diagnosis`.
    """

    running_way: str = Field(min_length=1)
    cylinders: str = "cylinder"
    dead_centre: DeadCentreByStop
    cams: dict[str, Cam] = Field(min_length=1)
    gate: dict[str, Condition] = Field(min_length=1)
    turns: int = Field(ge=1)
    turn_at: str = ""
    at: dict[str, list[str]] = Field(default_factory=dict)
    confirm_before: dict[str, ConfirmBefore] = Field(default_factory=dict)
    opened_by: list[str] = Field(default_factory=list)
    overshoot: Overshoot
    longest_pause: Amount
    alike: Amount
    diagnosis: list[Pattern] = Field(default_factory=list)

    def concerns(self, operation: str) -> bool:
        """Whether a step of the build has to do with the timing."""
        return operation in (self.turn_at, *self.at, *self.confirm_before)
