"""Readings that stand on the record and no longer count: taken before the machining, or with a gauge that had moved."""

from __future__ import annotations

from collections.abc import Mapping

from endfloat.engine.model import Engine
from endfloat.inspection.gauges import Gauge
from endfloat.inspection.measured import Gap
from endfloat.inspection.returned import changed_by
from endfloat.inspection.verdicts import Verdict
from endfloat.job.events import GaugeChecked, ReadingTaken, WorkNotBack, WorkReturned
from endfloat.job.state import State
from endfloat.quantities.typed_text import Typed, read_typed

MOST_STEPS = 2
"""Steps of the gauge by which a check may be off. Common practice, no source."""


def set_aside(engine: Engine, gauges: Mapping[str, Gauge], state: State) -> dict[str, Gap]:
    """The key of each standing reading that does not count, and why.

    A reading taken with a gauge whose next check was off is set aside, back to its last good check.
    """
    aside: dict[str, Gap] = {}
    outdated: dict[str, dict[str, Gap]] = {}
    standing = {reading.key: reading for reading in state.standing}
    before: list[ReadingTaken] = []
    since_check: dict[str, list[str]] = {}
    for event in state.bench:
        if isinstance(event, ReadingTaken):
            if event.key in standing:
                before.append(event)
                since_check.setdefault(event.gauge, []).append(event.key)
        elif isinstance(event, WorkReturned):
            decision = engine.decisions[event.decision]
            changed = changed_by(engine, decision.options[event.option])
            gap = Gap(Verdict.OUTDATED, f"{decision.title} came back: measure again.")
            outdated[event.decision] = {o.key: gap for o in before if (o.characteristic, o.place) in changed}
        elif isinstance(event, WorkNotBack):
            outdated.pop(event.decision, None)
        else:
            taken = since_check.pop(event.gauge, [])
            if drift(event, gauges[event.gauge]):
                words = f"{event.gauge} showed {event.shows} on {event.set_to} afterwards. Set it and take this again."
                aside |= {key: Gap(Verdict.CHECK_ZERO, words) for key in taken if key not in aside}
    for keys in outdated.values():
        aside |= keys
    return aside


def drift(event: GaugeChecked, gauge: Gauge) -> bool:
    """Whether a check was off by more than two steps of the gauge."""
    shows, wanted = (read_typed(text, kind=gauge.kind, place=event.gauge) for text in (event.shows, event.set_to))
    assert isinstance(shows, Typed)
    assert isinstance(wanted, Typed)
    return abs(shows.exact_si - wanted.exact_si) > MOST_STEPS * gauge.resolution.exact_si
