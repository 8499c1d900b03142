"""Words that several pages share: places, values, limits and chances as a person reads them."""

from __future__ import annotations

FAMILIES = ("Out", "Unsettled", "Open", "Holds")


def chances(probability: float) -> str:
    """A probability in words; never quite none or all."""
    whole = round(probability * 100)
    if whole < 1:
        return "Fewer than 1 chance in 100"
    return "More than 99 chances in 100" if whole > 99 else f"About {whole} chances in 100"


def spot_words(station: str, axis: str) -> str:
    """Station and axis in words, for a part that is measured at one spot too."""
    return " ".join(word for word in (station, axis) if word != "-") or "at its one spot"
