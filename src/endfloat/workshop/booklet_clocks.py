"""Clocks and steps that follow at once, in words for the booklet: what starts here, what must end, what waits."""

from __future__ import annotations

from endfloat.engine.relations import Clocked
from endfloat.workshop.build import Build


def clock_lines(build: Build, name: str) -> list[dict[str, object]]:
    """What the clocks say on a step; `write` asks for a time to be written down here."""
    lines: list[dict[str, object]] = []
    for clock in build.engine.relations.clocked:
        if name == clock.starts and clock.close_with is not None and clock.open_minutes is not None:
            until = f"close it with step {build.number(clock.close_with)} within {_open(clock)}"
            lines.append({"words": f"CLOCK STARTS, {clock.what}: {until} ({clock.why}).", "write": "Started at"})
        if name == clock.close_with and clock.open_minutes is not None:
            started = f"no more than {_open(clock)} after step {build.number(clock.starts)}"
            late = f" If it is later: {clock.late_do}." if clock.late_do else ""
            lines.append({"words": f"OPEN TIME ENDS, {clock.what}: {started}.{late}", "write": "Closed at"})
        if name == clock.cures_from and clock.cure_minutes is not None:
            waiting = ", ".join(str(number) for number in sorted(build.number(each) for each in clock.not_before))
            words = f"CURE STARTS, {clock.what}: {_cure(clock)} before step {waiting}."
            lines.append({"words": words, "write": "Cured at"})
        if name in clock.not_before and clock.cure_minutes is not None:
            since = f"not before {_cure(clock)} after step {build.number(clock.cures_from)}"
            lines.append({"words": f"WAIT, {clock.what}: {since} ({clock.why}).", "write": ""})
    return lines


def _cure(clock: Clocked) -> str:
    return _banded(clock) or f"{clock.cure_minutes} minutes"


def _open(clock: Clocked) -> str:
    return (_banded(clock) if clock.cure_minutes is None else "") or f"{clock.open_minutes} minutes"


def _banded(clock: Clocked) -> str:
    """The time by temperature, where the description has it so."""
    return ", ".join(f"{e.minutes} minutes at {e.at_least.text} to {e.below.text}" for e in clock.bands)


def straight_on(build: Build, name: str) -> str:
    """Which step follows with nothing between, when the description says so."""
    at = build.order.index(name)
    following = build.order[at + 1] if at + 1 < len(build.order) else ""
    relations = build.engine.relations
    runs = [each.sequence for each in relations.unbroken] + [each.operations for each in relations.as_one_move]
    runs += [[each.check, each.before] for each in relations.confirm_again_now]
    if following and any(name in run and following in run for run in runs):
        return f"Go straight on with step {at + 2}: nothing comes between."
    return ""
