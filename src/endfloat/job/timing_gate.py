"""The gate before a turn: what is not yet ticked, and how long a wait still lasts."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from endfloat.engine.timing import Condition, Timing
from endfloat.job.timing_events import GateTicked
from endfloat.problems import Problem
from endfloat.quantities.typed_text import Typed, read_typed
from endfloat.quantities.units import Kind


@dataclass(frozen=True, slots=True)
class Shut:
    """One condition that keeps the gate shut; `minutes` are left of a wait that runs."""

    name: str
    short: str
    says: str
    minutes: int | None = None

    @property
    def words(self) -> str:
        """As the shut button tells it: "tappets, 38 minutes"."""
        if self.minutes is None:
            return self.short
        return f"{self.short}, {self.minutes} {'minute' if self.minutes == 1 else 'minutes'}"


def shut(timing: Timing, ticks: Mapping[str, GateTicked], at: str) -> list[Shut]:
    """What keeps the gate shut at a time; empty when it is open."""
    found = []
    for name, condition in timing.gate.items():
        tick = ticks.get(name)
        if tick is None:
            found.append(Shut(name, condition.short, f"{condition.says}: see it, then tick it."))
            continue
        left = minutes_left(condition, tick, at)
        if left:
            says = f"{condition.says}: {left} more {'minute' if left == 1 else 'minutes'} at {tick.temperature}."
            found.append(Shut(name, condition.short, says, left))
    return found


def minutes_left(condition: Condition, tick: GateTicked, at: str) -> int:
    """Whole minutes that a wait still lasts; nought when it is over or the condition is no wait."""
    takes, ago = _takes(condition, tick.temperature), read_typed(tick.ago, kind=Kind.TIME, place="", default_unit="min")
    if takes is None or isinstance(ago, Problem):
        return 0
    gone = (datetime.fromisoformat(at) - datetime.fromisoformat(tick.at)).total_seconds()
    return max(0, math.ceil((takes.si - ago.si - gone) / 60))


def wait_refused(condition: Condition, ago: str, temperature: str) -> Problem | None:
    """Why a tick is refused for its wait; None when it may stand or the condition is no wait."""
    if not condition.waits:
        return None
    began = read_typed(ago, kind=Kind.TIME, place=f"{condition.short}, how long ago it began", default_unit="min")
    if isinstance(began, Problem):
        return began
    warm = read_typed(temperature, kind=Kind.TEMPERATURE, place=f"{condition.short}, how warm", default_unit="°C")
    if isinstance(warm, Problem):
        return warm
    if began.decimal < 0:
        expected = "minutes since it began"
        return Problem("not_begun", condition.short, began.text, expected, "Type how long ago it began.")
    if _takes(condition, temperature) is None:
        coldest = min(condition.waits, key=lambda band: band.from_.exact_si)
        remedy = f"Your service book gives no time for it (page {condition.page}). Warm the engine, then wait."
        return Problem("too_cold", condition.short, warm.text, f"at least {coldest.from_.text}", remedy)
    return None


def _takes(condition: Condition, temperature: str) -> Typed | None:
    """How long the wait takes at a temperature: the warmest band that it reaches."""
    warm = read_typed(temperature, kind=Kind.TEMPERATURE, place="", default_unit="°C")
    if isinstance(warm, Problem):
        return None
    reached = [band for band in condition.waits if band.from_.exact_si <= warm.exact_si]
    return max(reached, key=lambda band: band.from_.exact_si).takes if reached else None
