"""Why an entry of proving that has a key may not be recorded now: priming, the log, run-in, re-check, reading again."""

from __future__ import annotations

from endfloat.engine.model import Engine
from endfloat.engine.proving import Proving
from endfloat.job.proof import Proof, value_of
from endfloat.job.proving_events import GaugeLogged, Keyed, PrimingDone, ReadAgain, RecheckDone, RunInLogged
from endfloat.problems import Problem
from endfloat.quantities.typed_text import Typed, read_typed


def deed_refusal(proving: Proving, engine: Engine, proof: Proof, event: Keyed) -> Problem | None:
    """Why this may not be recorded now; None when it may."""
    if isinstance(event, PrimingDone):
        return _priming(proving, proof, event)
    if isinstance(event, GaugeLogged):
        return _log(proving, proof, event)
    if proof.first is None:
        return Problem("not_fired", "proving", "not fired yet", "an engine that has run", "See what is open first.")
    if isinstance(event, RunInLogged):
        return _run_in(proving, proof, event)
    if isinstance(event, RecheckDone):
        return _recheck(proving, proof, event)
    return _read_again(proving, engine, event)


def _priming(proving: Proving, proof: Proof, event: PrimingDone) -> Problem | None:
    step = proving.priming.get(event.step)
    if step is None:
        return Problem("unknown_step", "priming", f"`{event.step}`", "a step of priming", "Choose it again.")
    if event.step in proof.primed:
        return Problem("done_already", step.title, "done already", "a step still to do", "Look at the list again.")
    order = list(proving.priming)
    earlier = [proving.priming[name].title for name in order[: order.index(event.step)] if name not in proof.primed]
    if earlier:
        return Problem("too_early", step.title, "not its turn", "what comes first", f"Do first: {earlier[0]}.")
    unseen = [look.what for look in step.looks if look.what not in event.looked]
    if unseen:
        found = f"not ticked: {'; '.join(unseen)}"
        return Problem("not_looked", step.title, found, "every look ticked", "Look, then tick it.")
    if any(look.second_person for look in step.looks) and event.second.strip().casefold() in (
        "",
        event.by.strip().casefold(),
    ):
        remedy = "Ask somebody else to look, and type that name."
        return Problem("no_second", step.title, "no second name", "a second person's name", remedy)
    if step.shows is None:
        return None
    value = value_of(proving.gauges.get(step.shows.gauge), event.showed)
    if isinstance(value, Problem):
        return value
    low, high = step.shows.low, step.shows.high
    if isinstance(value, Typed) and (
        (low is not None and value.exact_si < low.exact_si) or (high is not None and value.exact_si > high.exact_si)
    ):
        page = f", page {step.shows.page}" if step.shows.page else ""
        remedy = "Go on until it shows that, or find out why it does not. The engine is not fired before."
        return Problem("not_shown", step.title, value.text, f"{step.shows.words}{page}", remedy)
    return None


def _log(proving: Proving, proof: Proof, event: GaugeLogged) -> Problem | None:
    if proof.start is None:
        return Problem("not_running", "the log", "an engine that stands still", "a running engine", "Fire it first.")
    value = value_of(proving.gauges.get(event.gauge), event.text)
    return value if isinstance(value, Problem) else None


def _run_in(proving: Proving, proof: Proof, event: RunInLogged) -> Problem | None:
    stage = proving.run_in.get(event.stage)
    if stage is None:
        return Problem("unknown_stage", "run-in", f"`{event.stage}`", "a stage of the run-in", "Choose it again.")
    if proof.opened_again is not None:
        found = f"stopped at once: {proof.opened_again.reason}"
        return Problem("opened_again", stage.title, found, "both lists complete again", "Go through both lists first.")
    waits = waits_for(proving, proof, event.stage)
    if waits:
        return Problem("too_early", stage.title, "not its turn", "what comes first", f"Do first: {waits[0]}.")
    lasted = read_typed(event.lasted, kind=stage.lasts.unit.kind if stage.lasts else None, place=stage.title)
    if isinstance(lasted, Problem):
        return lasted
    if lasted.exact_si <= 0:
        return Problem("not_above_nought", stage.title, lasted.text, "more than nought", "Correct the slip.")
    return None


def waits_for(proving: Proving, proof: Proof, stage: str) -> list[str]:
    """What must be done before a stage of the run-in: earlier stages, and what is looked at again after them."""
    left = []
    for name, each in proving.run_in.items():
        if name == stage:
            break
        if not stage_done(proving, proof, name):
            left.append(each.title)
        left += [proving.recheck[item].what for item in proving.due_after(name) if not proof.done(item)]
    return left


def stage_done(proving: Proving, proof: Proof, stage: str) -> bool:
    """Whether a stage of the run-in was run as long as the description says; one with a blank, once it was run."""
    lasts = proving.run_in[stage].lasts
    return proof.ran(stage) >= lasts.exact_si if lasts else proof.ran(stage) > 0


def _recheck(proving: Proving, proof: Proof, event: RecheckDone) -> Problem | None:
    item = proving.recheck.get(event.item)
    if item is None:
        return Problem("unknown_item", "re-check", f"`{event.item}`", "something of the list", "Choose it again.")
    if not stage_done(proving, proof, item.after):
        title = proving.run_in[item.after].title
        return Problem("not_due", item.what, "not due yet", f"after {title}", "Run that stage first.")
    if proof.done(event.item):
        remedy = "Look at the list again."
        return Problem("done_already", item.what, "right already", "something still to look at", remedy)
    if not event.right and not event.found.strip():
        remedy = "Say in a word or two what is not right."
        return Problem("not_said", item.what, "nothing said", "what was found", remedy)
    return None


def _read_again(proving: Proving, engine: Engine, event: ReadAgain) -> Problem | None:
    compared = proving.compare.get(event.compared)
    if compared is None:
        return Problem("unknown_item", "compare", f"`{event.compared}`", "something compared", "Choose it again.")
    described = engine.characteristics[compared.of]
    places = engine.places[described.at].names
    if event.place not in places or event.station not in described.stations or event.axis not in described.axes:
        return Problem("unknown_place", compared.title, event.place, "a place of this engine", "Choose it again.")
    read = read_typed(event.text, kind=described.kind, place=compared.title)
    return read if isinstance(read, Problem) else None
