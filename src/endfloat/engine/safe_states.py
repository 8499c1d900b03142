"""Where the crank may stand while the cams of each bank lie how: listed pairs, and what a step needs and changes.

Nothing here knows an engine. Which pairs are safe, what a position is called and what shows it are the description's.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from pydantic import Field

from endfloat.engine.described import Described, Page

CrankState = Literal["unknown", "near", "exact", "blocked"]
CamState = Literal["out", "at rest", "loaded", "timed"]


class CrankWork(Described):
    """What a step needs of the crank, and what it does with it.

    `needs` lists the states in which the step may begin, `needs_at` the positions; blank means any will do. `turns`
    says that the crank is turned: `the short way` from one position to another, or `all round` past every position.
    `becomes` is the state afterwards, at the position `at`; a crank that is turned and becomes nothing stands at an
    unknown angle, one that is not turned stays where it is. `shown_by` is the step that fits the part or tool which
    shows an exact position; it may be the step itself.
    """

    needs: list[CrankState] = Field(default_factory=list)
    needs_at: list[str] = Field(default_factory=list)
    turns: Literal["", "the short way", "all round"] = ""
    becomes: CrankState | None = None
    at: str = ""
    shown_by: str = ""


class CamWork(Described):
    """What a step needs of the cams of one bank, and how they lie afterwards; blank leaves them as they are."""

    needs: list[CamState] = Field(default_factory=list)
    becomes: CamState | None = None


class SafePair(Described):
    """States that are safe together: any of these crank states, at any of these positions, with these cams.

    No `at` means any position. A bank that is not named may lie in any way.
    """

    crank: list[CrankState] = Field(min_length=1)
    at: list[str] = Field(default_factory=list)
    cams: dict[str, list[CamState]] = Field(default_factory=dict)
    why: str = Field(min_length=1)
    page: Page | None = None

    def holds(self, crank: str, at: str, cams: Mapping[str, str]) -> bool:
        """Whether the crank so, at this position, with the cams so, is this pair."""
        return (
            crank in self.crank
            and (not self.at or at in self.at)
            and all(cams[bank] in states for bank, states in self.cams.items())
        )


class Start(Described):
    """How the crank stands and the cams lie before the first step."""

    crank: CrankState = "unknown"
    at: str = ""
    cams: dict[str, CamState] = Field(min_length=1)


class SafeStates(Described):
    """The pairs of crank and cams that are safe.

    Broken when a step begins in a state that it does not take (its `needs`), turns a blocked crank, turns it all round
    while no pair lists an unknown crank with the cams as they lie, or changes crank or cams to what no pair lists.
    `positions` names each position in the words of the trade; `why` says what happens outside the list.
    """

    why: str = Field(min_length=1)
    page: Page | None = None
    positions: dict[str, str] = Field(default_factory=dict)
    start: Start
    pairs: list[SafePair] = Field(min_length=1)

    def lists(self, crank: str, at: str, cams: Mapping[str, str]) -> bool:
        """Whether some pair allows it."""
        return any(pair.holds(crank, at, cams) for pair in self.pairs)
