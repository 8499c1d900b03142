"""The models of the work: one operation is one thing a person does and then confirms."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BeforeValidator, Field

from endfloat.engine.described import Described, Page
from endfloat.engine.safe_states import CamWork, CrankWork

Severity = Literal["certain serious injury", "possible serious injury", "possible minor injury", "damage only"]
# Signal words as ANSI Z535.4-2007 4.14 defines them, read second-hand on a label maker's public page.
SIGNAL_WORDS: dict[str, str] = {
    "certain serious injury": "DANGER",
    "possible serious injury": "WARNING",
    "possible minor injury": "CAUTION",
    "damage only": "NOTICE",
}


class Caution(Described):
    """What can go wrong on this very step: how badly, with what consequence, and how to avoid it."""

    severity: Severity
    consequence: str = Field(min_length=1)
    avoidance: str = Field(min_length=1)

    @property
    def signal_word(self) -> str:
        """The word above the caution; it follows from the severity and is never typed."""
        return SIGNAL_WORDS[self.severity]

    @property
    def can_hurt(self) -> bool:
        """Whether a person, and not only the work, is at risk."""
        return self.severity != "damage only"


def _measured(value: object) -> object:
    return {"of": value} if isinstance(value, str) else value


class Measured(Described):
    """What a step reads: a characteristic or quantity, at the places named or at all.

    The step is held until each of them is good, or read where no limit speaks of it. In the file a name alone will do.
    With `again` a characteristic is read anew once the steps before this one are done: an earlier reading neither
    frees the step nor speaks for the engine any more.
    """

    of: str
    at: list[str] = Field(default_factory=list)
    again: bool = False


class Pulls(Described):
    """The passes of a joint that a step tightens; it is held until the record has every bolt of them.

    With `closed` it is held until the joint is closed, bolts outside the sequence included.
    """

    joint: str
    passes: list[int] = Field(default_factory=list)
    closed: bool = False


MeasuredOrName = Annotated[Measured, BeforeValidator(_measured, json_schema_input_type=str | Measured)]


class Look(Described):
    """Something to be seen with one's own eyes before a step is done, and by a second person where that is asked.

    In the file the words alone will do.
    """

    what: str = Field(min_length=1)
    second_person: bool = False


class Alteration(Described):
    """What is done for good to a new part on the bench before it goes in: trimmed, reamed, cut, soaked."""

    part: str
    where: str
    why: str
    spare: bool = False


def look_of(value: object) -> object:
    """A look written as its words alone."""
    return {"what": value} if isinstance(value, str) else value


class Compound(Described):
    """Sealant, paste, oil or glue that the step puts on, and the face or thread it goes on."""

    what: str = Field(min_length=1)
    on: str = Field(min_length=1)
    page: Page | None = None


class SubAssembly(Described):
    """Steps that are planned on their own and merged: a head on the bench, rods and pistons, the oil pump."""

    title: str = Field(min_length=1)
    page: Page | None = None


class Operation(Described):
    """One step. Its id is the key it stands under; a turn of the engine is not a step but follows from `attitude`.

    `at` says where in the engine, in words; `assembly` names the sub-assembly it belongs to. `minutes` is the time it
    takes; waiting is a step of its own. `tools` is the set-up in hand and `attitude` how the engine hangs on its stand;
    blank means any will do.
    `closes` names the spaces that can no longer be reached afterwards, `measures` what is read on the way, and
    `pulls` which passes of which joint. `looks` are ticked one by one before the step is done; `alters` says what is
    done for good to a new part. `crank` and `cams` (by bank) say what the step needs of them and changes.
    `shows` names the places that the drawing of the step points at, by family; `mark` is what stands on the part that
    belongs here and is read off it; `compounds` name what is put on which face; `hides` the parts that cannot be seen
    any more and are answered for, each by its condition or as new.
    """

    title: str = Field(min_length=1)
    at: str = ""
    bank: str = ""
    assembly: str = ""
    minutes: int = Field(ge=0)
    persons: int = Field(default=1, ge=1)
    tools: list[str] = Field(default_factory=list)
    attitude: str = ""
    cautions: list[Caution] = Field(default_factory=list)
    closes: list[str] = Field(default_factory=list)
    measures: list[MeasuredOrName] = Field(default_factory=list)
    pulls: Pulls | None = None
    looks: list[Annotated[Look, BeforeValidator(look_of, json_schema_input_type=str | Look)]] = Field(
        default_factory=list
    )
    alters: Alteration | None = None
    crank: CrankWork | None = None
    cams: dict[str, CamWork] = Field(default_factory=dict)
    shows: dict[str, list[str]] = Field(default_factory=dict)
    mark: str = ""
    compounds: list[Compound] = Field(default_factory=list)
    hides: list[str] = Field(default_factory=list)
    why: str = ""
    page: Page | None = None

    @property
    def to_see(self) -> list[Look]:
        """Every look of the step; an alteration asks first for the place and, where there should be one, the spare."""
        if self.alters is None:
            return self.looks
        asked = [f"{self.alters.part}: marked where {self.alters.where}"]
        if self.alters.spare:
            asked.append(f"a second {self.alters.part} is in hand")
        return [*(Look(what=words) for words in asked), *self.looks]
