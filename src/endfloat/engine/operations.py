"""The models of the work: one operation is one thing a person does and then confirms."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from endfloat.engine.described import Described, Page

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


class Operation(Described):
    """One step. Its id is the key it stands under; a turn of the engine is not a step but follows from `attitude`.

    `at` says where in the engine, in words. `minutes` is the time it takes; waiting is a step of its own.
    `tools` is the set-up in hand and `attitude` how the engine hangs on its stand; blank means any will do.
    `closes` names the spaces that can no longer be reached afterwards, `measures` what is read on the way.
    """

    title: str = Field(min_length=1)
    at: str = ""
    bank: str = ""
    minutes: int = Field(ge=0)
    persons: int = Field(default=1, ge=1)
    tools: list[str] = Field(default_factory=list)
    attitude: str = ""
    cautions: list[Caution] = Field(default_factory=list)
    closes: list[str] = Field(default_factory=list)
    measures: list[str] = Field(default_factory=list)
    why: str = ""
    page: Page | None = None
