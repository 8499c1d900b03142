"""The one judge: the same pure functions give verdicts, what-ifs, the decision and the record."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from endfloat.cards import CARDS
from endfloat.engine.model import Characteristic, Engine, Limit
from endfloat.formulas import sizes
from endfloat.inspection.gauges import Gauge, gauge_sources
from endfloat.inspection.oddities import odd_reason
from endfloat.inspection.readings import Reading
from endfloat.inspection.verdicts import Bounds, Rule, Verdict, judged
from endfloat.quantities.estimates import Array, ErrorSource, Estimate, propagate

REDUCTIONS: dict[str, Callable[..., Array]] = {
    "largest": sizes.largest,
    "smallest": sizes.smallest,
    "mean": sizes.mean,
}
DIFFERENCE = "diameter difference"


@dataclass(frozen=True, slots=True)
class Evidence:
    """What is known, no opinions: readings, the gauges they were taken with, oddities a person kept."""

    readings: tuple[Reading, ...]
    gauges: Mapping[str, Gauge]
    kept: frozenset[Reading] = frozenset()


@dataclass(frozen=True, slots=True)
class Gap:
    """Why an input has no estimate, and the words that say so."""

    verdict: Verdict
    words: str


@dataclass(frozen=True, slots=True)
class Finding:
    """One requirement at one place: the value, the limit, the verdict, and what opens it up."""

    place: str
    on: str
    use: str
    method: str
    page: int | None
    bounds: Bounds
    verdict: Verdict
    estimate: Estimate | None = None
    probability: float | None = None
    reason: str = ""
    formula: str = ""
    inputs: Mapping[str, Estimate] = field(default_factory=dict)


Answer = Estimate | Gap


def estimates_of(engine: Engine, evidence: Evidence, name: str) -> dict[str, Answer]:
    """One characteristic in all its places: an estimate, or the gap that prevents one."""
    characteristic = engine.characteristics[name]
    family = engine.places[characteristic.at]
    at_place: dict[str, list[Reading]] = defaultdict(list)
    for reading in evidence.readings:
        if reading.characteristic == name:
            at_place[reading.place].append(reading)
    everything = [reading for readings in at_place.values() for reading in readings]
    answers: dict[str, Answer] = {}
    for place in family.names:
        readings = at_place[place]
        others = [reading for reading in everything if reading.place != place]
        gap = _gap(characteristic, readings, others, evidence)
        answers[place] = gap or _reduced(characteristic, place, name, readings, evidence.gauges)
    return answers


def _gap(
    characteristic: Characteristic, readings: Sequence[Reading], others: Sequence[Reading], evidence: Evidence
) -> Gap | None:
    if not readings:
        return Gap(Verdict.NOT_MEASURED, "No reading yet.")
    taken = {(reading.station, reading.axis) for reading in readings}
    wanted = [(station, axis) for station in characteristic.stations for axis in characteristic.axes]
    missing = [f"{station} {axis}" for station, axis in wanted if (station, axis) not in taken]
    if missing:
        return Gap(Verdict.READINGS_MISSING, f"Still to take: {', '.join(missing)}.")
    for reading in readings:
        question = None if reading in evidence.kept else odd_reason(reading, others)
        if question:
            return Gap(Verdict.ODD_READING, question)
    return None


def _reduced(
    characteristic: Characteristic, place: str, name: str, readings: Sequence[Reading], gauges: Mapping[str, Gauge]
) -> Estimate:
    """Reduce the spots of one place to one size; each spot has its own repeat error, the gauge is shared."""
    spots: dict[tuple[str, str, str, str], list[Reading]] = defaultdict(list)
    for reading in readings:
        spots[reading.spot].append(reading)
    columns: dict[str, list[Estimate]] = {}
    for (_, _, station, axis), repeats in spots.items():
        columns[f"{station} {axis}"] = [
            _spot(" ".join(word for word in (name, place, station, axis) if word != "-"), repeats, gauges)
        ]

    reduction = REDUCTIONS[characteristic.reduce]

    def reduce(**by_spot: Array) -> Array:
        return reduction(readings=np.stack(list(by_spot.values()), axis=-1))

    [estimate] = propagate(reduce, columns)
    return estimate


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


def judge(
    engine: Engine, evidence: Evidence, rule: Rule | None = None, only: frozenset[str] | None = None
) -> tuple[Finding, ...]:
    """Every requirement in every place; `only` restricts to the named characteristics and quantities."""
    rule = rule or Rule()
    wanted = [limit for limit in engine.limits if only is None or limit.on in only]
    names = set(engine.characteristics) if only is None else _needed(engine, wanted)
    known = {name: estimates_of(engine, evidence, name) for name in engine.characteristics if name in names}
    findings: list[Finding] = []
    for limit in wanted:
        findings += _judge_limit(engine, limit, known, rule)
    return tuple(findings)


def _needed(engine: Engine, limits: Sequence[Limit]) -> set[str]:
    needed: set[str] = set()
    for limit in limits:
        quantity = engine.quantities.get(limit.on)
        needed |= {limit.on} if quantity is None else set(quantity.arguments.values())
    return needed


def _judge_limit(engine: Engine, limit: Limit, known: Mapping[str, Mapping[str, Answer]], rule: Rule) -> list[Finding]:
    quantity = engine.quantities.get(limit.on)
    if quantity is None:
        characteristic = engine.characteristics[limit.on]
        places, method, formula = engine.places[characteristic.at].names, characteristic.method, ""
        inputs = {place: {limit.on: known[limit.on][place]} for place in places}
    else:
        places, method, formula = engine.places[quantity.at].names, DIFFERENCE, quantity.formula
        inputs = {
            place: {argument: known[source][place] for argument, source in quantity.arguments.items()}
            for place in places
        }
    values = _values(formula, inputs)
    bounds = Bounds(limit.low.si if limit.low else None, limit.high.si if limit.high else None)
    return [
        _finding(engine, limit, method, bounds, place, inputs[place], values.get(place), formula, rule)
        for place in places
    ]


def _values(formula: str, inputs: Mapping[str, Mapping[str, Answer]]) -> dict[str, Estimate]:
    """The derived value in each place that has all its inputs, in one call of the formula."""
    complete = {
        place: {argument: answer for argument, answer in row.items() if isinstance(answer, Estimate)}
        for place, row in inputs.items()
        if all(isinstance(answer, Estimate) for answer in row.values())
    }
    if not complete:
        return {}
    if not formula:
        return {place: next(iter(row.values())) for place, row in complete.items()}
    arguments = list(next(iter(complete.values())))
    columns = {argument: [row[argument] for row in complete.values()] for argument in arguments}
    return dict(zip(complete, propagate(CARDS[formula].function, columns), strict=True))


def _finding(
    engine: Engine,
    limit: Limit,
    method: str,
    bounds: Bounds,
    place: str,
    inputs: Mapping[str, Answer],
    value: Estimate | None,
    formula: str,
    rule: Rule,
) -> Finding:
    gaps = [answer for answer in inputs.values() if isinstance(answer, Gap)]
    estimates = {name: answer for name, answer in inputs.items() if isinstance(answer, Estimate)}
    if bounds.low is None and bounds.high is None:
        gaps.append(Gap(Verdict.NO_LIMIT, "Look the limit up in the service book."))
    if limit.method != method:
        gaps.append(Gap(Verdict.OTHER_METHOD, f"The limit is for {limit.method}; this is {method}."))
    verdict, probability, reason = Verdict.NOT_MEASURED, None, ""
    if gaps:
        first = min(gaps, key=lambda gap: list(Verdict).index(gap.verdict))
        verdict, reason = first.verdict, first.words
    elif value is not None:
        verdict, probability = judged(value, bounds, rule)
    return Finding(
        place, limit.on, limit.use, method, limit.page, bounds, verdict, value, probability, reason, formula, estimates
    )
