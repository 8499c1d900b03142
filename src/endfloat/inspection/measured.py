"""From readings to one estimate a characteristic and place, or the gap that prevents one."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from endfloat.engine.model import Characteristic, Engine
from endfloat.engine.spots import spot_words
from endfloat.formulas import flatness, sizes
from endfloat.inspection.gauges import Gauge, gauge_sources
from endfloat.inspection.oddities import odd_reason
from endfloat.inspection.readings import Reading
from endfloat.inspection.verdicts import Verdict
from endfloat.quantities.estimates import Array, ErrorSource, Estimate, propagate
from endfloat.quantities.typed_text import Typed, read_typed
from endfloat.quantities.units import Kind

REDUCTIONS: dict[str, Callable[..., Array]] = {
    "mean": sizes.mean,
    "range": sizes.spread,
}
# The spot that gave a largest or smallest size gives its error too.
EXTREMES: dict[str, Callable[..., Estimate]] = {"largest": max, "smallest": min}


@dataclass(frozen=True, slots=True)
class Gap:
    """Why an input has no estimate, and the words that say so."""

    verdict: Verdict
    words: str


ANSWERS = {
    "not_measured": (Verdict.NOT_MEASURED, "Left unmeasured."),
    "does_not_apply": (Verdict.DOES_NOT_APPLY, "Said not to apply here."),
    "cannot_be_reached": (Verdict.NOT_MEASURED, "Cannot be reached with a gauge."),
}
"""Why a place has no reading, by code: the verdict it leads to and the words."""


@dataclass(frozen=True, slots=True)
class Evidence:
    """What is known, no opinions: readings, the gauges they were taken with, oddities a person kept.

    `left` maps a characteristic and place that a person left unmeasured to a code of ANSWERS; `aside` one whose
    earlier readings no longer count to the reason, told while a reading is missing there.
    """

    readings: tuple[Reading, ...]
    gauges: Mapping[str, Gauge]
    kept: frozenset[Reading] = frozenset()
    left: Mapping[tuple[str, str], str] = field(default_factory=dict)
    aside: Mapping[tuple[str, str], Gap] = field(default_factory=dict)


Answer = Estimate | Gap
Inputs = Mapping[str, Mapping[str, Answer]]
"""Answers by characteristic and place."""


def measured(engine: Engine, evidence: Evidence, only: set[str] | None = None) -> dict[str, dict[str, Answer]]:
    """Every characteristic in every place, as found; what the service book gives is exact."""
    by_name: dict[str, dict[str, list[Reading]]] = defaultdict(lambda: defaultdict(list))
    for reading in evidence.readings:
        by_name[reading.characteristic][reading.place].append(reading)
    answers: dict[str, dict[str, Answer]] = {}
    for name, characteristic in engine.characteristics.items():
        if only is not None and name not in only:
            continue
        places = engine.places[characteristic.at].names
        if characteristic.given is not None:
            answers[name] = dict.fromkeys(places, Estimate(characteristic.given.si))
            continue
        at_place = by_name[name]
        everything = [reading for place in places for reading in at_place[place]]
        answers[name] = {
            place: _left(evidence, name, place)
            or _gap(characteristic, (name, place), at_place[place], others(everything, place), evidence)
            or _reduced(characteristic, place, name, at_place[place], evidence.gauges)
            for place in places
        }
    return answers


def _left(evidence: Evidence, name: str, place: str) -> Gap | None:
    code = evidence.left.get((name, place))
    return Gap(*ANSWERS[code]) if code else None


def question_of(
    characteristic: Characteristic, reading: Reading, others: Sequence[Reading], kept: frozenset[Reading]
) -> str | None:
    """What to ask of a reading beside those of the other places; None when it looks right or was kept.

    Heights for a range or a flatness are set from a zero of the bench's choosing, so siblings say nothing of them.
    """
    if characteristic.reduce in ("range", "minimum zone") or reading in kept:
        return None
    return odd_reason(reading, others)


def others(readings: Sequence[Reading], place: str) -> list[Reading]:
    """The readings of the other places."""
    return [reading for reading in readings if reading.place != place]


def _gap(
    characteristic: Characteristic,
    at: tuple[str, str],
    readings: Sequence[Reading],
    elsewhere: Sequence[Reading],
    evidence: Evidence,
) -> Gap | None:
    taken = {(reading.station, reading.axis) for reading in readings}
    wanted = [(station, axis) for station in characteristic.stations for axis in characteristic.axes]
    missing = [spot_words(*spot) for spot in wanted if spot not in taken]
    if missing and at in evidence.aside:
        return evidence.aside[at]
    if not readings:
        return Gap(Verdict.NOT_MEASURED, "No reading yet.")
    if missing:
        return Gap(Verdict.READINGS_MISSING, f"Still to take: {'; '.join(missing)}.")
    for reading in readings:
        question = question_of(characteristic, reading, elsewhere, evidence.kept)
        if question:
            return Gap(Verdict.ODD_READING, question)
    return None


def _reduced(
    characteristic: Characteristic, place: str, name: str, readings: Sequence[Reading], gauges: Mapping[str, Gauge]
) -> Estimate:
    """Reduce the spots of one place to one value; each spot has its own repeat error, the gauge is shared."""
    spots: dict[tuple[str, str], list[Reading]] = defaultdict(list)
    for reading in readings:
        spots[reading.station, reading.axis].append(reading)
    estimates = {
        spot: _spot(" ".join(word for word in (name, place, *spot) if word != "-"), repeats, gauges)
        for spot, repeats in spots.items()
    }
    if characteristic.reduce == "minimum zone":
        return _zone(estimates)
    if characteristic.reduce in EXTREMES:
        return EXTREMES[characteristic.reduce](estimates.values(), key=lambda estimate: estimate.value)
    reduction = REDUCTIONS[characteristic.reduce]

    def reduce(**by_spot: Array) -> Array:
        return reduction(readings=np.stack(list(by_spot.values()), axis=-1))

    [estimate] = propagate(reduce, {" ".join(spot): [estimate] for spot, estimate in estimates.items()})
    return estimate


def _zone(estimates: Mapping[tuple[str, str], Estimate]) -> Estimate:
    """Flatness with the uncertainty of the points that hold the zone; an error all points share cancels."""
    heights = np.array([estimate.value for estimate in estimates.values()])
    along = np.array([_position(station) for station, _ in estimates])
    across = np.array([_position(axis) for _, axis in estimates])
    points = {"heights": heights, "along": along, "across": across}
    value, weights = float(flatness.minimum_zone(**points)), flatness.zone_weights(**points)
    effects: dict[str, float] = defaultdict(float)
    for estimate, weight in zip(estimates.values(), weights, strict=True):
        for name, source in estimate.sources.items():
            effects[name] += weight * source.standard
    sources = {name: ErrorSource(effect) for name, effect in effects.items() if abs(effect) > 1e-12}
    return Estimate(value, sources)


def _position(text: str) -> float:
    typed = read_typed(text, kind=Kind.LENGTH, place="")
    return typed.si if isinstance(typed, Typed) else 0.0


def _spot(label: str, repeats: Sequence[Reading], gauges: Mapping[str, Gauge]) -> Estimate:
    value = math.fsum(reading.typed.si for reading in repeats) / len(repeats)
    gauge = gauges[repeats[0].gauge]
    repeat = gauge.repeat.si / math.sqrt(len(repeats))
    step = float(max(reading.typed.resolution for reading in repeats)) * float(repeats[0].typed.unit.factor)
    resolution = max(step, gauge.resolution.si) / math.sqrt(12)
    own = {
        f"repeat, {label}": ErrorSource(repeat),
        f"resolution, {label}": ErrorSource(resolution, shape="rectangular"),
    }
    return Estimate(value, {**gauge_sources(gauges, repeats[0].gauge), **own})
