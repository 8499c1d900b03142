"""The strip as plain values for paper: the labels to tie on, and what was done, said and counted, and by whom."""

from __future__ import annotations

from endfloat.engine.model import Engine
from endfloat.job.description import engine_of
from endfloat.job.state import State
from endfloat.job.strip_events import (
    AsFoundNoted,
    OrientationChosen,
    PartCrackTested,
    PartRemoved,
    PhotoBound,
    PhotoLeftOut,
    PlaceLabelled,
    RemovalUndone,
    StripAnswerTakenBack,
    StripEvent,
)


def place_labels(engine: Engine) -> list[dict[str, object]]:
    """Every label in the order of the strip: its words, its marks, bank and place, and which removal it belongs to."""
    removals = list(engine.strip.values())
    return [
        {
            "text": part.label,
            "marks": part.marks,
            "bank": removal.bank,
            "place": removal.at,
            "number": f"{number} of {len(removals)}",
        }
        for number, removal in enumerate(removals, start=1)
        for part in removal.parts
    ]


def strip_on_paper(state: State) -> list[str]:
    """Everything recorded at the strip, a line each, in the order in which it was done."""
    engine = engine_of(state.opened.engine if state.opened else "")
    return [
        f"{_title(engine, each)}: {_line(each)}. {each.by}, {each.at[:16].replace('T', ' ')}" for each in state.strip
    ]


def _title(engine: Engine, event: StripEvent) -> str:
    removal = engine.strip.get(event.removal)
    return removal.title if removal else event.removal


def _line(event: StripEvent) -> str:
    if isinstance(event, PartRemoved):
        return _off(event)
    if isinstance(event, AsFoundNoted):
        asked = event.asked.replace("_", " ")
        return f"{asked}: {event.found}" if event.found else f"{asked}: not looked at ({event.reason})"
    if isinstance(event, PlaceLabelled):
        return f"labelled {'; '.join(event.labels)}"
    if isinstance(event, OrientationChosen):
        return f"it sat so: {event.choice}"
    if isinstance(event, PhotoBound):
        return f"photograph {event.sha256}, {event.size} bytes"
    if isinstance(event, PhotoLeftOut):
        return f"no photograph: {event.reason}"
    if isinstance(event, StripAnswerTakenBack | RemovalUndone):
        what = "NOT OFF AFTER ALL" if isinstance(event, RemovalUndone) else "an answer taken back"
        return f"{what}, because: {event.reason}"
    if isinstance(event, PartCrackTested) and event.crack:
        return f"CRACKED: {event.crack}"
    seen = f" ({'; '.join(event.looked)})" if event.looked else ""
    return f"{'tested, no crack found' if isinstance(event, PartCrackTested) else 'cleaned'}{seen}"


def _off(event: PartRemoved) -> str:
    counts = ", ".join(
        f"{out} x {name}" + (f" ({event.account[name]})" if name in event.account else "")
        for name, out in event.out.items()
    )
    helped = f", with {event.helper}" if event.helper else ""
    return f"off{helped}" + (f"; out: {counts}" if counts else "")
