"""The state of a job: a fold over its events, and what may happen now."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import Any, get_args

from endfloat.job.build import build_refusal
from endfloat.job.description import engine_of
from endfloat.job.events import (
    BenchEvent,
    BoltPulled,
    BuildEvent,
    DescriptionRevised,
    Event,
    GaugeChecked,
    JobOpened,
    JointEvent,
    OddReadingKept,
    PlaceLeftUnmeasured,
    PlanAgreed,
    PlanWithdrawn,
    ReadingTaken,
    ReadingWithdrawn,
    WorkNotBack,
    WorkReturned,
)
from endfloat.job.joints import joint_refusal
from endfloat.job.parts import PartEvent, expected_of, part_refusal
from endfloat.job.pauses import not_taken_up
from endfloat.job.proving import proving_refusal
from endfloat.job.proving_events import ProvingEvent
from endfloat.job.strip_events import StripEvent
from endfloat.job.strip_rules import gate_refusal, strip_refusal
from endfloat.job.timing import timing_refusal
from endfloat.job.timing_events import TimingEvent
from endfloat.job.turn import before_its_turn
from endfloat.problems import Problem


@dataclass(frozen=True, slots=True)
class State:
    """What stands now: the job as opened, readings by key, which count, the plan agreed, what joints and build saw.

    `stale` says that a reading changed since the plan was agreed. `answered` holds every answer
    "not measured" ever given, by key; `left` those that stand, by characteristic and place: a reading
    taken there later re-opens the place. `bench` holds readings, checks of gauges and work come back, in their order;
    `built` says by the key of a reading how many entries of the build stood before it.
    """

    opened: JobOpened | None = None
    taken: dict[str, ReadingTaken] = field(default_factory=dict)
    withdrawn: frozenset[str] = frozenset()
    kept: frozenset[str] = frozenset()
    answered: dict[str, PlaceLeftUnmeasured] = field(default_factory=dict)
    left: dict[tuple[str, str], PlaceLeftUnmeasured] = field(default_factory=dict)
    agreed: PlanAgreed | None = None
    stale: bool = False
    bench: tuple[BenchEvent, ...] = ()
    built: dict[str, int] = field(default_factory=dict)
    tightening: tuple[JointEvent, ...] = ()
    building: tuple[BuildEvent, ...] = ()
    arrivals: tuple[PartEvent, ...] = ()
    strip: tuple[StripEvent, ...] = ()
    timing: tuple[TimingEvent, ...] = ()
    proving: tuple[ProvingEvent, ...] = ()

    @property
    def standing(self) -> tuple[ReadingTaken, ...]:
        """Readings that count, in the order in which they were taken."""
        return tuple(reading for key, reading in self.taken.items() if key not in self.withdrawn)

    @property
    def returned(self) -> dict[str, str]:
        """Decisions whose work is back, with the option that was carried out."""
        back: dict[str, str] = {}
        for event in self.bench:
            if isinstance(event, WorkReturned):
                back[event.decision] = event.option
            elif isinstance(event, WorkNotBack):
                back.pop(event.decision, None)
        return back


def after(state: State, event: Event) -> State:
    """The state after one more event."""
    return fold([event], state)


LOGS: dict[str, tuple[type, ...]] = {
    "tightening": get_args(JointEvent),
    "building": get_args(BuildEvent),
    "arrivals": get_args(PartEvent),
    "strip": get_args(StripEvent),
    "timing": get_args(TimingEvent),
    "proving": get_args(ProvingEvent),
}
"""Fields of the state that hold the events of one subject as they came; that subject's own file reads them."""
LOG_OF = {kind: name for name, kinds in LOGS.items() for kind in kinds}


def fold(events: Iterable[Event], start: State | None = None) -> State:
    """The state after all events, from nothing or from a state."""
    state = start or State()
    logs = {name: list(getattr(state, name)) for name in LOGS}
    others, built = [], dict(state.built)
    for event in events:
        if isinstance(event, ReadingTaken):
            built[event.key] = len(logs["building"])
        if not _logged(logs, event):
            others.append(event)
    logged: dict[str, Any] = {name: tuple(log) for name, log in logs.items()}
    return replace(_fold_readings(state, others), built=built, **logged)


def _logged(logs: dict[str, list[Event]], event: Event) -> bool:
    name = LOG_OF.get(type(event))
    if name is None:
        return False
    logs[name].append(event)
    return True


def _fold_readings(state: State, events: Iterable[Event]) -> State:
    """The job as opened, its readings, its plan and its bench after the events that concern them."""
    opened, taken, agreed, stale = state.opened, dict(state.taken), state.agreed, state.stale
    withdrawn, kept = set(state.withdrawn), set(state.kept)
    answered, left, bench = dict(state.answered), dict(state.left), list(state.bench)
    for event in events:
        if isinstance(event, JobOpened):
            opened = event
        elif isinstance(event, DescriptionRevised):
            assert opened is not None, "the rules refuse a revision before the opening"
            opened = replace(opened, engine=event.engine, gauges=event.gauges, prices=event.prices)
            stale = agreed is not None
        elif isinstance(event, PlanAgreed):
            agreed, stale = event, False
        elif isinstance(event, PlanWithdrawn):
            agreed, stale = None, False
        elif isinstance(event, WorkReturned | WorkNotBack | GaugeChecked):
            bench.append(event)
        else:
            stale = agreed is not None
            if isinstance(event, ReadingTaken):
                taken[event.key] = event
                bench.append(event)
                left.pop((event.characteristic, event.place), None)
            elif isinstance(event, ReadingWithdrawn):
                withdrawn.add(event.key)
            elif isinstance(event, OddReadingKept):
                kept.add(event.key)
            elif isinstance(event, PlaceLeftUnmeasured):
                answered[event.key] = event
                left[event.characteristic, event.place] = event
    return replace(
        state,
        opened=opened,
        taken=taken,
        withdrawn=frozenset(withdrawn),
        kept=frozenset(kept),
        answered=answered,
        left=left,
        agreed=agreed,
        stale=stale,
        bench=tuple(bench),
    )


