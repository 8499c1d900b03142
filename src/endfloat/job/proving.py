"""Proving: what is still open before the engine fires, and whether something may be recorded now."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from endfloat.engine.model import Engine
from endfloat.engine.proving import Proving, ReadyItem
from endfloat.engine.proving_proofreading import stops_blank
from endfloat.job.build import laid_out, steps_done
from endfloat.job.clocks import cures_running
from endfloat.job.description import engine_of
from endfloat.job.events import BuildEvent, JobOpened, JointEvent
from endfloat.job.joints import progress_of
from endfloat.job.looked_up import as_known
from endfloat.job.pauses import not_taken_up, stopped
from endfloat.job.proof import Proof, Start, proof_of
from endfloat.job.proving_deeds import deed_refusal
from endfloat.job.proving_events import (
    EngineStopped,
    FiredAgain,
    FirstFired,
    Keyed,
    PrimingDone,
    ProvingEvent,
    ProvingWithdrawn,
    ReadyTicked,
    ReadyUnticked,
)
from endfloat.problems import Problem

ROLES = ("first", "second")
NOTHING_OUT = "no place out of limits"
LISTS = {"first": "the first list", "second": "the second list"}
NOBODY = Problem("no_name", "proving", "no name", "who it was", "Type a name; it goes on the record.")


@dataclass(frozen=True, slots=True)
class Bench:
    """What proving looks at: the engine, what was recorded of its build and joints, and the places that are out."""

    engine: Engine
    building: tuple[BuildEvent, ...]
    tightening: tuple[JointEvent, ...]
    out: tuple[str, ...] = ()

    @property
    def proving(self) -> Proving:
        """How this engine is proved; nothing where the description does not say."""
        return self.engine.proving or Proving()


def sight(bench: Bench, proof: Proof, item: ReadyItem, at: str) -> str:
    """Why what the program sees is not so yet, in words; empty when it is so."""
    if item.sees == "every step done":
        return _steps_left(bench, item.until)
    if item.sees == "every joint closed":
        joints = bench.engine.joints
        known = {name: as_known(joint, name, bench.tightening) for name, joint in joints.items()}
        left = [j.title for name, j in known.items() if not progress_of(j, name, bench.tightening).closed]
        return f"Not closed: {'; '.join(left)}." if left else ""
    if item.sees == "no clock running":
        return _clocks_running(bench, at)
    if item.sees == NOTHING_OUT:
        return f"Out of limits: {'; '.join(bench.out)}." if bench.out else ""
    left = [step.title for name, step in bench.proving.priming.items() if name not in proof.primed]
    return f"Not done: {'; '.join(left)}." if left else ""


def _steps_left(bench: Bench, until: str) -> str:
    order, done = laid_out(bench.engine, bench.building), steps_done(bench.engine, bench.building)
    if not order and bench.engine.operations:
        return "No build order is laid out yet."
    wanted = order[: order.index(until)] if until in order else order
    left = [bench.engine.operations[step].title for step in wanted if step not in done]
    more = f", and {len(left) - 3} more" if len(left) > 3 else ""
    return f"{len(left)} of {len(wanted)} still to do: {'; '.join(left[:3])}{more}." if left else ""


def _clocks_running(bench: Bench, at: str) -> str:
    left = [
        f"{each.clock}, {ceil(each.seconds_left / 60)} minutes more"
        for each in cures_running(bench.engine, bench.building, at)
    ]
    return f"Still running: {'; '.join(left)}." if left else ""


def open_points(bench: Bench, proof: Proof, at: str) -> list[str]:
    """What stands between this engine and its first fire, in words; empty when both lists are complete."""
    stop = stopped(bench.building)
    points = [f"The work, which {stop.by} stopped, is not taken up again"] if stop else []
    for item in bench.proving.ready.values():
        why = sight(bench, proof, item, at) if item.sees else ""
        if why:
            points.append(f"{item.what}: {why}")
    for role in ROLES:
        asked = [name for name, item in bench.proving.ready.items() if item.asked_of(role)]
        left = [bench.proving.ready[name].what for name in asked if (name, role) not in proof.ticks]
        points += [f"{what} ({LISTS[role]})" for what in left]
    points += [f"{rule.say} Its limit is not entered" for rule in stops_blank(bench.proving).values()]
    return points


def proving_refusal(
    opened: JobOpened,
    building: tuple[BuildEvent, ...],
    tightening: tuple[JointEvent, ...],
    events: tuple[ProvingEvent, ...],
    event: ProvingEvent,
) -> Problem | None:
    """Why this may not be recorded now; None when it may."""
    bench = Bench(engine_of(opened.engine), building, tightening)
    if bench.engine.proving is None:
        remedy = "Add `proving:` to the description, then read it again."
        return Problem("no_proving", "proving", "nothing described", "a section `proving:`", remedy)
    if not event.by.strip():
        return NOBODY
    proof = proof_of(bench.proving, events)
    if isinstance(event, Keyed):
        if event.key in proof.keys:
            return Problem("key_used", "proving", "a key used before", "a new key", "Send it under a new key.")
        waiting = not_taken_up(building, "priming") if isinstance(event, PrimingDone) else None
        return waiting or deed_refusal(bench.proving, bench.engine, proof, event)
    if isinstance(event, ReadyTicked | ReadyUnticked):
        return _tick_refused(bench.proving, proof, event)
    if isinstance(event, FirstFired | FiredAgain):
        return _fire_refused(bench, proof, event)
    if isinstance(event, EngineStopped):
        return _still(proof) if proof.start is None else None
    return _withdrawal_refused(bench.proving, proof, event)


def _still(proof: Proof) -> Problem:
    found = f"stopped by {proof.stopped.by} already" if proof.stopped else "not fired yet"
    return Problem("not_running", "the engine", found, "a running engine", "Look at the page again.")


def _tick_refused(proving: Proving, proof: Proof, event: ReadyTicked | ReadyUnticked) -> Problem | None:
    item = proving.ready.get(event.item)
    if item is None or event.role not in ROLES or not item.asked_of(event.role):
        remedy = "Open the list again."
        return Problem("unknown_item", "Ready to fire?", "another item", f"one of {LISTS['first']}", remedy)
    if proof.start is not None:
        return Problem("running", item.what, "a running engine", "an engine that stands still", "Stop it first.")
    if isinstance(event, ReadyUnticked):
        there = (event.item, event.role) in proof.ticks
        return None if there else Problem("not_ticked", item.what, "not ticked", "a tick", "Look at the list again.")
    if (event.item, event.role) in proof.ticks:
        return Problem("ticked", item.what, "ticked already", "an open item", "Look at the list again.")
    me, owner = event.by.strip().casefold(), proof.signer(event.role)
    other = proof.signer("second" if event.role == "first" else "first")
    if other and me == other.strip().casefold():
        remedy = "Another person looks at this list, in a browser of their own."
        return Problem("same_person", item.what, f"{event.by}, whose list is the other", "a second person", remedy)
    if owner and me != owner.strip().casefold():
        remedy = f"{owner} goes on, or takes every tick of this list back first."
        return Problem("other_person", item.what, f"{event.by}; this list is {owner}'s", owner, remedy)
    return None


def _fire_refused(bench: Bench, proof: Proof, event: Start) -> Problem | None:
    place = "Ready to fire?"
    if proof.start is not None:
        return Problem("running", place, "a running engine", "an engine that stands still", "Look at the page again.")
    if isinstance(event, FirstFired) != (proof.first is None):
        return Problem("fired_before", place, "another start", "the one that is next", "Look at the page again.")
    waiting = not_taken_up(bench.building, place)
    if waiting:
        return waiting
    points = open_points(bench, proof, event.at)
    if points:
        more = f", and {len(points) - 3} more" if len(points) > 3 else ""
        found = f"still open: {'; '.join(points[:3])}{more}"
        return Problem(
            "not_ready", place, found, "both lists complete", "Do what is open; nothing here is signed away."
        )
    people = [proof.signer(role).strip().casefold() for role in ROLES]
    if [event.by.strip().casefold(), event.second.strip().casefold()] != people or people[0] == people[1]:
        expected = f"{proof.signer('first')} at the start, {proof.signer('second')} at the stop"
        remedy = "The two who looked are the two who fire."
        return Problem("other_people", place, f"{event.by} and {event.second}", expected, remedy)
    return None


def _withdrawal_refused(proving: Proving, proof: Proof, event: ProvingWithdrawn) -> Problem | None:
    standing = proof.keys.get(event.key)
    if standing is None or event.key in proof.withdrawn:
        return Problem("no_entry", "proving", "no entry that stands", "one that does", "Look at the list again.")
    if not event.reason.strip():
        return Problem("no_reason", "proving", "no reason", "a reason", "Say in a word or two why.")
    said = [rule for rule, logged in proof.stops_said if logged.key == event.key]
    if said and proof.start is not None:
        found = f"a value that said STOP: {proving.stop_now[said[0]].say}"
        remedy = "Stop the engine first; then say that it was typed wrong."
        return Problem("stop_first", "the log", found, "an engine that stands still", remedy)
    return None
