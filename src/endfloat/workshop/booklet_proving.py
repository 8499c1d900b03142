"""Proving on paper: priming, both lists, the stops, a log to fill in, the run-in and what is looked at again."""

from __future__ import annotations

from endfloat.engine.model import Engine
from endfloat.engine.operations import Caution
from endfloat.engine.proving import PrimingStep, Proving


def proving_on_paper(engine: Engine) -> dict[str, object] | None:
    """The plain values; None where the description does not say how the engine is proved."""
    proving = engine.proving
    if proving is None:
        return None
    return {
        "priming": [_priming(proving, step) for step in proving.priming.values()],
        "lists": [
            {
                "role": role,
                "items": [with_page(item.what, item.page) for item in proving.ready.values() if item.asked_of(role)],
            }
            for role in ("first", "second")
        ],
        "seen": [item.what for item in proving.ready.values() if item.sees],
        "stops": [
            with_page(f"{proving.gauges[rule.gauge].title}: {rule.bound}. {rule.say}", rule.page)
            for rule in proving.stop_now.values()
        ],
        "gauges": [gauge.title + (f", {gauge.unit}" if gauge.unit else "") for gauge in proving.gauges.values()],
        "run_in": [
            {
                "title": stage.title,
                "lasts": stage.lasts.text if stage.lasts else "",
                "words": " · ".join(
                    f"{what}: {word}" for what, word in (("speed", stage.speed), ("load", stage.load)) if word
                ),
                "page": stage.page or "",
                "then": [_recheck(proving, name) for name in proving.due_after(key)],
            }
            for key, stage in proving.run_in.items()
        ],
    }


def _priming(proving: Proving, step: PrimingStep) -> dict[str, object]:
    shows = step.shows
    return {
        "title": with_page(step.title, step.page),
        "amount": step.amount.text if step.amount else "",
        "fill_amount": "amount" in step.model_fields_set and step.amount is None,
        "shows": f"{proving.gauges[shows.gauge].title}: {shows.words or 'what it must show, look it up'}"
        if shows
        else "",
        "looks": [{"what": look.what, "two": look.second_person} for look in step.looks],
        "cautions": [caution_words(each) for each in step.cautions],
        "why": step.why,
    }


def _recheck(proving: Proving, name: str) -> str:
    item = proving.recheck[name]
    amount = f", {item.amount.text}" if item.amount else ""
    return with_page(item.what + amount, item.page)


def caution_words(caution: Caution) -> dict[str, str]:
    """A caution with its signal word."""
    return {"word": caution.signal_word, "words": f"{caution.consequence} {caution.avoidance}"}


def with_page(words: str, page: int | None) -> str:
    """Words with the page of the service book they stand on."""
    return f"{words} (page {page})" if page else words
