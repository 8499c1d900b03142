"""The clocks that run at the bench: derived from the record and the time, never kept anywhere else.

An open time counts from the earliest that is on the record, a start by hand or the step itself; a cure counts from the
step at whose end it begins. Times are UTC. When the clock of the computer stands before something already recorded, an
open time goes on counting from the record, a cure waits, and both say so.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from typing import Literal

from endfloat.engine.model import Engine
from endfloat.engine.relations import Clocked
from endfloat.job.clock_events import ClockEnded, ClockEvent
from endfloat.job.events import BuildEvent, BuildOrderLaidOut
from endfloat.job.steps import done_after
from endfloat.quantities.typed_text import Typed, read_typed
from endfloat.quantities.units import Kind

# A clock that is corrected by its network may step back by this much without a word.
JITTER = 60


@dataclass(frozen=True, slots=True)
class Run:
    """One clock of the description as the record has it now; blank where a thing has not happened.

    `reached` is the latest time that was recorded since it began, and `behind` how many seconds the computer's clock
    then stood before an earlier entry.
    """

    by_hand: str = ""
    temperature: str = ""
    started: str = ""
    closed: str = ""
    cure_from: str = ""
    reached: str = ""
    behind: int = 0

    @property
    def open_from(self) -> str:
        """When the open time began: the earliest that is on the record."""
        return min((each for each in (self.by_hand, self.started) if each), key=moment, default="")


@dataclass(frozen=True, slots=True)
class Timer:
    """A clock that runs, or has run out and is still waited for; `seconds_left` is negative past its end."""

    clock: str
    sort: Literal["finish before", "not before"]
    steps: tuple[str, ...]
    start: str
    end: str
    minutes: int
    seconds_left: int
    set_back: int
    behind: int
    asks_temperature: bool
    temperature: str
    late_do: str
    why: str

    @property
    def is_over(self) -> bool:
        return self.seconds_left <= 0

    @property
    def share(self) -> float:
        """How much of it has run, from nought to one."""
        return min(1.0, max(0.0, 1 - self.seconds_left / (60 * self.minutes)))


def runs_of(engine: Engine, events: Iterable[BuildEvent]) -> tuple[dict[str, Run], list[str]]:
    """Every clock of the description with what the record says of it, and the steps that are done."""
    done: list[str] = []
    clocks, seen = engine.relations.clocked, ""
    runs = {clock.what: Run() for clock in clocks}
    for event in events:
        before, done = done, done_after(engine, done, event)
        if isinstance(event, BuildOrderLaidOut):
            continue
        if isinstance(event, ClockEvent) and event.clock in runs:
            runs[event.clock] = _told(runs[event.clock], event, seen)
        if before != done:
            runs = {each.what: _moved(each, runs[each.what], before, done, (event.at, seen)) for each in clocks}
        runs = {name: _reaching(run, event.at) for name, run in runs.items()}
        seen = later(seen, event.at)
    return runs, done


def _told(run: Run, event: ClockEvent, seen: str) -> Run:
    if isinstance(event, ClockEnded):
        return run if run.started else Run()
    begun = run if run.open_from else replace(run, behind=_seconds(event.at, seen))
    return replace(begun, by_hand=run.by_hand or event.at, temperature=event.temperature or run.temperature)


def _moved(clock: Clocked, run: Run, before: list[str], done: list[str], times: tuple[str, str]) -> Run:
    """The clock after steps were done or undone; undoing the start takes the whole run along."""
    at, seen = times
    if clock.starts in before and clock.starts not in done:
        return Run()
    was = run

    def when(step: str | None, told: str) -> str:
        moved = (step in done) != (step in before)
        return (at if step in done else "") if moved else told

    run = replace(
        run,
        started=when(clock.starts, run.started),
        closed=when(clock.close_with, run.closed),
        cure_from=when(clock.cures_from, run.cure_from),
    )
    if (run.cure_from and not was.cure_from) or (run.open_from and not was.open_from):
        return replace(run, reached=at, behind=_seconds(at, seen))
    return run


def _reaching(run: Run, at: str) -> Run:
    return replace(run, reached=later(run.reached, at)) if run.open_from else run


def later(one: str, other: str) -> str:
    """The later of two times; a blank is earlier than all."""
    return max((each for each in (one, other) if each), key=moment, default="")


def _seconds(early: str, late: str) -> int:
    """How many seconds a time stands before another that was recorded earlier; nought where it does not."""
    passed = int((moment(late) - moment(early)).total_seconds()) if late else 0
    return passed if passed > JITTER else 0


def timers(engine: Engine, events: Iterable[BuildEvent], now: str) -> list[Timer]:
    """Every clock that a step still waits for or must beat, the one that ends first in front."""
    recorded = tuple(events)
    runs, done = runs_of(engine, recorded)
    found = []
    for clock in engine.relations.clocked:
        run = runs[clock.what]
        if clock.open_minutes is not None and clock.close_with and run.open_from and not run.closed:
            found.append(_open_timer(clock, run, now))
        waiting = tuple(step for step in clock.not_before if step not in done)
        if clock.cure_minutes is not None and run.cure_from and waiting:
            found.append(_cure_timer(clock, run, waiting, now))
    return sorted(found, key=lambda each: (moment(each.end), each.clock))


def cures_running(engine: Engine, events: Iterable[BuildEvent], now: str) -> list[Timer]:
    """Every cure that is not over, whether or not a step still waits for it."""
    return [each for each in cures_of(engine, events, now).values() if each and not each.is_over]


def cures_of(engine: Engine, events: Iterable[BuildEvent], now: str) -> dict[str, Timer | None]:
    """Every cure of the description, over or not; None where it has not begun."""
    runs, _ = runs_of(engine, events)
    cures = [(each, runs[each.what]) for each in engine.relations.clocked if each.cure_minutes is not None]
    return {
        clock.what: _cure_timer(clock, run, tuple(clock.not_before), now) if run.cure_from else None
        for clock, run in cures
    }


def minutes_at(clock: Clocked, temperature: Typed) -> int | None:
    """The time at a temperature; None where the description has none."""
    at = temperature.exact_si
    return next((each.minutes for each in clock.bands if each.at_least.exact_si <= at < each.below.exact_si), None)


def _open_timer(clock: Clocked, run: Run, now: str) -> Timer:
    banded = bool(clock.bands) and clock.cure_minutes is None
    told = _at(clock, run) if banded else None
    minutes = clock.open_minutes or 0
    if banded:
        minutes = told if told is not None else min(each.minutes for each in clock.bands)
    end = moment(run.open_from) + timedelta(minutes=minutes)
    left = int((end - moment(later(run.reached, now))).total_seconds())
    steps = (clock.close_with,) if clock.close_with else ()
    asks = banded and told is None
    return Timer(clock.what, "finish before", steps, run.open_from, end.isoformat(), minutes, left,
                 _seconds(now, run.reached), run.behind, asks, run.temperature, clock.late_do, clock.why)  # fmt: skip


def _cure_timer(clock: Clocked, run: Run, waiting: tuple[str, ...], now: str) -> Timer:
    told = _at(clock, run)
    minutes = clock.cure_minutes or 0
    if clock.bands:
        minutes = told if told is not None else max(each.minutes for each in clock.bands)
    start = moment(run.cure_from)
    end = start + timedelta(minutes=minutes)
    left = int((end - max(start, moment(now))).total_seconds())
    asks = bool(clock.bands) and told is None
    return Timer(clock.what, "not before", waiting, run.cure_from, end.isoformat(), minutes, left,
                 _seconds(now, run.reached), run.behind, asks, run.temperature, clock.late_do, clock.why)  # fmt: skip


def _at(clock: Clocked, run: Run) -> int | None:
    read = read_typed(run.temperature, kind=Kind.TEMPERATURE, place="") if run.temperature else None
    return minutes_at(clock, read) if isinstance(read, Typed) else None


def moment(at: str) -> datetime:
    """A time of the record; one that names no zone is taken as UTC, like all of them."""
    read = datetime.fromisoformat(at)
    return read if read.tzinfo else read.replace(tzinfo=UTC)
