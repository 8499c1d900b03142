"""One relation broken by one order, and the order laid out by position."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import accumulate

from endfloat.engine.model import Engine
from endfloat.engine.precedences import quoted

NOT_DONE = 1_000_000_000
"""The position of a step that is not in the order: later than all that are."""


@dataclass(frozen=True, slots=True)
class Violation:
    """What an order breaks: the relation's type, the operations it is about, and the sentence.

    `link` is set where the sentence is no more than "this comes before that"; `freed_by` names the steps that would
    bring crank and cams to where the step may be done.
    """

    relation: str
    operations: tuple[str, ...]
    sentence: str
    link: tuple[str, str] | None = field(default=None, compare=False)
    freed_by: tuple[str, ...] = field(default=(), compare=False)

    def as_json(self) -> dict[str, object]:
        return {"relation": self.relation, "operations": list(self.operations), "sentence": self.sentence}


@dataclass(frozen=True, slots=True)
class Laid:
    """An order, whole or begun: `at` gives each operation's position from 0, `passed` the minutes before it."""

    engine: Engine
    order: tuple[str, ...]
    at: dict[str, int]
    passed: tuple[int, ...]

    def minutes(self, start: int, end: int) -> int:
        """Minutes of the steps from position `start` up to and without `end`."""
        return self.passed[min(end, len(self.order))] - self.passed[min(start, len(self.order))]

    def step(self, operation: str) -> str:
        """The title and where it stands, from 1."""
        at = self.at[operation]
        return f"{quoted(self.engine, operation)} is " + ("not done" if at == NOT_DONE else f"step {at + 1}")


def lay_out(engine: Engine, order: Sequence[str]) -> Laid:
    """Lay out an order whose operations exist and stand once each."""
    at = dict.fromkeys(engine.operations, NOT_DONE)
    at.update((operation, position) for position, operation in enumerate(order))
    passed = accumulate((engine.operations[each].minutes for each in order), initial=0)
    return Laid(engine, tuple(order), at, tuple(passed))
