"""What happened at a joint besides its pulls: numbers looked up at the bench, checks, and steps undone."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class AmountLookedUp:
    """A person found in the service book how much a pass is pulled that the description left blank, as typed.

    `sort` is the sort of bolt; `bolt` the fastener where the pass is 0, which is pulled on its own.
    """

    key: str
    joint: str
    pass_number: int
    sort: str
    bolt: str
    amount: str
    page: int
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class SequenceLookedUp:
    """A person found the order of a pass (0: of the whole joint) that the description left blank."""

    key: str
    joint: str
    pass_number: int
    sequence: tuple[str, ...]
    page: int
    by: str
    at: str

    def __post_init__(self) -> None:
        # JSON knows lists only; a record read back equals the one written.
        object.__setattr__(self, "sequence", tuple(self.sequence))


@dataclass(frozen=True, slots=True)
class JointChecked:
    """A check between passes was answered at one place: a reading as typed, or yes or no.

    `within` is what the gauge could tell then, with its unit; blank for a look and for a gauge of no register.
    """

    key: str
    joint: str
    bolts: str
    check: str
    place: str
    text: str
    gauge: str
    within: str
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class JointUndone:
    """A step of the build was undone that had pulled the passes from `first_pass` on (0: had only closed the joint)."""

    key: str
    joint: str
    bolts: str
    step: str
    first_pass: int
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class JointTakenUp:
    """From here one device records this joint; `gave` is who gave it up where another device had it."""

    key: str
    joint: str
    device: str
    by: str
    at: str
    gave: str = ""


LookedUp = AmountLookedUp | SequenceLookedUp
