"""Whether something may be recorded at the strip now, and which steps of the build an open gate holds."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from endfloat.assembly.violations import Violation
from endfloat.engine.model import Engine
from endfloat.engine.strip import Removal
from endfloat.job.events import BuildEvent, StepConfirmed, StepDoneAgainstAdvice
from endfloat.job.strip import (
    Place,
    Spot,
    Stripped,
    as_found_asked,
    as_found_open,
    care_of,
    frees,
    stripped,
    waits_for,
)
from endfloat.job.strip_events import (
    AsFoundNoted,
    GateEvent,
    OrientationChosen,
    PartCrackTested,
    PartRemoved,
    PhotoBound,
    PhotoLeftOut,
    PlaceLabelled,
    RemovalUndone,
    StripAnswer,
    StripAnswerTakenBack,
    StripEvent,
)
from endfloat.problems import Problem

GATE, CRACKED = "clean_and_sound", "cracked"
LARGEST_PHOTO = 12_000_000
MEDIA = ("image/jpeg", "image/png")
MOST_OUT = 999


def strip_refusal(
    engine: Engine,
    events: tuple[StripEvent, ...],
    event: StripEvent,
    read: Collection[Spot],
    left: Collection[tuple[str, str]],
) -> Problem | None:
    """Why this may not be recorded now; None when it may. `read` and `left` are the spots and places answered for."""
    if event.removal not in engine.strip:
        found, remedy = f"`{event.removal}`", "Choose it again from the list."
        return Problem("unknown_removal", "the strip", found, "a removal of this engine", remedy)
    removal, all_of_it = engine.strip[event.removal], stripped(engine, events)
    here = all_of_it.of(event.removal)
    if event.key in {each.key for each in events}:
        return _no(removal, "key_used", "a key used before", "a new key", "Send it under a new key.")
    if not event.by.strip():
        return _no(removal, "no_name", "no name", "who did it", "Type a name; it goes on the record.")
    if isinstance(event, PartRemoved):
        return removal_refusal(engine, all_of_it, event, read, left)
    if isinstance(event, RemovalUndone | StripAnswerTakenBack):
        return _correction_refused(removal, here, event)
    return _answer_refused(engine, removal, here, event, was_noted(events, event))


def was_noted(events: Iterable[StripEvent], event: StripEvent) -> bool:
    """Whether the same question had an answer before, which may since have been taken back."""
    return isinstance(event, AsFoundNoted) and any(
        isinstance(each, AsFoundNoted) and (each.removal, each.asked) == (event.removal, event.asked) for each in events
    )


def removal_refusal(
    engine: Engine,
    all_of_it: Stripped,
    event: PartRemoved,
    read: Collection[Spot],
    left: Collection[tuple[str, str]],
) -> Problem | None:
    """Why a part may not be called off yet: first what waits on the engine, then what was not asked, then the count."""
    removal, here = engine.strip[event.removal], all_of_it.of(event.removal)
    if here.off is not None:
        return _no(removal, "already_off", f"off already, by {here.off.by}", "a part that is on", "Look at the list.")
    waits = waits_for(engine, all_of_it.off, event.removal)
    if waits:
        titles = "; ".join(engine.strip[each].title for each in frees(engine, all_of_it.off, event.removal)[:3])
        found = f"still on: {'; '.join(engine.strip[each].title for each in waits)}"
        return _no(removal, "still_on", found, "what comes off first", f"Do first: {titles}.")
    return _unasked(engine, removal, here, read, left) or _miscounted(removal, event)


def _unasked(
    engine: Engine, removal: Removal, here: Place, read: Collection[Spot], left: Collection[tuple[str, str]]
) -> Problem | None:
    unread = as_found_open(engine, removal, here, read, left)
    if unread:
        found, expected = f"not noted: {unread[0].name.replace('_', ' ')}", "what can not be read once it is off"
        return _no(removal, "as_found_open", found, expected, "Note it now, or say why it is left out.")
    if here.label is None:
        remedy = "Tie the label on while the part sits in its place, then confirm it."
        return _no(removal, "no_label", "no label on it", "its label", remedy)
    if removal.orientation is not None and here.orientation is None:
        return _no(removal, "no_orientation", "not said how it sits", "one of the two pictures", "Look, then choose.")
    if removal.photograph and here.photo is None:
        remedy = "Take it, or type in a word or two why there is none."
        return _no(removal, "no_photo", "no photograph and no reason", "one of them", remedy)
    return None


def _miscounted(removal: Removal, event: PartRemoved) -> Problem | None:
    expected = {each.name: each.count for each in removal.fasteners}
    if set(event.out) != set(expected):
        missed = ", ".join(sorted(set(expected) ^ set(event.out)))
        return _no(removal, "not_counted", f"no count of {missed}", "a count of each sort", "Count them, then type it.")
    for name, wanted in expected.items():
        out = event.out[name]
        if not 0 <= out <= MOST_OUT:
            return _no(removal, "wrong_count", f"{out} {name}", f"a count from 0 to {MOST_OUT}", "Count them again.")
        if out != wanted and not event.account.get(name, "").strip():
            found, more = f"{out} of {wanted} {name}", "more than the description knows" if out > wanted else "not out"
            remedy = "Look for it before you lever. If it broke or was missing, say so beside the count."
            return _no(removal, "count_differs", found, f"{wanted}, or an account of what is {more}", remedy)
    return None


def _answer_refused(
    engine: Engine, removal: Removal, here: Place, event: StripAnswer, noted_before: bool
) -> Problem | None:
    if isinstance(event, AsFoundNoted):
        return _note_refused(engine, removal, here, event, noted_before)
    if isinstance(event, PlaceLabelled):
        wanted = tuple(each.label for each in removal.parts)
        if event.labels != wanted:
            return _no(removal, "other_label", "; ".join(event.labels), "; ".join(wanted), "Open the page again.")
        return _answered(removal, "label", here.label)
    if isinstance(event, OrientationChosen):
        words = [each.words for each in removal.orientation.choices] if removal.orientation else []
        if event.choice not in words:
            found, expected = event.choice or "no picture chosen", " or ".join(words) or "nothing: it is not asked"
            return _no(removal, "unknown_choice", found, expected, "Choose one of the two pictures.")
        return _answered(removal, "picture", here.orientation)
    if isinstance(event, PhotoBound | PhotoLeftOut):
        return _photo_refused(removal, here, event)
    return _gate_refused(removal, here, event)


def _note_refused(
    engine: Engine, removal: Removal, here: Place, event: AsFoundNoted, noted_before: bool
) -> Problem | None:
    if event.asked not in [each.name for each in as_found_asked(engine, removal)]:
        return _no(removal, "not_asked", f"`{event.asked}`", "something that is asked here", "Open the page again.")
    if event.asked in here.noted:
        return _answered(removal, "note", here.noted[event.asked])
    if bool(event.found.strip()) == bool(event.reason.strip()):
        found = "both a finding and a reason against it" if event.found.strip() else "neither a finding nor a reason"
        return _no(removal, "found_or_reason", found, "one of them", "Type what you found, or why you did not look.")
    if event.found.strip() and here.off is not None and not noted_before:
        found, remedy = "a finding after the part came off", "Say why it was not looked at."
        return _no(removal, "too_late", found, "one from before", remedy)
    return None


def _photo_refused(removal: Removal, here: Place, event: PhotoBound | PhotoLeftOut) -> Problem | None:
    if isinstance(event, PhotoLeftOut):
        if not event.reason.strip():
            return _no(removal, "no_reason", "no reason", "why there is no photograph", "Say it in a word or two.")
        return _answered(removal, "photograph", here.photo)
    if event.media not in MEDIA:
        return _no(removal, "not_a_photo", event.media, "a JPEG or PNG picture", "Take it again, or type a reason.")
    if not 0 < event.size <= LARGEST_PHOTO:
        found, expected = f"{event.size:,} bytes", f"at most {LARGEST_PHOTO:,}"
        return _no(removal, "photo_too_large", found, expected, "Let the camera make it smaller.")
    if isinstance(here.photo, PhotoBound):
        return _answered(removal, "photograph", here.photo)
    return None


def _gate_refused(removal: Removal, here: Place, event: GateEvent) -> Problem | None:
    care = care_of(event)
    gate = next((each for name, each in removal.gates.items() if name == care), None)
    if gate is None:
        return _no(removal, "no_gate", care.replace("_", " "), "what this part is asked for", "Open the page again.")
    if here.off is None:
        return _no(removal, "still_on", "a part that is on", "a part that is off", "Take it off first.")
    if isinstance(event, PartCrackTested) and "clean" in removal.gates and "clean" not in here.gates:
        return _no(
            removal, "not_clean", "a part not yet cleaned", "a clean part", "Clean it first; dirt hides a crack."
        )
    unseen = [look for look in gate.looks if look not in event.looked]
    if unseen:
        return _no(removal, "not_looked", f"not ticked: {'; '.join(unseen)}", "every look ticked", "Look, then tick.")
    return _answered(removal, "entry", here.gates.get(care))


def _answered(removal: Removal, what: str, answer: StripAnswer | None) -> Problem | None:
    if answer is None:
        return None
    found, remedy = f"a {what} already, by {answer.by}", f"Take the earlier {what} back first, with a reason."
    return _no(removal, "answered", found, f"no {what} yet", remedy)


def _correction_refused(removal: Removal, here: Place, event: RemovalUndone | StripAnswerTakenBack) -> Problem | None:
    if isinstance(event, RemovalUndone) and here.off is None:
        return _no(removal, "not_off", "a part that is on", "a part that is off", "Look at the list again.")
    if isinstance(event, StripAnswerTakenBack) and event.answer not in {each.key for each in here.answers}:
        found, expected = "an answer that does not stand", "one that does"
        return _no(removal, "no_answer", found, expected, "Look at the page again.")
    if not event.reason.strip():
        return _no(removal, "no_reason", "no reason", "a reason", "Say in a word or two why.")
    return None


def _no(removal: Removal, code: str, found: str, expected: str, remedy: str) -> Problem:
    return Problem(code, removal.title, found, expected, remedy)


def gate_holds(engine: Engine, events: Iterable[StripEvent], operation: str) -> list[Violation]:
    """Why a step of the build waits for a part that came off in this job and is not clean, not tested, or cracked."""
    all_of_it = stripped(engine, events)
    found = []
    for name in all_of_it.off:
        removal, here = engine.strip[name], all_of_it.of(name)
        for care, gate in removal.gates.items():
            if operation not in gate.holds:
                continue
            answer = here.gates.get(care)
            words = "not tested for cracks" if care == "crack_test" else "not cleaned"
            parts = ", ".join(each.part for each in removal.parts)
            if answer is None:
                found.append(
                    Violation(
                        GATE, (operation,), f"{parts}: {words} since it came off ({gate.how}). Say so at the strip."
                    )
                )
            elif isinstance(answer, PartCrackTested) and answer.crack:
                found.append(Violation(CRACKED, (operation,), f"{parts}: cracked. {answer.crack}"))
    return found


def gate_refusal(engine: Engine, events: Iterable[StripEvent], event: BuildEvent) -> Problem | None:
    """Why a step may not be done for an open gate's sake; signed against advice it may, but never on a cracked part."""
    if not isinstance(event, StepConfirmed | StepDoneAgainstAdvice) or event.operation not in engine.operations:
        return None
    signed = isinstance(event, StepDoneAgainstAdvice)
    held = [each for each in gate_holds(engine, events, event.operation) if not signed or each.relation == CRACKED]
    if not held:
        return None
    title, remedy = (
        engine.operations[event.operation].title,
        "Clean it and test it, and say so on its page of the strip.",
    )
    return Problem("gate_open", title, held[0].sentence, "a part that is clean and sound", remedy)
