"""How far the engine is proved: a fold over the events of proving."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import datetime
from decimal import Decimal

from endfloat.assembly.violations import Violation
from endfloat.engine.proving import GaugeLimit, LoggedGauge, Proving, StopRule
from endfloat.engine.proving_proofreading import kind_of_gauge
from endfloat.job.proving_events import (
    EngineStopped,
    FiredAgain,
    FirstFired,
    GaugeLogged,
    Keyed,
    PrimingDone,
    ProvingEvent,
    ProvingWithdrawn,
    ReadAgain,
    ReadyTicked,
    ReadyUnticked,
    RecheckDone,
    RunInLogged,
)
from endfloat.problems import Problem
from endfloat.quantities.typed_text import Typed, read_typed
from endfloat.quantities.units import Kind

Start = FirstFired | FiredAgain


NOT_FIRED = "not_fired"


@dataclass(frozen=True, slots=True)
class Proof:
    """What stands of proving. `ticks` are those since the lists opened last, by item and role.

    `start` is the start that the engine runs on, none when it stands still; `stops_said` what the log has shown since
    then that means stop, by the name of the rule. `opened_again` is the stop after which the lists opened again.
    """

    primed: dict[str, PrimingDone] = field(default_factory=dict)
    ticks: dict[tuple[str, str], ReadyTicked] = field(default_factory=dict)
    start: Start | None = None
    first: FirstFired | None = None
    stops_said: tuple[tuple[str, GaugeLogged], ...] = ()
    stopped: EngineStopped | None = None
    opened_again: EngineStopped | None = None
    logged: tuple[GaugeLogged, ...] = ()
    run_in: tuple[RunInLogged, ...] = ()
    rechecked: dict[str, tuple[RecheckDone, ...]] = field(default_factory=dict)
    read_again: tuple[ReadAgain, ...] = ()
    keys: dict[str, Keyed] = field(default_factory=dict)
    withdrawn: dict[str, ProvingWithdrawn] = field(default_factory=dict)

    def signer(self, role: str) -> str:
        """Whose list it is; empty before the first tick."""
        return next((tick.by for (_, ticked), tick in self.ticks.items() if ticked == role), "")

    def done(self, item: str) -> bool:
        """Whether something looked at again was right when it was last looked at."""
        return bool(self.rechecked.get(item)) and self.rechecked[item][-1].right

    def ran(self, stage: str) -> Decimal:
        """How long a stage of the run-in was run so far, in seconds or metres."""
        read = [read_typed(each.lasted, kind=None, place="") for each in self.run_in if each.stage == stage]
        return sum((each.exact_si for each in read if isinstance(each, Typed)), Decimal(0))


def proof_of(proving: Proving, events: Iterable[ProvingEvent]) -> Proof:
    """How far proving has come after what was recorded; the description may have been revised since."""
    recorded = tuple(events)
    gone = {event.key: event for event in recorded if isinstance(event, ProvingWithdrawn)}
    proof = Proof(withdrawn=gone)
    for event in recorded:
        if isinstance(event, Keyed):
            proof = replace(proof, keys={**proof.keys, event.key: event})
            proof = proof if event.key in gone else _kept(proving, proof, event)
        elif isinstance(event, ProvingWithdrawn):
            proof = _without_later_steps(proving, proof, proof.keys.get(event.key))
        else:
            proof = _run(proof, event)
    return proof


def fire_holds(proving: Proving, proof: Proof, operation: str) -> list[Violation]:
    """Why a step of the build waits that is itself the first start: it is done by the fire, behind its two lists."""
    if proof.first is not None or operation not in {item.until for item in proving.ready.values() if item.until}:
        return []
    return [Violation(NOT_FIRED, (operation,), "The engine has not fired yet: first both lists of “Ready to fire?”.")]


def _kept(proving: Proving, proof: Proof, event: Keyed) -> Proof:
    if isinstance(event, PrimingDone):
        return replace(proof, primed={**proof.primed, event.step: event})
    if isinstance(event, RunInLogged):
        return replace(proof, run_in=(*proof.run_in, event))
    if isinstance(event, RecheckDone):
        return replace(proof, rechecked={**proof.rechecked, event.item: (*proof.rechecked.get(event.item, ()), event)})
    if isinstance(event, ReadAgain):
        return replace(proof, read_again=(*proof.read_again, event))
    said = tuple((name, event) for name in stops_of(proving, proof, event))
    return replace(proof, logged=(*proof.logged, event), stops_said=(*proof.stops_said, *said))


def _without_later_steps(proving: Proving, proof: Proof, event: Keyed | None) -> Proof:
    """Taking a step of priming back takes those after it along: they were done on its strength."""
    order = list(proving.priming)
    if not isinstance(event, PrimingDone) or event.step not in order:
        return proof
    before = order[: order.index(event.step)]
    return replace(proof, primed={step: done for step, done in proof.primed.items() if step in before})


def _run(proof: Proof, event: ReadyTicked | ReadyUnticked | Start | EngineStopped) -> Proof:
    if isinstance(event, ReadyTicked):
        return replace(proof, ticks={**proof.ticks, (event.item, event.role): event})
    if isinstance(event, ReadyUnticked):
        kept = {at: tick for at, tick in proof.ticks.items() if at != (event.item, event.role)}
        return replace(proof, ticks=kept)
    if isinstance(event, EngineStopped):
        stopped = replace(proof, start=None, stopped=event, stops_said=())
        at_once = not event.planned or bool(proof.stops_said)
        return replace(stopped, ticks={}, opened_again=event) if at_once else stopped
    first = event if isinstance(event, FirstFired) else proof.first
    return replace(proof, start=event, first=first, stops_said=(), opened_again=None)


def seconds_between(earlier: str, later: str) -> float:
    """Seconds from one time of the record to another."""
    return (datetime.fromisoformat(later) - datetime.fromisoformat(earlier)).total_seconds()


def stops_of(proving: Proving, proof: Proof, event: GaugeLogged) -> list[str]:
    """The stop rules that a value of the log breaks, while the engine runs."""
    if proof.start is None:
        return []
    since = seconds_between(proof.start.at, event.at)
    value = value_of(proving.gauges.get(event.gauge), event.text)
    return [
        name for name, rule in proving.stop_now.items() if rule.gauge == event.gauge and _breaks(rule, value, since)
    ]


def _breaks(rule: StopRule, value: Typed | str | Problem, since: float) -> bool:
    if rule.after is not None and since < rule.after.si:
        return False
    if isinstance(value, str):
        return value in rule.hears
    if isinstance(value, Problem):
        return False
    low = rule.below is not None and value.exact_si < rule.below.exact_si
    return low or (rule.above is not None and value.exact_si > rule.above.exact_si)


def limits_broken(proving: Proving, proof: Proof, event: GaugeLogged) -> list[GaugeLimit]:
    """The limits of its gauge that a value of the log is beyond, as it was typed."""
    gauge = proving.gauges.get(event.gauge)
    value = value_of(gauge, event.text)
    if gauge is None or not isinstance(value, Typed) or proof.start is None:
        return []
    since, speed = seconds_between(proof.start.at, event.at), speed_logged(proving, proof)
    return [
        limit
        for limit in gauge.limits
        if (limit.after is None or since >= limit.after.si)
        and (limit.from_speed is None or (speed is not None and speed >= limit.from_speed.exact_si))
        and (
            (limit.low is not None and value.exact_si < limit.low.exact_si)
            or (limit.high is not None and value.exact_si > limit.high.exact_si)
        )
    ]


def speed_logged(proving: Proving, proof: Proof) -> Decimal | None:
    """The last speed that the log holds since the engine was started."""
    if proof.start is None:
        return None
    for event in reversed(proof.logged):
        gauge = proving.gauges.get(event.gauge)
        value = value_of(gauge, event.text)
        if event.at >= proof.start.at and kind_of_gauge(gauge) is Kind.SPEED and isinstance(value, Typed):
            return value.exact_si
    return None


def value_of(gauge: LoggedGauge | None, text: str) -> Typed | str | Problem:
    """What was typed for a gauge: an amount, a word of the gauge, or why it is neither."""
    if gauge is None:
        return Problem("unknown_gauge", "the log", "no such gauge", "a gauge of this engine", "Choose it again.")
    if gauge.words:
        word = text.strip().casefold()
        found = next((each for each in gauge.words if each.casefold() == word), None)
        expected = f"one of {', '.join(gauge.words)}"
        return found or Problem("unknown_word", gauge.title, f"`{text}`", expected, "Choose one.")
    return read_typed(text, kind=kind_of_gauge(gauge), place=gauge.title, default_unit=gauge.unit)


def overdue(proving: Proving, proof: Proof, now: str) -> list[str]:
    """Rules whose time has passed since firing, while nothing written down since shows that all is well."""
    if proof.start is None:
        return []
    start = proof.start
    since = seconds_between(start.at, now)
    waiting = []
    for name, rule in proving.stop_now.items():
        if rule.after is None or since < rule.after.si:
            continue
        log = [event for event in proof.logged if event.gauge == rule.gauge and event.at >= start.at]
        last = value_of(proving.gauges.get(rule.gauge), log[-1].text) if log else None
        if last is None or _breaks(rule, last, since):
            waiting.append(name)
    return waiting
