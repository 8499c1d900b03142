"""Words that several pages share: places, values, limits and chances as a person reads them."""

from __future__ import annotations

from latex2mathml.converter import convert
from markupsafe import Markup

from endfloat.drawings.marks import Limits, mark
from endfloat.engine import spots
from endfloat.inspection.judge import Finding
from endfloat.inspection.words import number

FAMILIES = ("Out", "Unsettled", "Open", "Holds")


def sides(finding: Finding) -> Limits:
    """Which sides the limit has, and which of them the value is nearer to."""
    low, high, estimate = finding.bounds.low, finding.bounds.high, finding.estimate
    near_low = low is not None and high is not None and estimate is not None and estimate.value < (low + high) / 2
    # Without any limit both posts are drawn, so that a gap's mark keeps its shape.
    both = low is None and high is None
    return Limits(low=both or low is not None, high=both or high is not None, near_low=near_low)


def finding_mark(finding: Finding, *, bench: bool = False, named: bool = False) -> Markup:
    """The mark of a finding; decoration beside its words unless it stands alone and is `named`."""
    name = f"{finding.verdict.words} {number(finding)}".strip() if named else ""
    return Markup(mark(finding.verdict.code, name, sides(finding), bench=bench))


def chances(probability: float) -> str:
    """A probability in words; never quite none or all."""
    whole = round(probability * 100)
    if whole < 1:
        return "Fewer than 1 chance in 100"
    return "More than 99 chances in 100" if whole > 99 else f"About {whole} chances in 100"


def spot_words(station: str, axis: str) -> str:
    """Station and axis in words, for a part that is measured at one spot too."""
    return spots.spot_words(station, axis) or "at its one spot"


def formula_drawn(tex: str) -> Markup:
    """A formula set as a browser sets it, in MathML."""
    return Markup(convert(tex))
