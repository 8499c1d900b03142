"""What happened at the strip. `removal` is the key of the removal in the description."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class AsFoundNoted:
    """Something asked before it became impossible: what was `found`, or the `reason` why it was not looked at."""

    key: str
    removal: str
    asked: str
    found: str
    reason: str
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class PlaceLabelled:
    """A person tied on the labels, with what stands on them; the part still sits in its place."""

    key: str
    removal: str
    labels: tuple[str, ...]
    by: str
    at: str

    def __post_init__(self) -> None:
        # JSON knows lists only; a record read back equals the one written.
        object.__setattr__(self, "labels", tuple(self.labels))


@dataclass(frozen=True, slots=True)
class OrientationChosen:
    """Which of the two pictures the part looked like, in the words of that picture."""

    key: str
    removal: str
    choice: str
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class PhotoBound:
    """A photograph of a place is kept beside the record; `sha256` is the fingerprint of its bytes."""

    key: str
    removal: str
    sha256: str
    media: str
    size: int
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class PhotoLeftOut:
    """There is no photograph of a place, and why."""

    key: str
    removal: str
    reason: str
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class PartRemoved:
    """A part is off: how many fasteners came out of each sort, and an account of every count that is not as expected.

    Whose hand it was is in `by`; `helper` is the second pair of hands where there was one.
    """

    key: str
    removal: str
    out: dict[str, int]
    account: dict[str, str]
    by: str
    at: str
    helper: str = ""


@dataclass(frozen=True, slots=True)
class PartCleaned:
    """A part was cleaned as its gate asks; `looked` are the looks ticked before."""

    key: str
    removal: str
    looked: tuple[str, ...]
    by: str
    at: str

    def __post_init__(self) -> None:
        # JSON knows lists only; a record read back equals the one written.
        object.__setattr__(self, "looked", tuple(self.looked))


@dataclass(frozen=True, slots=True)
class PartCrackTested:
    """A part was tested for cracks; `crack` says where one was found and is blank when none was."""

    key: str
    removal: str
    looked: tuple[str, ...]
    crack: str
    by: str
    at: str

    def __post_init__(self) -> None:
        # JSON knows lists only; a record read back equals the one written.
        object.__setattr__(self, "looked", tuple(self.looked))


@dataclass(frozen=True, slots=True)
class StripAnswerTakenBack:
    """A correction: the answer with the key `answer` no longer counts; it stays in the record."""

    key: str
    removal: str
    answer: str
    reason: str
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class RemovalUndone:
    """A correction: a part was not off after all, or went on again, and with it all that waited for it."""

    key: str
    removal: str
    reason: str
    by: str
    at: str


GateEvent = PartCleaned | PartCrackTested
StripAnswer = AsFoundNoted | PlaceLabelled | OrientationChosen | PhotoBound | PhotoLeftOut | GateEvent
StripEvent = (
    AsFoundNoted
    | PlaceLabelled
    | OrientationChosen
    | PhotoBound
    | PhotoLeftOut
    | PartRemoved
    | PartCleaned
    | PartCrackTested
    | StripAnswerTakenBack
    | RemovalUndone
)
