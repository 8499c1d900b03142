"""What proving recorded, in lines for the build record: who, when, what was shown, stopped, run and looked at again."""

from __future__ import annotations

from dataclasses import replace

from endfloat.engine.proving import Proving
from endfloat.job.proof import limits_broken
from endfloat.job.proving_events import (
    EngineStopped,
    FiredAgain,
    FirstFired,
    GaugeLogged,
    PrimingDone,
    ProvingEvent,
    ProvingWithdrawn,
    ReadAgain,
    ReadyTicked,
    ReadyUnticked,
    RecheckDone,
    RunInLogged,
)
from endfloat.workshop.compared import compared_rows
from endfloat.workshop.proving import Proved, proved, shown, stop_sentence
from endfloat.workshop.view import View

ROLE_WORDS = {"first": "first list", "second": "second list"}


def proving_record(seen: View) -> dict[str, list[str]]:
    """What happened in its order, and the engine as found beside the engine now."""
    events = seen.state.proving
    now = proved(seen.state, events[-1].at if events else "")
    if now.engine.proving is None or not events:
        return {"lines": [], "compared": []}
    lines = [_line(seen, number, event) for number, event in enumerate(events)]
    return {"lines": [line for line in lines if line], "compared": _compared(seen, now)}


def _compared(seen: View, now: Proved) -> list[str]:
    told = []
    for name, each in now.proving.compare.items():
        if any(event.compared == name for event in now.proof.read_again):
            told += [
                f"{each.title}, {row.label}: as found {row.found}, now {row.now}. {row.words}"
                for row in compared_rows(seen, now.proof, name, each)
            ]
    return told


def _line(seen: View, number: int, event: ProvingEvent) -> str:
    """One event in words; taken back later it says so."""
    proving = seen.engine.proving or Proving()
    who = f"{event.by}, {event.at[:19].replace('T', ' ')}"
    words = _words(seen, proving, number, event)
    back = [e for e in seen.state.proving if isinstance(e, ProvingWithdrawn) and e.key == getattr(event, "key", None)]
    gone = f" TAKEN BACK by {back[0].by}: {back[0].reason}." if back and not isinstance(event, ProvingWithdrawn) else ""
    return f"{words} {who}.{gone}" if words else ""


def _words(seen: View, proving: Proving, number: int, event: ProvingEvent) -> str:
    if isinstance(event, PrimingDone):
        return _primed(proving, event)
    if isinstance(event, ReadyTicked | ReadyUnticked):
        item = proving.ready.get(event.item)
        what = item.what if item else event.item
        looked = "Looked at" if isinstance(event, ReadyTicked) else "Not so after all"
        return f"{looked}, {ROLE_WORDS[event.role]}: {what}."
    if isinstance(event, FirstFired | FiredAgain):
        return f"{'FIRST FIRED' if isinstance(event, FirstFired) else 'Fired again'}; {event.second} at the stop."
    if isinstance(event, GaugeLogged):
        return _logged(seen, proving, number, event)
    if isinstance(event, EngineStopped):
        how = "Stopped as planned" if event.planned else "STOPPED AT ONCE"
        return f"{how}{f': {event.reason}' if event.reason else ''}."
    if isinstance(event, RunInLogged):
        stage = proving.run_in.get(event.stage)
        return f"Run in, {stage.title if stage else event.stage}: {event.lasted}. {event.words}".strip()
    if isinstance(event, RecheckDone):
        item_again = proving.recheck.get(event.item)
        what = item_again.what if item_again else event.item
        found = f" Found: {event.found}." if event.found else ""
        return f"{'Right' if event.right else 'NOT RIGHT'}: {what}.{found}"
    if isinstance(event, ReadAgain):
        return f"Read again, {event.compared.replace('_', ' ')} at {event.place}: {event.text}, {event.gauge}."
    return ""


def _primed(proving: Proving, event: PrimingDone) -> str:
    step = proving.priming.get(event.step)
    showed = f" Showed {event.showed}." if event.showed else ""
    looked = f" Looked at{f' with {event.second}' if event.second else ''}: {'; '.join(event.looked)}."
    return f"Primed: {step.title if step else event.step}.{showed}{looked if event.looked else ''}"


def _logged(seen: View, proving: Proving, number: int, event: GaugeLogged) -> str:
    """A value of the log, with what it said when it was written down."""
    gauge = proving.gauges.get(event.gauge)
    title = gauge.title if gauge else event.gauge
    then = proved_at(seen, number)
    stops = [stop_sentence(proving, name, event) for name, each in then.proof.stops_said if each.key == event.key]
    beyond = [limit.words for limit in limits_broken(proving, then.proof, event)]
    said = f" STOP: {' '.join(stops)}" if stops else f" Should be {'; '.join(beyond)}." if beyond else ""
    return f"{title} {shown(proving, event)}.{said}"


def proved_at(seen: View, number: int) -> Proved:
    """Proving as it stood right after one of its events, before anything later was taken back."""
    events = seen.state.proving[: number + 1]
    return proved(replace(seen.state, proving=events), events[-1].at)
