"""How likely is it that every fit is within limits together? By draws: one gauge's error moves many fits at once."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from endfloat.engine.model import Choice, Engine
from endfloat.errors import OutOfRange
from endfloat.inspection.evaluate import at_estimates, spots_of
from endfloat.inspection.judge import bounds_of
from endfloat.inspection.measured import Answer, Inputs
from endfloat.inspection.resolved import resolve
from endfloat.quantities.estimates import Array, Estimate, draw


@dataclass(frozen=True, slots=True)
class Together:
    """The share of draws in which every requirement that has its readings holds, and how many there are."""

    share: float
    requirements: int
    left_out: int
    draws: int


def together(
    engine: Engine, found: Inputs, choice: Choice, *, generator: np.random.Generator, draws: int = 10_000
) -> Together:
    """Draw every measured and machined size, each error source once a draw, and judge all requirements on them.

    Method: propagation of distributions, JCGM 101:2008 clause 7. Requirements with a reading missing are left out
    and counted.
    """
    inputs = resolve(engine, found, choice)
    wanted = [
        (limit, place, spots_of(engine, limit.on, place))
        for limit in engine.limits
        if limit.low is not None or limit.high is not None
        for place in engine.places_of(limit.on)
    ]
    known = [row for row in wanted if all(isinstance(_at(inputs, spot), Estimate) for spot in row[2])]
    spots = list(dict.fromkeys(spot for _, _, row in known for spot in row))
    estimates = {spot: answer for spot in spots if isinstance(answer := _at(inputs, spot), Estimate)}
    drawn = draw({str(spot): [estimate] for spot, estimate in estimates.items()}, generator=generator, draws=draws)
    rows: dict[tuple[str, str], Array] = {spot: drawn[str(spot)][:, 0] for spot in spots}
    holds = np.ones(draws, dtype=bool)
    for limit, place, _ in known:
        bounds = bounds_of(limit)
        low, high = bounds.low, bounds.high
        values = _values(engine, limit.on, place, rows, draws)
        holds &= (values >= (-np.inf if low is None else low)) & (values <= (np.inf if high is None else high))
    return Together(float(holds.mean()), len(known), len(wanted) - len(known), draws)


def _at(inputs: Inputs, spot: tuple[str, str]) -> Answer:
    return inputs[spot[0]][spot[1]]


def _values(engine: Engine, name: str, place: str, rows: dict[tuple[str, str], Array], draws: int) -> Array:
    """One value a draw; a draw that the formula refuses has none and holds for no limit."""
    values, good = np.full(draws, np.nan), np.ones(draws, dtype=bool)
    while good.any():
        try:
            values[good] = at_estimates(engine, name, place, {spot: row[good] for spot, row in rows.items()})
        except OutOfRange as error:
            good[np.flatnonzero(good)[np.broadcast_to(error.bad, good.sum())]] = False
        else:
            break
    return values
