"""Hands at the strip, for tests: a part taken off with every answer that it asks for."""

from endfloat.engine.strip import Removal
from endfloat.job.strip_events import (
    AsFoundNoted,
    OrientationChosen,
    PartCleaned,
    PartCrackTested,
    PartRemoved,
    PhotoLeftOut,
    PlaceLabelled,
    StripEvent,
)
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import load
from endfloat.workshop.strip import record, strip_of


def strip_by_hand(store: Store, clock: Clock, name: str) -> None:
    """Answer what is asked, then take it off with every fastener there."""
    strip = strip_of(load(store)[0])
    asked = [AsFoundNoted(f"{name}/{n}", name, each.name, "", "not today", "Ana", "")
             for n, each in enumerate(strip.open_questions(name))]  # fmt: skip
    for event in [*asked, *answers(name, strip.removal(name))]:
        problem = record(store, clock, event)
        assert problem is None, problem.text()


def answers(name: str, removal: Removal) -> list[StripEvent]:
    """Label, orientation, reason and count of one removal."""
    told: list[StripEvent] = [PlaceLabelled(f"{name}/label", name, tuple(p.label for p in removal.parts), "Ana", "")]
    if removal.orientation:
        told.append(OrientationChosen(f"{name}/so", name, removal.orientation.choices[0].words, "Ana", ""))
    if removal.photograph:
        told.append(PhotoLeftOut(f"{name}/photo", name, "no camera", "Ana", ""))
    counts = {each.name: each.count for each in removal.fasteners}
    return [*told, PartRemoved(f"{name}/off", name, counts, {}, "Ana", "")]


def care_by_hand(store: Store, clock: Clock, name: str) -> None:
    """Clean and test a part as its gates ask."""
    for care, gate in strip_of(load(store)[0]).removal(name).gates.items():
        looked = tuple(gate.looks)
        event = (
            PartCleaned(f"{name}/clean", name, looked, "Ana", "")
            if care == "clean"
            else PartCrackTested(f"{name}/test", name, looked, "", "Ana", "")
        )
        problem = record(store, clock, event)
        assert problem is None, problem.text()
