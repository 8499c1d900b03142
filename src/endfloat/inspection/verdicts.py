"""The verdict on one requirement. The table of precedence lives here and nowhere else."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from endfloat.quantities.estimates import Estimate, probability_within


class Verdict(Enum):
    """Stable code (used in JSON and events), the words on screen, and the family for counts.

    The first eight are reasons not to judge, in the order in which they are told: the first that holds is the verdict.
    """

    DOES_NOT_APPLY = ("does_not_apply", "Does not apply", "Open")
    NO_LIMIT = ("no_limit", "No limit entered", "Open")
    NOT_MEASURED = ("not_measured", "Not measured", "Open")
    OUTDATED = ("outdated", "Measured before the last machining", "Open")
    READINGS_MISSING = ("readings_missing", "Readings missing", "Open")
    ODD_READING = ("odd_reading", "Odd reading: please look", "Open")
    CHECK_ZERO = ("check_zero", "Check zero", "Open")
    OTHER_METHOD = ("other_method", "Limit is for another way of measuring", "Open")
    GOOD = ("good", "Good", "Holds")
    LOOKS_GOOD = ("looks_good", "Looks good, too close to call", "Unsettled")
    LOOKS_OUT = ("looks_out", "Looks out, too close to call", "Unsettled")
    OUT = ("out", "Out of limits", "Out")
    GAUGE_TOO_COARSE = ("gauge_too_coarse", "Gauge too coarse for this limit", "Unsettled")
    TOO_SMALL_TO_SHOW = ("too_small_to_show", "Too small for this gauge to show", "Unsettled")

    def __init__(self, code: str, words: str, family: str) -> None:
        self.code = code
        self.words = words
        self.family = family

    @property
    def rank(self) -> int:
        """Place in the order in which reasons not to judge are told."""
        return list(Verdict).index(self)


@dataclass(frozen=True, slots=True)
class Rule:
    """How sure is sure enough. 95 % is the default of ISO 14253-1:2017 (seen in secondary text)."""

    proved: float = 0.95


@dataclass(frozen=True, slots=True)
class Bounds:
    """A limit in SI; a missing side is open."""

    low: float | None
    high: float | None


def best_probability(estimate: Estimate, bounds: Bounds) -> float:
    """The most that any reading with this uncertainty could reach: the value in the middle."""
    if bounds.low is None or bounds.high is None:
        return 1.0
    middle = Estimate((bounds.low + bounds.high) / 2, estimate.sources)
    return probability_within(middle, low=bounds.low, high=bounds.high)


def judged(estimate: Estimate, bounds: Bounds, rule: Rule, noise: float | None = None) -> tuple[Verdict, float]:
    """The verdict on a value that can be judged, and its probability of lying within the limits.

    `noise` is the range that the scatter of the gauge alone would show; a smaller one says nothing unless it is proved.
    """
    probability = probability_within(estimate, low=bounds.low, high=bounds.high)
    if probability >= rule.proved:
        return Verdict.GOOD, probability
    if probability <= 1 - rule.proved:
        return Verdict.OUT, probability
    if noise is not None and estimate.value < noise:
        return Verdict.TOO_SMALL_TO_SHOW, probability
    if best_probability(estimate, bounds) < rule.proved:
        return Verdict.GAUGE_TOO_COARSE, probability
    return (Verdict.LOOKS_GOOD if probability >= 0.5 else Verdict.LOOKS_OUT), probability
