"""The build record as plain values: what was found, decided, done and by whom, each entry with its day."""

from __future__ import annotations

from collections.abc import Sequence

from endfloat.engine.asks import HIDDEN_ANSWERS
from endfloat.engine.spots import spot_words
from endfloat.inspection.judge import Finding
from endfloat.inspection.words import label, number
from endfloat.job.clock_events import ClockEvent
from endfloat.job.events import (
    BuildOrderLaidOut,
    GaugeChecked,
    PlanAgreed,
    ReadingTaken,
    ReadingWithdrawn,
    StepConfirmed,
    StepDoneAgainstAdvice,
    StepReopened,
)
from endfloat.job.order_events import ConditionRegained
from endfloat.job.pause_events import PauseEvent
from endfloat.job.wire import Entry, from_body
from endfloat.quantities.shown_text import shown_in_full
from endfloat.quantities.units import Unit
from endfloat.workshop.build import build_of
from endfloat.workshop.joint_record import joints_on_paper
from endfloat.workshop.pause_record import clock_or_pause
from endfloat.workshop.proving_record import proving_record
from endfloat.workshop.sheets import void_agreed, work_agreed
from endfloat.workshop.strip_record import strip_on_paper
from endfloat.workshop.timing_record import timing_lines, timing_rows
from endfloat.workshop.view import View, as_found


def build_record(seen: View, entries: Sequence[Entry]) -> dict[str, object]:
    """All of a job on paper; `entries` are its record, which knows when each thing was written down."""
    told = [(from_body(entry.body), entry.at[:10]) for entry in entries]
    days = {event.key: day for event, day in told if isinstance(event, ReadingTaken)}
    note = "± is twice the standard uncertainty. The service book outranks this paper."
    return {
        "name": seen.name,
        "note": f"An invented engine. {note}" if seen.engine.invented else note,
        "fingerprint": entries[-1].fingerprint[:16] if entries else "",
        "plan": _plan(seen, [day for event, day in told if isinstance(event, PlanAgreed)]),
        "before": [_finding_row(seen, finding) for finding in as_found(seen)],
        "rows": [_finding_row(seen, finding) for finding in seen.findings],
        "strip": strip_on_paper(seen.state),
        "steps": _steps(seen),
        "joints": joints_on_paper(seen.state),
        "cams": timing_rows(seen),
        "timing": timing_lines(seen),
        "proving": proving_record(seen),
        "checks": [
            f"{event.gauge} on {event.set_to}: showed {event.shows}, {event.at[:10]}, {event.by}"
            for event in seen.state.bench
            if isinstance(event, GaugeChecked)
        ],
        "readings": [f"{_reading(seen, taken)} ({_by(taken, days)})" for taken in seen.current],
        "aside": [
            f"{_reading(seen, taken)} ({_by(taken, days)}). {seen.aside[key].words}"
            for key, taken in seen.state.taken.items()
            if key in seen.aside
        ],
        "withdrawn": [
            f"{_reading(seen, seen.state.taken[event.key])} ({_by(seen.state.taken[event.key], days)}):"
            f" {event.reason}, says {event.by}, {day}"
            for event, day in told
            if isinstance(event, ReadingWithdrawn)
        ],
    }


def _plan(seen: View, days: list[str]) -> list[str]:
    agreed = seen.state.agreed
    if agreed is None:
        return []
    price = seen.prices.shown(agreed.cost) if seen.prices else str(agreed.cost / 100)
    void = void_agreed(seen)
    if void and void.price:
        price += f" and {void.price} for parts that removal makes void"
    stale = " A reading changed since then." if seen.state.stale else ""
    on = f" on {days[-1]}" if days else ""
    return [
        f"Agreed by {agreed.by}{on}: {price}, {agreed.days} days; {agreed.status}; {agreed.program}.{stale}",
        *(
            f"{title}: back, says {event.by}, {event.at[:10]}" if event else title
            for title, event in work_agreed(seen).values()
        ),
    ]


def _steps(seen: View) -> list[str]:
    """What was done to the build in the order it was done, signatures and undone steps among it."""
    build = build_of(seen.state)
    lines = []
    for event in build.events:
        if isinstance(event, BuildOrderLaidOut):
            proved = "none is cheaper" if event.proved else "the best found"
            lines.append(f"Order of {len(event.operations)} steps laid out by {event.by}; {proved}.")
            continue
        if isinstance(event, ConditionRegained):
            lines.append(f"True again: {event.condition}. {event.by}, {event.at[:16].replace('T', ' ')}")
            continue
        if isinstance(event, ClockEvent | PauseEvent):
            lines.append(clock_or_pause(build.engine, event))
            continue
        described = build.engine.operations.get(event.operation)
        title = described.title if described else event.operation
        if isinstance(event, StepDoneAgainstAdvice):
            title = f"AGAINST ADVICE: {title}. Reason: {event.reason}"
        elif isinstance(event, StepConfirmed):
            title = ". ".join([title, *_answered(event)])
        elif isinstance(event, StepReopened):
            title = f"Undone: {title}. Reason: {event.reason}"
        lines.append(f"{title}. {event.by}, {event.at[:16].replace('T', ' ')}")
    return lines


def _answered(event: StepConfirmed) -> list[str]:
    """What was seen, read, counted and hidden on a step, each as a sentence without its full stop."""
    second = f", with {event.second}" if event.second else ""
    return [
        *([f"Mark read: {event.mark}"] if event.mark else []),
        *(f"{what}: {count} counted" for what, count in event.counted.items()),
        *(f"Hidden now, {part}: {HIDDEN_ANSWERS.get(code, code)}" for part, code in event.hidden.items()),
        *([f"Looked at{second}: {'; '.join(event.looked)}"] if event.looked else []),
    ]


def _finding_row(seen: View, finding: Finding) -> list[str]:
    return [
        label(seen.engine, finding.on, finding.place),
        number(finding) or "not known",
        _limits(finding.bounds.low, finding.bounds.high, finding.unit),
        str(finding.page or ""),
        f"{finding.verdict.words}. {finding.reason}".strip(),
    ]


def _reading(seen: View, taken: ReadingTaken) -> str:
    spot = spot_words(taken.station, taken.axis)
    place = label(seen.engine, taken.characteristic, taken.place)
    return f"{place}, {spot}: {taken.text}" if spot else f"{place}: {taken.text}"


def _by(taken: ReadingTaken, days: dict[str, str]) -> str:
    return ", ".join(word for word in (taken.gauge, taken.by, days.get(taken.key, "")) if word)


def _limits(low: float | None, high: float | None, unit: Unit) -> str:
    if low is None or high is None:
        sides = (("at least", low), ("at most", high))
        return "".join(f"{words} {shown_in_full(bound, unit)}" for words, bound in sides if bound is not None) or "none"
    return f"{shown_in_full(low, unit)} to {shown_in_full(high, unit)}"
