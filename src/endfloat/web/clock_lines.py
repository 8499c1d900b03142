"""The clocks as pages tell them: the strip on every page, the lines of a step, the rows of their own page."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import timedelta

from markupsafe import Markup

from endfloat.assembly.violations import Violation
from endfloat.drawings.clock_line import clock_line
from endfloat.engine.relations import Clocked
from endfloat.engine.sentences import capital
from endfloat.job.clock_rules import clock_holds, told_late
from endfloat.job.clock_words import band_words, duration, set_back_words
from endfloat.job.clocks import Timer, moment, runs_of
from endfloat.workshop.clocks import running
from endfloat.workshop.holds import holds
from endfloat.workshop.view import View

DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
          "December")  # fmt: skip


@dataclass(frozen=True, slots=True)
class Line:
    """One clock that runs: its name and words, figures and the time at which they are nought, its end by the wall."""

    timer: Timer
    nought: str
    name: str
    sort: str
    figures: str
    face: str
    brief: str
    state: str
    line: Markup
    back: str
    steps: tuple[tuple[str, str], ...]
    asks: str


def wall(now: str) -> Callable[[str], str]:
    """Tells a time as the clock on the wall of the workshop does, with its day where that is not today."""
    today = moment(now).astimezone().date()

    def face(at: str) -> str:
        local = moment(at).astimezone()
        return f"{local:%H:%M}" if local.date() == today else day_and_time(at)

    return face


def day_and_time(at: str) -> str:
    """Day and time by the clock on the wall: "Tuesday 5 May, 14:32"."""
    local = moment(at).astimezone()
    return f"{weekday(at)} {local.day} {MONTHS[local.month - 1]}, {local:%H:%M}"


def weekday(at: str) -> str:
    """The day of the week on the wall."""
    return DAYS[moment(at).astimezone().weekday()]


def clock_lines(seen: View, now: str) -> list[Line]:
    """Every clock that runs or is still waited for, the one that ends first in front."""
    face = wall(now)
    bands = {each.what: each for each in seen.engine.relations.clocked}
    return [_line(seen, timer, now, face, bands[timer.clock]) for timer in running(seen.state, now)]


def _line(seen: View, timer: Timer, now: str, face: Callable[[str], str], clock: Clocked) -> Line:
    name = capital(timer.clock)
    steps = tuple((step, seen.engine.operations[step].title) for step in timer.steps)
    asks = f"How warm is it there? {'; '.join(band_words(clock))}" if clock.bands else ""
    return Line(
        timer,
        nought_of(timer, now),
        name,
        timer.sort,
        figures(timer.seconds_left),
        face(timer.end),
        brief(timer),
        state(timer),
        Markup(clock_line(timer.minutes, timer.share)),
        set_back_words(timer).strip(),
        steps,
        asks,
    )


def nought_of(timer: Timer, now: str) -> str:
    """The time at which a clock stands at nought, by the clock that `now` is told by."""
    return (moment(now) + timedelta(seconds=timer.seconds_left)).isoformat()


def figures(seconds: int) -> str:
    """Minutes and seconds left, with hours before them from 100 minutes on; nought once it is over."""
    minutes, over = divmod(max(0, seconds), 60)
    return f"{minutes:02}:{over:02}" if minutes < 100 else f"{minutes // 60}:{minutes % 60:02}:{over:02}"


def state(timer: Timer) -> str:
    """What it says in words beside the figures."""
    if timer.sort == "finish before":
        return "time has run out" if timer.is_over else "finish before"
    return "over: go on" if timer.is_over else "not before"


def brief(timer: Timer) -> str:
    """What the strip says: "Cover sealant: 6 minutes left"."""
    name = capital(timer.clock)
    if timer.sort == "finish before":
        return f"{name}: open time ran out" if timer.is_over else f"{name}: {duration(timer.seconds_left)} left"
    return f"{name}: over" if timer.is_over else f"{name}: {duration(timer.seconds_left + 59)} more"


def held_now(seen: View, operation: str, now: str) -> list[Violation]:
    """Everything that holds a step besides the order, its clocks among it."""
    return [*holds(seen, operation), *clock_holds(seen.engine, seen.state.building, operation, now)]


def clocks_of_step(seen: View, operation: str, now: str) -> dict[str, object]:
    """What a step's page tells of clocks: those it starts, by hand if need be, and those it must beat or wait for."""
    runs, _ = runs_of(seen.engine, seen.state.building)
    starts = [
        (
            capital(each.what),
            each.what,
            started_words(each, operation),
            operation == each.starts and bool(each.open_minutes) and not runs[each.what].open_from,
        )
        for each in seen.engine.relations.clocked
        if operation == each.starts or (operation == each.cures_from and each.cure_minutes)
    ]
    return {
        "clock_starts": starts,
        "clock_waits": [each for each in clock_lines(seen, now) if operation in each.timer.steps],
        "clock_short": too_short(seen, operation, now),
        "clock_late": told_late(seen.engine, seen.state.building, operation, now),
    }


def too_short(seen: View, operation: str, now: str) -> list[str]:
    """The open times that would end while a step that does not close them is done."""
    step = seen.engine.operations[operation]
    return [
        f"This takes about {step.minutes} minutes. {brief(each)}."
        for each in running(seen.state, now)
        if each.sort == "finish before" and operation not in each.steps and 0 < each.seconds_left < 60 * step.minutes
    ]


def started_words(clock: Clocked, operation: str) -> str:
    """What a clock asks for from a step on, before it runs."""
    told = []
    if clock.open_minutes is not None and operation == clock.starts:
        told.append(f"finish before {clock.open_minutes} minutes are over")
    if clock.cure_minutes is not None:
        told.append(f"{'then ' if told else ''}not before {clock.cure_minutes} minutes")
    if clock.bands:
        told.append("by temperature: " + "; ".join(band_words(clock)))
    return ", ".join(told)
