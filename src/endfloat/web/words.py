"""Words that several pages share: places, values, limits and chances as a person reads them."""

from __future__ import annotations

from endfloat.inspection.judge import Finding
from endfloat.inspection.verdicts import Verdict
from endfloat.quantities.shown_text import shown_estimate, shown_number
from endfloat.workshop.view import View

FAMILIES = ("Out", "Unsettled", "Open", "Holds")


def label(seen: View, on: str, place: str) -> str:
    """The place and the thing in words."""
    words = f"{seen.engine.place_label(seen.engine.family_of(on), place)}, {on.replace('_', ' ')}"
    return words[0].upper() + words[1:]


def number(finding: Finding) -> str:
    """The value with twice its standard uncertainty; empty when it is not known."""
    if finding.estimate is None or finding.verdict is Verdict.ODD_READING:
        return ""
    return shown_estimate(finding.estimate, finding.unit)


def limit_words(finding: Finding) -> str:
    """The limit in words, with its page."""
    low, high = finding.bounds.low, finding.bounds.high
    parts = [
        f"{word} {shown_number(bound, finding.unit)}"
        for word, bound in (("at least", low), ("at most", high))
        if bound is not None
    ]
    page = f", page {finding.page}" if finding.page else ""
    return f"{', '.join(parts)} {finding.unit.shown}".rstrip() + page if parts else "no limit entered"


def chances(probability: float) -> str:
    """A probability in words; never quite none or all."""
    whole = round(probability * 100)
    if whole < 1:
        return "Fewer than 1 chance in 100"
    return "More than 99 chances in 100" if whole > 99 else f"About {whole} chances in 100"


def spot_words(station: str, axis: str) -> str:
    """Station and axis in words, for a part that is measured at one spot too."""
    return " ".join(word for word in (station, axis) if word != "-") or "at its one spot"