def refusal(state: State, event: Event) -> Problem | None:
    """Why this event may not happen now; None when it may."""
    if isinstance(event, JobOpened):
        if state.opened is None:
            return None
        return Problem("already_open", state.opened.name, "a second opening", "one", "Go on with the open job.")
    if state.opened is None:
        return Problem("not_open", "job", "nothing opened", "an opened job", "Open the job first.")
    if isinstance(event, DescriptionRevised):
        return None
    if isinstance(event, ReadingTaken | PlaceLeftUnmeasured):
        if event.key in state.taken or event.key in state.answered:
            return Problem("key_used", event.place, "a key used before", "a new key", "Send it under a new key.")
        return None
    if isinstance(event, PlanAgreed | PlanWithdrawn):
        return _agreement_refused(state, event)
    if isinstance(event, WorkReturned | WorkNotBack | GaugeChecked):
        return _bench_refused(state, event)
    if isinstance(event, JointEvent):
        return _joint_refused(state.opened, state, event)
    if isinstance(event, PartEvent):
        known = engine_of(state.opened.engine).parts | expected_of(state.opened, state.agreed, state.strip)
        return part_refusal(known, state.arrivals, event)
    if isinstance(event, BuildEvent):
        shut = gate_refusal(engine_of(state.opened.engine), state.strip, event)
        return shut or build_refusal(state.opened, state.building, state.tightening, event)
    if isinstance(event, StripEvent):
        spots = {(r.characteristic, r.place, r.station, r.axis) for r in state.standing}
        return strip_refusal(engine_of(state.opened.engine), state.strip, event, spots, state.left)
    if isinstance(event, TimingEvent):
        return timing_refusal(state.opened, state.timing, state.building, event)
    if isinstance(event, ProvingEvent):
        return proving_refusal(state.opened, state.building, state.tightening, state.proving, event)
    return _reading_refused(state, event)


def _reading_refused(state: State, event: ReadingWithdrawn | OddReadingKept) -> Problem | None:
    word = "withdraw" if isinstance(event, ReadingWithdrawn) else "keep"
    if event.key not in {reading.key for reading in state.standing}:
        return Problem(
            "no_reading", event.key, f"no reading to {word}", "a standing reading", "Look at the list again."
        )
    if isinstance(event, ReadingWithdrawn) and not event.reason.strip():
        return Problem("no_reason", event.key, "no reason", "a reason", "Say in a word or two why it is withdrawn.")
    return None


def _joint_refused(opened: JobOpened, state: State, event: JointEvent) -> Problem | None:
    """A bolt waits for the work to be taken up and for its turn in the build, beside the rules of its joint."""
    first = not_taken_up(state.building, f"bolt {event.bolt}") if isinstance(event, BoltPulled) else None
    wrong = first or joint_refusal(opened, state.tightening, event)
    if wrong or not isinstance(event, BoltPulled):
        return wrong
    return before_its_turn(opened, state.building, state.tightening, event)


def _bench_refused(state: State, event: WorkReturned | WorkNotBack | GaugeChecked) -> Problem | None:
    what = event.gauge if isinstance(event, GaugeChecked) else event.decision.replace("_", " ")
    if not event.by.strip():
        return Problem("no_name", what, "no name", "who says so", "Type a name; it goes on the record.")
    if event.key in {each.key for each in state.bench}:
        return Problem("key_used", what, "a key used before", "a new key", "Send it under a new key.")
    if isinstance(event, GaugeChecked):
        return None
    if isinstance(event, WorkNotBack):
        if event.decision not in state.returned:
            return Problem("not_back", what, "work that is out", "work that came back", "Look at the list again.")
        if not event.reason.strip():
            return Problem("no_reason", what, "no reason", "a reason", "Say in a word or two why.")
        return None
    if state.agreed is None or state.agreed.choice.get(event.decision) != event.option:
        return Problem("not_agreed", what, "work that no agreed plan holds", "work of the agreed plan", "Agree first.")
    if event.decision in state.returned:
        return Problem("already_back", what, "back already", "work that is out", "Look at the list again.")
    return None


def _agreement_refused(state: State, event: PlanAgreed | PlanWithdrawn) -> Problem | None:
    if not event.by.strip():
        return Problem("no_name", "the plan", "no name", "who agrees", "Type a name; it goes on the record.")
    if isinstance(event, PlanWithdrawn) and state.agreed is None:
        return Problem("not_agreed", "the plan", "no agreed plan", "an agreed plan", "There is nothing to withdraw.")
    if isinstance(event, PlanWithdrawn) and state.returned:
        remedy = "Say first that it is not back, send back what was bought, or agree anew once readings have changed."
        return Problem("work_is_back", "the plan", "work of it that came back", "work that is still out", remedy)
    if isinstance(event, PlanAgreed) and state.agreed is not None and not state.stale:
        remedy = "Withdraw the agreement first."
        return Problem("already_agreed", "the plan", f"agreed by {state.agreed.by}", "no agreed plan", remedy)
    return None
