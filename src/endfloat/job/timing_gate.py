"""The gate before a turn: what is not yet ticked, and which clock still runs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from endfloat.engine.model import Engine
from endfloat.engine.sentences import capital
from endfloat.engine.timing import Condition
from endfloat.job.clock_words import duration, words
from endfloat.job.clocks import Timer, cures_of
from endfloat.job.events import BuildEvent
from endfloat.job.timing_events import GateTicked

NOT_BEGUN = "not begun"


@dataclass(frozen=True, slots=True)
class Wait:
    """One clock that a condition waits for; without a timer it has not begun, and runs from the end of a step."""

    clock: str
    begins: str
    timer: Timer | None

    @property
    def is_over(self) -> bool:
        return self.timer is not None and self.timer.is_over


@dataclass(frozen=True, slots=True)
class Shut:
    """One condition that keeps the gate shut; of a wait the clock that ends last, None before it begins."""

    name: str
    short: str
    says: str
    waits: bool = False
    timer: Timer | None = None

    @property
    def left(self) -> str:
        """What is left of a wait; nothing where it is a tick that is missing."""
        if self.timer:
            return duration(self.timer.seconds_left + 59)
        return NOT_BEGUN if self.waits else ""

    @property
    def words(self) -> str:
        """As the shut button tells it: "tappets, 38 minutes"."""
        return f"{self.short}, {self.left}" if self.left else self.short


@dataclass(frozen=True, slots=True)
class Gate:
    """The gate at one time: what keeps it shut, and the clocks of each condition that waits."""

    shut: tuple[Shut, ...]
    waits: Mapping[str, tuple[Wait, ...]]


def gate_at(engine: Engine, ticks: Mapping[str, GateTicked], building: Sequence[BuildEvent], at: str) -> Gate:
    """The gate at a time, its waits by the clocks of the build."""
    conditions = engine.timing.gate if engine.timing else {}
    cures = cures_of(engine, building, at) if any(each.clocks for each in conditions.values()) else {}
    begins = {each.what: engine.operations[each.cures_from].title for each in engine.relations.clocked}
    waits = {
        name: tuple(Wait(clock, begins[clock], cures.get(clock)) for clock in condition.clocks)
        for name, condition in conditions.items()
    }
    found = [
        _waiting(name, condition, waits[name]) if condition.clocks else _unticked(name, condition, ticks)
        for name, condition in conditions.items()
    ]
    return Gate(tuple(each for each in found if each), waits)


def _unticked(name: str, condition: Condition, ticks: Mapping[str, GateTicked]) -> Shut | None:
    return None if name in ticks else Shut(name, condition.short, f"{condition.says}: see it, then tick it.")


def _waiting(name: str, condition: Condition, waits: Sequence[Wait]) -> Shut | None:
    """The wait that ends last; one that has not begun ends later than all."""
    running = [each for each in waits if not each.is_over]
    if not running:
        return None
    unbegun = next((each for each in running if each.timer is None), None)
    if unbegun:
        says = f"{capital(unbegun.clock)} has not begun: it runs from the end of the step “{unbegun.begins}”."
        return Shut(name, condition.short, says, waits=True)
    last = max((each.timer for each in running if each.timer), key=lambda each: each.seconds_left)
    warmth = " How warm it is there is still to be typed, at the clocks." if last.asks_temperature else ""
    return Shut(name, condition.short, f"{words(last)}{warmth}", waits=True, timer=last)
