"""The strip as it stands, and what a person records there: answers, counts, gates and corrections."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace

from endfloat.engine.model import Engine
from endfloat.engine.strip import Gate, Removal, Void
from endfloat.job.description import engine_of
from endfloat.job.events import Event
from endfloat.job.state import State
from endfloat.job.strip import (
    Asked,
    Spot,
    Stripped,
    as_found_open,
    frees,
    next_off,
    stripped,
    waited_for,
    waits_for,
)
from endfloat.job.strip_events import PartCrackTested, StripEvent
from endfloat.problems import Problem
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import write


@dataclass(frozen=True, slots=True)
class Strip:
    """How the strip of a job stands: its removals, what is off, and what gauges have read."""

    engine: Engine
    stands: Stripped
    events: tuple[StripEvent, ...]
    read: Collection[Spot]
    left: Collection[tuple[str, str]]

    @property
    def next(self) -> str | None:
        """The removal to do next."""
        return next_off(self.engine, self.stands.off)

    @property
    def begun(self) -> bool:
        """Whether anything was recorded at the strip."""
        return bool(self.events)

    @property
    def waits_now(self) -> bool:
        """Whether the strip is what the job waits for: begun, or nothing read yet, and not all off.

        An engine that came to the job in pieces has readings and no strip on the record.
        """
        return self.next is not None and (self.begun or not self.read)

    def removal(self, name: str) -> Removal:
        """A removal of the description."""
        return self.engine.strip[name]

    def number(self, name: str) -> int:
        """Where a removal stands in the file, from 1."""
        return list(self.engine.strip).index(name) + 1

    def open_questions(self, name: str) -> list[Asked]:
        """What must be noted before this is off."""
        return as_found_open(self.engine, self.removal(name), self.stands.of(name), self.read, self.left)

    def waits(self, name: str) -> list[str]:
        """What must come off before this."""
        return waits_for(self.engine, self.stands.off, name)

    def frees(self, name: str) -> list[str]:
        """What can be taken off now to come nearer to this."""
        return frees(self.engine, self.stands.off, name)

    def falls(self, name: str) -> list[str]:
        """What is undone with this."""
        return waited_for(self.engine, self.stands.off, name)

    @property
    def void(self) -> list[tuple[Void, str]]:
        """What can no longer be used, each with the removal that ended it, in the order in which it came off."""
        return [(each, name) for name in self.stands.off for each in self.removal(name).void]

    @property
    def gates(self) -> list[tuple[str, str, Gate]]:
        """The gates still open of what is off: removal, care, and what is asked. A crack keeps its gate open."""
        return [
            (name, care, gate)
            for name in self.stands.off
            for care, gate in self.removal(name).gates.items()
            if self.is_open(name, care)
        ]

    def is_open(self, name: str, care: str) -> bool:
        """Whether a gate of a part is not passed."""
        answer = self.stands.of(name).gates.get(care)
        return answer is None or (isinstance(answer, PartCrackTested) and bool(answer.crack))


def strip_of(state: State) -> Strip:
    """How the strip of a job stands."""
    engine = engine_of(state.opened.engine if state.opened else "")
    read = frozenset((r.characteristic, r.place, r.station, r.axis) for r in state.standing)
    return Strip(engine, stripped(engine, state.strip), state.strip, read, frozenset(state.left))


def question_of(strip: Strip, name: str) -> str:
    """What a removal asks next: as_found, label, orientation, photo, off, clean, crack_test, or nothing."""
    removal, here = strip.removal(name), strip.stands.of(name)
    if here.off is not None:
        return next((care for care in ("clean", "crack_test") if care in removal.gates and care not in here.gates), "")
    if strip.open_questions(name):
        return "as_found"
    if here.label is None:
        return "label"
    if removal.orientation is not None and here.orientation is None:
        return "orientation"
    if removal.photograph and here.photo is None:
        return "photo"
    return "off"


def record(store: Store, clock: Clock, event: StripEvent) -> Problem | None:
    """Record an answer, a count or a correction, with the time now; sending it twice is harmless."""

    def decide(state: State) -> list[Event] | Problem:
        now = replace(event, by=event.by.strip(), at=clock())
        sent = any(replace(each, at=now.at) == now for each in state.strip if type(each) is type(now))
        return [] if sent else [now]

    return write(store, clock, decide)


def counted(removal: Removal, out: Mapping[str, str]) -> dict[str, int] | Problem:
    """The counts as typed, by sort; a blank is no count."""
    counts: dict[str, int] = {}
    for each in removal.fasteners:
        text = out.get(each.name, "").strip()
        if not text:
            remedy = "Count what came out, then type the number; 0 is a count too."
            return Problem(
                "not_counted", removal.title, f"no count of {each.name}", f"how many of {each.count}", remedy
            )
        if not (text.isascii() and text.isdigit() and len(text) < 4):
            return Problem("not_a_count", removal.title, f"`{text}` for {each.name}", "a whole number", "Type digits.")
        counts[each.name] = int(text)
    return counts
