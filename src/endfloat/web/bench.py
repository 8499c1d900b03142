"""What the measure page shows: the spot to measure now, what was read, questions, verdicts, what comes next."""

from __future__ import annotations

import secrets
from collections.abc import Mapping
from dataclasses import dataclass

from markupsafe import Markup

from endfloat.drawings.bore_section import Read, bore_section
from endfloat.engine.book_units import book_unit
from endfloat.engine.model import Characteristic
from endfloat.engine.spots import along_and_across
from endfloat.inspection.evaluate import sources_of
from endfloat.inspection.judge import Finding
from endfloat.inspection.measured import ANSWERS
from endfloat.inspection.offered import offered
from endfloat.inspection.words import label, place_words
from endfloat.job.events import ReadingTaken
from endfloat.web.links import measure_link
from endfloat.web.words import spot_words
from endfloat.workshop.view import View, as_reading

Grid = list[tuple[str, str, list[ReadingTaken]]]


@dataclass(frozen=True, slots=True)
class Question:
    """A reading that looks like a slip, and what is asked about it."""

    reading: ReadingTaken
    words: str


def bench_context(seen: View, characteristic: str, place: str, typed: Mapping[str, str]) -> dict[str, object]:
    """All that the template needs; `typed` is what a person just typed, kept."""
    described = seen.engine.characteristics[characteristic]
    spots = seen.readings_at(characteristic, place)
    grid = [(s, a, spots.get((s, a), [])) for s in described.stations for a in described.axes]
    missing = [f"{s}|{a}" for s, a, taken in grid if not taken]
    fields = {**usual_fields(seen, characteristic), "spot": (missing or [f"{grid[0][0]}|{grid[0][1]}"])[0], **typed}
    station, _, axis = fields["spot"].partition("|")
    return {
        "job": seen,
        "label": label(seen.engine, characteristic, place),
        "place": place_words(seen.engine, characteristic, place) or "the whole engine",
        "action": measure_link(characteristic, place),
        "grid": grid,
        "count": count_words(grid, (station, axis)),
        "here": spot_words(station, axis),
        "key": secrets.token_hex(16),
        "typed": fields,
        "unit": book_unit(seen.engine, characteristic).shown,
        "gauges": offered(seen.engine, seen.gauges, characteristic),
        "drawing": strip(described, grid, (station, axis)),
        "questions": [Question(t, seen.questions[t.key]) for _, _, c in grid for t in c if t.key in seen.questions],
        "complete": not missing,
        "aside": seen.evidence.aside.get((characteristic, place)),
        "left": seen.state.left.get((characteristic, place)),
        "answers": {code: code.replace("_", " ").capitalize() for code in ANSWERS},
        "findings": [f for f in seen.findings if rests_on(seen, f, characteristic, place)],
        "next": next_place(seen, characteristic, place),
    }


def usual_fields(seen: View, characteristic: str) -> dict[str, str]:
    """The gauge last used here and the person who last entered something by hand."""
    used = next((t for t in reversed(seen.state.standing) if t.characteristic == characteristic), None)
    person = next((t for t in reversed(seen.state.standing) if not t.key.startswith("file-")), None)
    return {"text": "", "gauge": used.gauge if used else "", "by": person.by if person else ""}


def count_words(grid: Grid, here: tuple[str, str]) -> str:
    """Which reading this is: "reading 3 of 6", or a repeat."""
    at = next((n for n, (station, axis, _) in enumerate(grid, start=1) if (station, axis) == here), 0)
    taken = next((column for station, axis, column in grid if (station, axis) == here), [])
    repeat = f", repeat {len(taken)}" if taken else ""
    return f"reading {at} of {len(grid)}{repeat}"


def strip(described: Characteristic, grid: Grid, here: tuple[str, str]) -> Markup:
    """The place unrolled, with the arrow at the spot; nothing for a place of one spot."""
    if len(grid) == 1:
        return Markup()
    read = {
        along_and_across(station, axis): Read(taken[-1].text, as_reading(taken[-1]).typed.si)
        for station, axis, taken in grid
        if taken
    }
    stations = [along_and_across(station, described.axes[0])[0] for station in described.stations]
    axes = [along_and_across(described.stations[0], axis)[1] for axis in described.axes]
    name = f"The spots of this place, stations down, axes across; measure {spot_words(*here)} now"
    return Markup(bore_section(stations, axes, read, along_and_across(*here), name=name))


def rests_on(seen: View, finding: Finding, characteristic: str, place: str) -> bool:
    """Does this finding, at this place, rest on the characteristic?"""
    return finding.place == place and characteristic in sources_of(seen.engine, finding.on)


def next_place(seen: View, characteristic: str, place: str) -> tuple[str, str] | None:
    """Words and link of the next place that lacks a reading: first those on the slip, then as the description goes."""
    taken = seen.taken_spots
    slip = [reading.spot[:2] for reading in seen.slip]
    order = [spot[:2] for spot in seen.wanted_in_order if spot not in taken]
    after = next((at for at in [*slip, *order] if at != (characteristic, place)), None)
    return (label(seen.engine, *after), measure_link(*after)) if after else None
