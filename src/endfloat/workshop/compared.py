"""As found beside now: has the engine changed by more than the gauges can mix up?"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from endfloat.engine.book_units import book_unit
from endfloat.engine.proving import Compared
from endfloat.engine.spots import spot_words
from endfloat.inspection.measured import Answer, Evidence, Gap, measured
from endfloat.inspection.readings import Reading
from endfloat.inspection.words import place_words
from endfloat.job.proof import Proof
from endfloat.job.proving_events import ReadAgain
from endfloat.quantities.estimates import Estimate, propagate
from endfloat.quantities.shown_text import in_unit, shown_estimate
from endfloat.quantities.typed_text import Typed, read_typed
from endfloat.quantities.units import Unit
from endfloat.workshop.view import View, evidence_as_found

Mark = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Beside:
    """One place: what was found, what is read now, what the difference says, both as marks, and the spots to read."""

    place: str
    label: str
    found: str
    now: str
    words: str
    found_mark: Mark | None
    now_mark: Mark | None
    open_spots: tuple[tuple[str, str], ...]


def compared_rows(seen: View, proof: Proof, name: str, each: Compared) -> list[Beside]:
    """Every place of what is compared, as found beside now."""
    described, unit = seen.engine.characteristics[each.of], book_unit(seen.engine, each.of)
    taken = [event for event in proof.read_again if event.compared == name]
    readings = tuple(as_reading(each.of, event) for event in taken)
    now_at = measured(seen.engine, Evidence(readings, seen.gauges, frozenset(readings)), {each.of})[each.of]
    found_at = measured(seen.engine, evidence_as_found(seen), {each.of})[each.of]
    # A gauge may have been set again since the engine came: its error is not taken to be the same twice.
    again = {place: _renamed(answer) for place, answer in now_at.items()}
    spots = [(station, axis) for station in described.stations for axis in described.axes]
    rows = []
    for place in seen.engine.places[described.at].names:
        found, now = found_at[place], again[place]
        label = place_words(seen.engine, each.of, place) or "the whole engine"
        told = (_shown(found, unit, "not found out when it came"), _shown(now, unit, "not read yet"))
        words = difference_words(found, now, each, unit)
        done = {(event.station, event.axis) for event in taken if event.place == place}
        left = tuple(spot for spot in spots if spot not in done)
        rows.append(Beside(place, label, *told, words, _mark(found, unit), _mark(now, unit), left))
    return rows


def difference_words(found: Answer, now: Answer, each: Compared, unit: Unit) -> str:
    """What the difference says; a difference within twice its standard uncertainty is none that the gauges show."""
    if isinstance(found, Gap) or isinstance(now, Gap):
        return "Nothing to compare yet." if isinstance(now, Gap) else "Nothing to compare with; this is the first."
    [change] = propagate(lambda before, after: after - before, {"before": [found], "after": [now]})
    if abs(change.value) <= 2 * change.standard_uncertainty:
        return "No change that the gauges can show."
    way = "higher" if change.value > 0 else "lower"
    by = shown_estimate(replace(change, value=abs(change.value)), replace(unit, added=unit.added * 0))
    judged = "" if each.worse is None else ", which is worse" if way == each.worse else ", which is better"
    return f"{way[0].upper()}{way[1:]} by {by}{judged}."


def as_reading(characteristic: str, event: ReadAgain) -> Reading:
    """The reading of an event; it was read once before it was recorded, so it reads again."""
    typed = read_typed(event.text, kind=None, place=event.place)
    assert isinstance(typed, Typed), "the rules refuse what cannot be read"
    return Reading(characteristic, event.place, event.station, event.axis, typed, event.gauge)


def spot_options(row: Beside) -> Mapping[str, str]:
    """The spots still to read at a place, in words."""
    return {f"{row.place}|{s}|{a}": spot_words(s, a) or "at its one spot" for s, a in row.open_spots}


def _renamed(answer: Answer) -> Answer:
    if isinstance(answer, Gap):
        return answer
    return Estimate(answer.value, {f"{name}, after the run": source for name, source in answer.sources.items()})


def _mark(answer: Answer, unit: Unit) -> Mark | None:
    """A value and the half-width of its bar, in the unit of the book."""
    if isinstance(answer, Gap):
        return None
    return in_unit(answer.value, unit), 2 * answer.standard_uncertainty / float(unit.factor)


def _shown(answer: Answer, unit: Unit, otherwise: str) -> str:
    return shown_estimate(answer, unit) if isinstance(answer, Estimate) else otherwise
