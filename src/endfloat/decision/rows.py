"""The question in neutral rows: options, what each weighs, and combinations that do not fit.

Rows hold no physics. Each forbidden combination was found by the judge's own functions and names the
requirement it comes from.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Protocol

import numpy as np

from endfloat.decision.prices import Prices
from endfloat.engine.model import Choice, Engine, Limit
from endfloat.inspection.evaluate import at_estimates, spots_of
from endfloat.inspection.judge import bounds_of, clean_up_at, clean_up_name
from endfloat.inspection.measured import Answer, Gap, Inputs
from endfloat.inspection.resolved import resolve
from endfloat.quantities.estimates import Estimate

Picked = tuple[str, str]
"""A decision and one of its options."""

LARGEST_SWEEP = 4096
COST, METAL, WORK, DAYS = "cost", "metal", "work items", "days"
CHEAPEST = (COST, METAL, WORK, DAYS)
QUICKEST = (DAYS, COST, METAL, WORK)


@dataclass(frozen=True, slots=True)
class Forbidden:
    """Options that may not all be taken together, and the requirement that says so."""

    requirement: tuple[str, str, str]
    together: tuple[Picked, ...]


@dataclass(frozen=True, slots=True)
class Rows:
    """The whole question. Of each decision exactly one option is taken.

    `weights` maps an objective to whole numbers: cost in hundredths, metal in µm, work items. Days
    count as the longest of the options taken, since everything is ordered at once.
    """

    decisions: tuple[tuple[str, tuple[str, ...]], ...]
    weights: Mapping[str, Mapping[Picked, int]]
    days: Mapping[Picked, int]
    forbidden: tuple[Forbidden, ...]
    objective: tuple[str, ...] = CHEAPEST

    def without(self, *together: Picked, name: str = "asked") -> Rows:
        """The same question with one more combination forbidden."""
        return replace(self, forbidden=(*self.forbidden, Forbidden((name, "", ""), together)))


@dataclass(frozen=True, slots=True)
class Solution:
    """What a solver answers: `optimal`, `infeasible` or `unknown`; totals by objective and their proved bounds."""

    status: str
    choice: Choice
    totals: Mapping[str, int]
    bounds: Mapping[str, int]
    solver: str


class Solver(Protocol):
    """Answers rows, minimising the objectives one after the other."""

    def __call__(self, rows: Rows) -> Solution: ...


def rows_of(engine: Engine, found: Inputs, prices: Prices, *, cautious: bool = False) -> Rows:
    """The rows of an engine as found.

    A requirement is met when its predicted value lies within the limit. What is not measured is planned both
    ways: as holding, or with `cautious` as failing until an option settles it.
    """
    decisions = tuple((name, tuple(decision.options)) for name, decision in engine.decisions.items())
    every = [(name, key, engine.decisions[name].options[key]) for name, keys in decisions for key in keys]
    weights = {
        COST: {(name, key): prices.of(option) for name, key, option in every},
        METAL: {(name, key): round(option.removes.si * 1e6) if option.removes else 0 for name, key, option in every},
        WORK: {(name, key): int(option.sort != "as is") for name, key, option in every},
    }
    days = {(name, key): prices.days(option) for name, key, option in every}
    forbidden = (*_needs(engine), *_limits(engine, found, cautious), *_clean_ups(engine, found))
    return Rows(decisions, weights, days, forbidden)


def touching(engine: Engine, spots: Sequence[tuple[str, str]]) -> list[str]:
    """The decisions that can change any of these characteristics and places."""
    wanted = set(spots)
    found: list[str] = []
    for name, decision in engine.decisions.items():
        for option in decision.options.values():
            effects = [(each.characteristic, each.at) for each in option.sets]
            effects += [(each.characteristic, each.at) for each in option.moves]
            renewed = {c for c, described in engine.characteristics.items() if described.of in option.renews}
            if any(c in renewed or any(c == e and (at == "all" or p in at) for e, at in effects) for c, p in wanted):
                found.append(name)
                break
    return found


def combinations(engine: Engine, scope: Sequence[str]) -> Iterator[Choice]:
    """Every way to settle the decisions of a scope."""
    for keys in itertools.product(*(engine.decisions[name].options for name in scope)):
        yield dict(zip(scope, keys, strict=True))


def fits(
    engine: Engine, found: Inputs, limit: Limit, place: str, choices: Sequence[Choice], *, cautious: bool = False
) -> list[bool]:
    """Does a requirement hold at its predicted value, for each choice? The only source of forbidden rows."""
    spots = spots_of(engine, limit.on, place)
    names = {name for name, _ in spots}
    part = {name: found[name] for name in names}
    resolved = [resolve(engine, part, choice) for choice in choices]
    columns: dict[tuple[str, str], list[Answer]] = {(c, p): [row[c][p] for row in resolved] for c, p in spots}
    known = [all(isinstance(column[n], Estimate) for column in columns.values()) for n in range(len(choices))]
    # Careful planning fails a gap only where some option settles it; a gap that none settles has no price.
    answers = [not (cautious and any(known))] * len(choices)
    index = [n for n, complete in enumerate(known) if complete]
    if index:
        arrays = {spot: np.array([_value(column[n]) for n in index]) for spot, column in columns.items()}
        values = np.broadcast_to(at_estimates(engine, limit.on, place, arrays), len(index))
        bounds = bounds_of(limit)
        low = -np.inf if bounds.low is None else bounds.low
        high = np.inf if bounds.high is None else bounds.high
        for n, value in zip(index, values, strict=True):
            answers[n] = bool(low <= value <= high)
    return answers


def _value(answer: Answer) -> float:
    assert isinstance(answer, Estimate)
    return answer.value


def requirements(engine: Engine) -> Iterator[tuple[Limit, str]]:
    """Limits that can be judged, in each of their places."""
    for limit in engine.limits:
        quantity = engine.quantities.get(limit.on)
        method = engine.characteristics[limit.on].method if quantity is None else quantity.method
        if limit.method == method and (limit.low is not None or limit.high is not None):
            for place in engine.places_of(limit.on):
                yield limit, place


def _limits(engine: Engine, found: Inputs, cautious: bool) -> Iterator[Forbidden]:
    for limit, place in requirements(engine):
        scope = touching(engine, spots_of(engine, limit.on, place))
        choices = list(itertools.islice(combinations(engine, scope), LARGEST_SWEEP + 1))
        # A wider scope is left to the judge: what it objects to in a plan becomes a row then.
        if len(choices) > LARGEST_SWEEP:
            continue
        for choice, holds in zip(choices, fits(engine, found, limit, place, choices, cautious=cautious), strict=True):
            if not holds:
                yield Forbidden((limit.on, limit.use, place), tuple(choice.items()))


def _needs(engine: Engine) -> Iterator[Forbidden]:
    for name, decision in engine.decisions.items():
        for key, option in decision.options.items():
            for need in option.needs:
                for other in engine.decisions[need.decision].options:
                    if other != need.option:
                        yield Forbidden(("needs", name, key), ((name, key), (need.decision, other)))


def _clean_ups(engine: Engine, found: Inputs) -> Iterator[Forbidden]:
    for name, decision in engine.decisions.items():
        for key, option in decision.options.items():
            if option.clean_up is None:
                continue
            part = option.clean_up.of
            spots = [(part, place) for place in found[part]]
            scope = [other for other in touching(engine, spots) if other != name]
            for choice in combinations(engine, scope):
                for place, answer, wanted in clean_up_at(engine, found, choice, name, key):
                    if not isinstance(answer, Gap) and answer.value < wanted:
                        together = ((name, key), *choice.items())
                        yield Forbidden((clean_up_name(name, key), "machining", place), together)
