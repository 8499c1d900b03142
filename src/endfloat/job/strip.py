"""The strip of a job: what is off, what was answered of each place, folded from what was recorded."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace

from endfloat.engine.model import Engine
from endfloat.engine.strip import Removal
from endfloat.job.strip_events import (
    AsFoundNoted,
    GateEvent,
    OrientationChosen,
    PartCleaned,
    PartRemoved,
    PhotoBound,
    PhotoLeftOut,
    PlaceLabelled,
    RemovalUndone,
    StripAnswer,
    StripAnswerTakenBack,
    StripEvent,
)

Spot = tuple[str, str, str, str]


@dataclass(frozen=True, slots=True)
class Place:
    """What stands of one removal: the answers that count, and the entry that says it is off."""

    label: PlaceLabelled | None = None
    orientation: OrientationChosen | None = None
    photo: PhotoBound | PhotoLeftOut | None = None
    noted: Mapping[str, AsFoundNoted] = field(default_factory=dict)
    gates: Mapping[str, GateEvent] = field(default_factory=dict)
    off: PartRemoved | None = None

    @property
    def answers(self) -> tuple[StripAnswer, ...]:
        """Every answer that counts, in the order in which a removal asks."""
        first = [each for each in (self.label, self.orientation, self.photo) if each is not None]
        return (*self.noted.values(), *first, *self.gates.values())


@dataclass(frozen=True, slots=True)
class Stripped:
    """What is off, in the order in which it came off, and what stands of each place."""

    off: tuple[str, ...] = ()
    places: Mapping[str, Place] = field(default_factory=dict)

    def of(self, removal: str) -> Place:
        """What stands of one removal."""
        return self.places.get(removal, Place())


def care_of(event: GateEvent) -> str:
    """The gate that an event answers."""
    return "clean" if isinstance(event, PartCleaned) else "crack_test"


def stripped(engine: Engine, events: Iterable[StripEvent]) -> Stripped:
    """The strip after what was recorded; what the description no longer names is left out.

    A part that is on again must be cleaned and tested again once it is off.
    """
    off: list[str] = []
    places: dict[str, Place] = {}
    for event in events:
        name = event.removal
        if name not in engine.strip:
            continue
        here = places.get(name, Place())
        if isinstance(event, PartRemoved):
            off.append(name)
            places[name] = replace(here, off=event)
        elif isinstance(event, RemovalUndone):
            fallen = {name, *waited_for(engine, off, name)}
            off = [each for each in off if each not in fallen]
            places.update({each: replace(places[each], off=None, gates={}) for each in fallen if each in places})
        elif isinstance(event, StripAnswerTakenBack):
            places[name] = _without(here, event.answer)
        else:
            places[name] = _with(here, event)
    return Stripped(tuple(off), places)


def _with(here: Place, event: StripAnswer) -> Place:
    if isinstance(event, PlaceLabelled):
        return replace(here, label=event)
    if isinstance(event, OrientationChosen):
        return replace(here, orientation=event)
    if isinstance(event, PhotoBound | PhotoLeftOut):
        return replace(here, photo=event)
    if isinstance(event, AsFoundNoted):
        return replace(here, noted={**here.noted, event.asked: event})
    return replace(here, gates={**here.gates, care_of(event): event})


def _without(here: Place, key: str) -> Place:
    def kept(event: StripAnswer | None) -> bool:
        return event is not None and event.key != key

    return replace(
        here,
        label=here.label if kept(here.label) else None,
        orientation=here.orientation if kept(here.orientation) else None,
        photo=here.photo if kept(here.photo) else None,
        noted={asked: event for asked, event in here.noted.items() if kept(event)},
        gates={care: event for care, event in here.gates.items() if kept(event)},
    )


def waited_for(engine: Engine, off: Iterable[str], removal: str) -> list[str]:
    """What is off and could come off only because this was: it falls when this is undone."""
    fallen: list[str] = []
    for name in off:
        if name != removal and {removal, *fallen}.intersection(engine.strip[name].after):
            fallen.append(name)
    return fallen


def waits_for(engine: Engine, off: Collection[str], removal: str) -> list[str]:
    """What must come off before this and is still on."""
    return [each for each in engine.strip[removal].after if each not in off]


def frees(engine: Engine, off: Collection[str], removal: str) -> list[str]:
    """The removals that can be done now and bring a refused one nearer, in the order of the strip."""
    wanted, far = set(waits_for(engine, off, removal)), set[str]()
    while wanted - far:
        far |= wanted
        wanted |= {each for name in far for each in waits_for(engine, off, name)}
    return [name for name in engine.strip if name in wanted and not waits_for(engine, off, name)]


def next_off(engine: Engine, off: Collection[str]) -> str | None:
    """The removal to do next: the first of the file that is still on and waits for nothing."""
    return next((name for name in engine.strip if name not in off and not waits_for(engine, off, name)), None)


@dataclass(frozen=True, slots=True)
class Asked:
    """One thing to note before a removal: under what it is recorded, and where a gauge reads it if one does."""

    name: str
    characteristic: str = ""
    place: str = ""


def as_found_asked(engine: Engine, removal: Removal) -> list[Asked]:
    """Everything asked before a removal, a characteristic once for each of its places."""
    asked: list[Asked] = []
    for each in removal.as_found:
        if each.asks:
            asked.append(Asked(each.asks))
            continue
        places = each.at or engine.places[engine.characteristics[each.of].at].names
        asked += [Asked(f"{each.of} at {place}", each.of, place) for place in places]
    return asked


def as_found_open(
    engine: Engine, removal: Removal, here: Place, read: Collection[Spot], left: Collection[tuple[str, str]]
) -> list[Asked]:
    """What is asked and neither read, left unmeasured with an answer, nor noted."""
    return [
        each
        for each in as_found_asked(engine, removal)
        if each.name not in here.noted and not _is_read(engine, each, read, left)
    ]


def _is_read(engine: Engine, asked: Asked, read: Collection[Spot], left: Collection[tuple[str, str]]) -> bool:
    if not asked.characteristic:
        return False
    if (asked.characteristic, asked.place) in left:
        return True
    described = engine.characteristics[asked.characteristic]
    spots = [(asked.characteristic, asked.place, s, a) for s in described.stations for a in described.axes]
    return all(spot in read for spot in spots)
