"""The one judge: the same pure functions give verdicts, what-ifs, the decision and the record."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from math import sqrt

from endfloat.engine.book_units import book_unit
from endfloat.engine.model import Choice, CleanUp, Engine, Limit, Option
from endfloat.formulas.statistics import noise_of_range
from endfloat.inspection.evaluate import evaluate, inputs_at, sources_of
from endfloat.inspection.measured import Answer, Evidence, Gap, Inputs, measured
from endfloat.inspection.resolved import chosen, resolve
from endfloat.inspection.verdicts import Bounds, Rule, Verdict, judged
from endfloat.quantities.estimates import ErrorSource, Estimate
from endfloat.quantities.units import UNITS, Unit

RANGES = ("range", "minimum zone")
"""Reductions that noise alone makes larger than nought."""


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
    unit: Unit = UNITS["mm"]

    @property
    def key(self) -> tuple[str, str, str]:
        """What names the requirement: thing, use of the limit, place."""
        return (self.on, self.use, self.place)

    @property
    def margin(self) -> float | None:
        """How far inside the nearer limit, in SI; negative outside; None when there is no value."""
        if self.estimate is None:
            return None
        sides = []
        if self.bounds.low is not None:
            sides.append(self.estimate.value - self.bounds.low)
        if self.bounds.high is not None:
            sides.append(self.bounds.high - self.estimate.value)
        return min(sides) if sides else None


def judge(
    engine: Engine,
    evidence: Evidence,
    choice: Choice | None = None,
    rule: Rule | None = None,
    only: frozenset[str] | None = None,
) -> tuple[Finding, ...]:
    """Every requirement in every place under a choice; `only` restricts to named things."""
    names = None if only is None else {base for name in only for base in sources_of(engine, name)}
    found = measured(engine, evidence, names)
    return judge_found(engine, found, choice or {}, rule or Rule(), only)


def judge_found(
    engine: Engine, found: Inputs, choice: Choice, rule: Rule, only: frozenset[str] | None = None
) -> tuple[Finding, ...]:
    """Judge from inputs as found, so that many choices share one reading of the evidence."""
    wanted = [limit for limit in engine.limits if only is None or limit.on in only]
    inputs = resolve(engine, found, choice)
    values = evaluate(engine, inputs, [limit.on for limit in wanted])
    findings = [
        _finding(engine, limit, place, values, rule) for limit in wanted for place in engine.places_of(limit.on)
    ]
    if only is None:
        findings += _clean_ups(engine, found, choice, rule)
    return tuple(findings)


def _finding(
    engine: Engine, limit: Limit, place: str, values: Mapping[str, Mapping[str, Answer]], rule: Rule
) -> Finding:
    quantity = engine.quantities.get(limit.on)
    method = engine.characteristics[limit.on].method if quantity is None else quantity.method
    answer = values[limit.on][place]
    inputs: dict[str, Estimate] = {}
    if quantity is not None:
        for argument, spots in inputs_at(engine, limit.on, place).items():
            for source, at in spots:
                name = argument if len(spots) == 1 else at
                value = values[source][at]
                if isinstance(value, Estimate):
                    inputs[name] = value
    elif isinstance(answer, Estimate):
        inputs[limit.on] = answer
    bounds = bounds_of(limit)
    gaps = [answer] if isinstance(answer, Gap) else []
    if bounds.low is None and bounds.high is None:
        gaps.append(Gap(Verdict.NO_LIMIT, "Look the limit up in the service book."))
    if limit.method != method:
        gaps.append(Gap(Verdict.OTHER_METHOD, f"The limit is for {limit.method}; this is {method}."))
    return _judged(
        Finding(
            place,
            limit.on,
            limit.use,
            method,
            limit.page,
            bounds,
            Verdict.NOT_MEASURED,
            answer if isinstance(answer, Estimate) else None,
            formula=quantity.formula if quantity else "",
            inputs=inputs,
            unit=unit_of(engine, limit),
        ),
        gaps,
        rule,
        spots_apart(engine, limit.on),
    )


def spots_apart(engine: Engine, name: str) -> int:
    """How many values a range or a zone is taken over; nought for what is no range."""
    if name in engine.quantities:
        quantity = engine.quantities[name]
        return len(engine.places[quantity.over].names) if quantity.over else 0
    described = engine.characteristics[name]
    return len(described.stations) * len(described.axes) if described.reduce in RANGES else 0


def noise_in(estimate: Estimate, spots: int) -> float:
    """What the scatter alone would show; its two ends make the uncertainty of a range the root of 2 of one reading's.

    For a flatness over 15 points noise alone reaches 3.95 of one reading's deviation, and this gives 3.9.
    """
    return float(noise_of_range(standard=estimate.standard_uncertainty / sqrt(2), count=spots))


def _judged(finding: Finding, gaps: list[Gap], rule: Rule, spots: int = 0) -> Finding:
    if gaps:
        first = min(gaps, key=lambda gap: gap.verdict.rank)
        return replace(finding, verdict=first.verdict, reason=first.words)
    assert finding.estimate is not None
    noise = noise_in(finding.estimate, spots) if spots > 1 else None
    verdict, probability = judged(finding.estimate, finding.bounds, rule, noise)
    return replace(finding, verdict=verdict, probability=probability)


def bounds_of(limit: Limit) -> Bounds:
    """The bounds of a limit in SI."""
    return Bounds(limit.low.si if limit.low else None, limit.high.si if limit.high else None)


def unit_of(engine: Engine, limit: Limit) -> Unit:
    """The unit in which the service book gives the limit; while it is blank, the one the book would use."""
    amount = limit.high or limit.low
    return amount.unit if amount else book_unit(engine, limit.on)


def clean_up_name(decision: str, key: str) -> str:
    """What the clean-up requirement of an option is called in findings."""
    return f"clean_up {decision} {key}"


def clean_up_at(
    engine: Engine, found: Inputs, choice: Choice, decision: str, key: str
) -> Iterator[tuple[str, Answer, float]]:
    """Place, stock beyond the worst reading, and stock wanted, of an option that must clean up.

    The part is taken as the other decisions leave it, since straightening comes before a skim.
    """
    option = engine.decisions[decision].options[key]
    cut = option.clean_up
    if cut is None:
        return
    others = {name: value for name, value in choice.items() if name != decision}
    before = resolve(engine, {cut.of: found[cut.of]}, others)[cut.of]
    for place, answer in before.items():
        if cut.at == "all" or place in cut.at:
            yield place, _stock(cut, option, place, answer), cut.stock.si


def _stock(cut: CleanUp, option: Option, place: str, answer: Answer) -> Answer:
    if isinstance(answer, Gap):
        return answer
    if cut.metal == "face":
        target = option.removes.si if option.removes else 0.0
        sign = 1.0
    else:
        target = next(e.to.si for e in option.sets if e.characteristic == cut.of and (e.at == "all" or place in e.at))
        sign = 1.0 if cut.metal == "inside" else -1.0
    turned = {name: ErrorSource(-sign * s.standard, s.freedom, s.shape) for name, s in answer.sources.items()}
    return Estimate(sign * (target - answer.value), turned)


def _clean_ups(engine: Engine, found: Inputs, choice: Choice, rule: Rule) -> Iterator[Finding]:
    for decision, key, option in chosen(engine, choice):
        if option.clean_up is None:
            continue
        method = engine.characteristics[option.clean_up.of].method
        unit = book_unit(engine, option.clean_up.of)
        for place, answer, wanted in clean_up_at(engine, found, choice, decision, key):
            estimate = answer if isinstance(answer, Estimate) else None
            name = clean_up_name(decision, key)
            bounds = Bounds(wanted, None)
            finding = Finding(place, name, "machining", method, None, bounds, Verdict.NOT_MEASURED, estimate, unit=unit)
            yield _judged(finding, [answer] if isinstance(answer, Gap) else [], rule)
