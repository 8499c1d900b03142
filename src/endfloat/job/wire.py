"""Events to text and back, and the chain of fingerprints that shows a later change."""

from __future__ import annotations

import gc
import hashlib
import json
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from functools import lru_cache

from pydantic_core import from_json

from endfloat.errors import DamagedRecord, StaleVersion, UnknownEvent
from endfloat.job.events import EVENTS, Event

VERSION = 1
START = "0" * 64


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the record: position from 1, time (UTC, ISO 8601), body, and the chained fingerprint."""

    position: int
    at: str
    body: str
    fingerprint: str


def to_body(event: Event) -> str:
    """Canonical JSON: sorted keys, no spaces, so that equal events have equal bytes."""
    content = {"event": type(event).__name__, "version": VERSION, **asdict(event)}
    return json.dumps(content, ensure_ascii=False, sort_keys=True, separators=(",", ":"))


@lru_cache(maxsize=20_000)
def from_body(body: str) -> Event:
    """The event of a body; UnknownEvent when a newer program wrote it.

    A page reads the whole record each time, so that what was read stays read.
    """
    content = from_json(body)
    name, version = content.pop("event"), content.pop("version")
    if name not in EVENTS or version != VERSION:
        raise UnknownEvent(name=name, version=version)
    return EVENTS[name](**content)


def events_of(entries: Iterable[Entry]) -> list[Event]:
    """The events of a record in order; UnknownEvent when a newer program wrote one.

    Nothing of a record is garbage while it is read, and the collector of CPython would walk all of it again and again.
    """
    collecting = gc.isenabled()
    gc.disable()
    try:
        return [from_body(entry.body) for entry in entries]
    finally:
        if collecting:
            gc.enable()


def fingerprint(previous: str, position: int, at: str, body: str) -> str:
    """SHA-256 over the previous fingerprint, the position, the time and the body (FIPS 180-4)."""
    return hashlib.sha256(f"{previous}\n{position}\n{at}\n{body}".encode()).hexdigest()


def next_entry(previous: Entry | None, at: str, event: Event) -> Entry:
    """The entry that follows; the first follows a fingerprint of noughts."""
    position = 1 if previous is None else previous.position + 1
    body = to_body(event)
    before = START if previous is None else previous.fingerprint
    return Entry(position, at, body, fingerprint(before, position, at, body))


def continued(last: Entry | None, events: Iterable[Event], *, expected: int, at: str) -> list[Entry]:
    """The entries of events that follow the last one; StaleVersion when that is not entry `expected`."""
    found = last.position if last else 0
    if found != expected:
        raise StaleVersion(expected=expected, found=found)
    fresh: list[Entry] = []
    for event in events:
        last = next_entry(last, at, event)
        fresh.append(last)
    return fresh


def verify(entries: Iterable[Entry]) -> int:
    """Number of entries of an unbroken chain; DamagedRecord at the first that does not fit."""
    before, count = START, 0
    for entry in entries:
        count += 1
        if entry.position != count or entry.fingerprint != fingerprint(before, count, entry.at, entry.body):
            raise DamagedRecord(position=count)
        before = entry.fingerprint
    return count
