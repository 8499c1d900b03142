"""A step whose turn has come is done once everything that it asks for was answered."""

from __future__ import annotations

from endfloat.engine.asks import HIDDEN_ANSWERS, Asks, asks_of, same_mark
from endfloat.engine.model import Engine
from endfloat.job.events import StepConfirmed
from endfloat.problems import Problem


def unanswered(engine: Engine, event: StepConfirmed) -> Problem | None:
    """Why a step is not done yet though its turn has come; None when all that it asks for is answered."""
    title, asks = engine.operations[event.operation].title, asks_of(engine, event.operation)
    found = [*_mark(title, asks, event), *_counts(title, asks, event), *_looks(title, asks, event)]
    return next(iter([*found, *_hidden(title, asks, event), *_second(title, asks, event)]), None)


def _mark(title: str, asks: Asks, event: StepConfirmed) -> list[Problem]:
    if not asks.mark or same_mark(event.mark, asks.mark):
        return []
    if not event.mark.strip():
        return [Problem("no_mark", title, "no mark", "the mark on the part", "Read it off the part, then type it.")]
    expected = f"`{asks.mark}`, the part that belongs here"
    return [Problem("other_part", title, f"`{event.mark}`", expected, "Put that part back and take the right one.")]


def _counts(title: str, asks: Asks, event: StepConfirmed) -> list[Problem]:
    for what, wanted in asks.counts.items():
        typed = event.counted.get(what, "").strip()
        if typed != str(wanted):
            found = f"{what}: {typed}" if typed else f"{what}: not counted"
            return [Problem("wrong_count", title, found, str(wanted), "Count again; look for the one that is missing.")]
    return []


def _looks(title: str, asks: Asks, event: StepConfirmed) -> list[Problem]:
    unseen = [look.what for look in asks.looks if look.what not in event.looked]
    if not unseen:
        return []
    return [
        Problem("not_looked", title, f"not ticked: {'; '.join(unseen)}", "every look ticked", "Look, then tick it.")
    ]


def _hidden(title: str, asks: Asks, event: StepConfirmed) -> list[Problem]:
    for part in asks.hides:
        if event.hidden.get(part, "") not in HIDDEN_ANSWERS:
            expected = " or ".join(HIDDEN_ANSWERS.values())
            return [
                Problem("not_answered", title, f"{part}: no answer", expected, "Look at it now, it is hidden next.")
            ]
    return []


def _second(title: str, asks: Asks, event: StepConfirmed) -> list[Problem]:
    if not any(look.second_person for look in asks.looks):
        return []
    if event.second.strip().casefold() not in ("", event.by.strip().casefold()):
        return []
    found = "no second name" if not event.second.strip() else "the same name twice"
    remedy = "Ask somebody else to look, and type that name."
    return [Problem("no_second", title, found, "a second person's name", remedy)]
