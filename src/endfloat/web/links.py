"""Addresses of pages that other pages lead to."""

from __future__ import annotations

from urllib.parse import quote

from endfloat.inspection.evaluate import spots_of
from endfloat.inspection.judge import Finding
from endfloat.workshop.view import View


def number_link(finding: Finding) -> str:
    """The page on which a finding opens up."""
    return "/number/" + "/".join(quote(part) for part in finding.key)


def measure_link(characteristic: str, place: str) -> str:
    """The page on which a place is measured."""
    return f"/measure/{quote(characteristic)}/{quote(place)}"


def measured_spots(seen: View, on: str, place: str) -> list[tuple[str, str]]:
    """The characteristics and places behind a value that a gauge is put to."""
    spots = spots_of(seen.engine, on, place)
    return [spot for spot in spots if seen.engine.characteristics[spot[0]].given is None]


def entry_link(seen: View, finding: Finding) -> str:
    """Where the first readings behind a finding are taken; the number itself when no gauge is put to it."""
    spot = next(iter(measured_spots(seen, finding.on, finding.place)), None)
    return measure_link(*spot) if spot else number_link(finding)
