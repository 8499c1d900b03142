"""The only caller of formulas: values of quantities from the inputs, with their uncertainty or at the estimate."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

import numpy as np

from endfloat.cards import CARDS
from endfloat.engine.model import Engine, Quantity
from endfloat.errors import OutOfRange
from endfloat.inspection.measured import Answer, Gap, Inputs
from endfloat.inspection.verdicts import Verdict
from endfloat.quantities.estimates import Array, Estimate, propagate

VALUES = "values"


def sources_of(engine: Engine, name: str) -> set[str]:
    """The characteristics that a characteristic or quantity rests on, through other quantities."""
    quantity = engine.quantities.get(name)
    if quantity is None:
        return {name}
    return {base for source in quantity.sources.values() for base in sources_of(engine, source)}


def inputs_at(engine: Engine, name: str, place: str) -> dict[str, list[tuple[str, str]]]:
    """For each argument of a quantity, the name and place it is read at; a spread reads all places."""
    quantity = engine.quantities[name]
    if quantity.over is not None:
        source = next(iter(quantity.sources.values()))
        return {VALUES: [(source, each) for each in engine.places_of(source)]}
    family = quantity.at or ""
    rows: dict[str, list[tuple[str, str]]] = {}
    for argument, bound in quantity.arguments.items():
        if isinstance(bound, str):
            seen = engine.place_seen_from(family, place, engine.family_of(bound))
            rows[argument] = [(bound, seen or place)]
        else:
            rows[argument] = [(bound.of, bound.at)]
    return rows


def spots_of(engine: Engine, name: str, place: str) -> list[tuple[str, str]]:
    """Every characteristic and place that a value rests on, each once, in the order it is read."""
    if name not in engine.quantities:
        return [(name, place)]
    read = [spot for column in inputs_at(engine, name, place).values() for spot in column]
    return list(dict.fromkeys(base for source, at in read for base in spots_of(engine, source, at)))


def evaluate(engine: Engine, inputs: Inputs, names: Sequence[str]) -> dict[str, dict[str, Answer]]:
    """Characteristics and quantities by name and place; what a quantity reads is evaluated first."""
    values: dict[str, dict[str, Answer]] = {name: dict(row) for name, row in inputs.items()}
    for name in names:
        _into(engine, values, name)
    return values


def _into(engine: Engine, values: dict[str, dict[str, Answer]], name: str) -> None:
    quantity = engine.quantities.get(name)
    if name in values or quantity is None:
        return
    for source in quantity.sources.values():
        _into(engine, values, source)
    rows = {place: inputs_at(engine, name, place) for place in engine.places_of(name)}
    values[name] = {}
    complete: dict[str, dict[str, list[Estimate]]] = {}
    for place, row in rows.items():
        answers = {argument: [values[source][at] for source, at in spots] for argument, spots in row.items()}
        gaps = [answer for column in answers.values() for answer in column if isinstance(answer, Gap)]
        if gaps:
            values[name][place] = min(gaps, key=lambda gap: gap.verdict.rank)
        else:
            complete[place] = answers  # type: ignore[assignment]
    try:
        values[name] |= _spread(quantity, complete)
    except OutOfRange:
        values[name] |= {place: _alone(quantity, place, row) for place, row in complete.items()}


def _alone(quantity: Quantity, place: str, row: Mapping[str, list[Estimate]]) -> Answer:
    """One place by itself, so that what a formula refuses there leaves the other places judged."""
    try:
        return _spread(quantity, {place: row})[place]
    except OutOfRange as error:
        return Gap(Verdict.ODD_READING, f"{str(error)[0].upper()}{str(error)[1:]}")


def _spread(quantity: Quantity, complete: Mapping[str, Mapping[str, list[Estimate]]]) -> dict[str, Answer]:
    """All places of one quantity in one call of its formula."""
    if not complete:
        return {}
    function = CARDS[quantity.formula].function
    first = next(iter(complete.values()))
    if quantity.over is not None:
        columns = {f"value {n}": [estimate] for n, estimate in enumerate(first[VALUES])}
        return dict(zip(complete, propagate(_stacked(function), columns), strict=True))
    columns = {argument: [row[argument][0] for row in complete.values()] for argument in first}
    return dict(zip(complete, propagate(function, columns), strict=True))


def _stacked(function: Callable[..., Array]) -> Callable[..., Array]:
    def over(**by_place: Array) -> Array:
        return function(values=np.stack(list(by_place.values()), axis=-1))

    return over


def at_estimates(engine: Engine, name: str, place: str, rows: Mapping[tuple[str, str], Array]) -> Array:
    """The value of a characteristic or quantity over many choices at once.

    `rows` holds, for each characteristic and place it rests on, one value a choice (axis [choice]).
    """
    if name not in engine.quantities:
        return rows[name, place]
    quantity = engine.quantities[name]
    spots = inputs_at(engine, name, place)
    arguments = {
        argument: [at_estimates(engine, source, at, rows) for source, at in column]
        for argument, column in spots.items()
    }
    function = CARDS[quantity.formula].function
    if quantity.over is not None:
        return np.asarray(function(values=np.stack(arguments[VALUES], axis=-1)))
    return np.asarray(function(**{argument: column[0] for argument, column in arguments.items()}))
