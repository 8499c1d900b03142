"""Findings in words, the same on page, paper and command line."""

from __future__ import annotations

from endfloat.engine.model import Engine
from endfloat.engine.sentences import capital
from endfloat.inspection.judge import Finding
from endfloat.inspection.verdicts import Verdict
from endfloat.quantities.shown_text import shown_estimate, shown_in_full

CLEAN_UP = "clean_up"


def thing_words(name: str) -> str:
    """A characteristic or quantity as words."""
    return name.replace("_", " ")


def place_words(engine: Engine, on: str, place: str) -> str:
    """The place in words: "left 3", "pin 3", "left head"; nothing where there is only one such place."""
    quantity = engine.quantities.get(on)
    family = engine.family_of(on)
    if (quantity is not None and quantity.over is not None) or len(engine.places[family].names) == 1:
        return ""
    words = engine.place_label(family, place)
    if not place.isdigit():
        return f"{words} {family}"
    return f"{family} {words}" if words == place else words


def label(engine: Engine, on: str, place: str) -> str:
    """The place and the thing: "Left 3, bore wear"."""
    if on.startswith(CLEAN_UP):
        _, decision, option = on.split()
        words = f"{place}, metal to clean up ({engine.decisions[decision].options[option].title})"
    else:
        where = place_words(engine, on, place)
        words = f"{where}, {thing_words(on)}" if where else thing_words(on)
    return capital(words)


def place_label(engine: Engine, characteristic: str, place: str) -> str:
    """The same for what was typed or sent: plain words where the engine has no such place."""
    described = engine.characteristics.get(characteristic)
    if described is None or place not in engine.places[described.at].names:
        return f"{place}, {thing_words(characteristic)}"
    return label(engine, characteristic, place)


def number(finding: Finding) -> str:
    """The value with twice its standard uncertainty; empty when it is not known."""
    if finding.estimate is None or finding.verdict is Verdict.ODD_READING:
        return ""
    return shown_estimate(finding.estimate, finding.unit)


def limit_words(finding: Finding) -> str:
    """The limit in words, with its page."""
    sides = (("at least", finding.bounds.low), ("at most", finding.bounds.high))
    parts = [f"{word} {shown_in_full(bound, finding.unit)}" for word, bound in sides if bound is not None]
    page = f", page {finding.page}" if finding.page else ""
    return f"{', '.join(parts)} {finding.unit.shown}".rstrip() + page if parts else "no limit entered"


def sentence(engine: Engine, finding: Finding) -> str:
    """One line that says what reads what against which limit."""
    value = number(finding) or finding.verdict.words.lower()
    return f"{label(engine, finding.on, finding.place)} {value}; limit {limit_words(finding)}."
