"""An uncertain value: a value and the named error sources it carries.

Two readings under one zeroing name the same source and therefore share that error: in a
difference it cancels. Source of the rules: JCGM 100:2008, 5.1.2, 5.2.2 and G.4.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr, stdtr, stdtrit

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class ErrorSource:
    """A standard uncertainty with sign (its effect on the value), degrees of freedom, and shape."""

    standard: float
    freedom: float = math.inf
    shape: str = "normal"


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value in SI and what makes it uncertain, by source name."""

    value: float
    sources: Mapping[str, ErrorSource] = field(default_factory=dict)

    @property
    def standard_uncertainty(self) -> float:
        """Root sum of squares over sources: they are independent of one another by construction."""
        return math.sqrt(sum(source.standard**2 for source in self.sources.values()))

    @property
    def freedom(self) -> float:
        """Effective degrees of freedom, Welch-Satterthwaite, truncated (JCGM 100 G.4.1)."""
        u = self.standard_uncertainty
        below = sum(source.standard**4 / source.freedom for source in self.sources.values())
        if below == 0:
            return math.inf
        return float(max(1, math.floor(u**4 / below + 1e-9)))

    def shares(self) -> dict[str, float]:
        """Share of the variance by source, largest first; they add to 1."""
        total = self.standard_uncertainty**2
        if total == 0:
            return {}
        shares = {name: source.standard**2 / total for name, source in self.sources.items()}
        return dict(sorted(shares.items(), key=lambda item: -item[1]))


def propagate(formula: Callable[..., Array], inputs: Mapping[str, Sequence[Estimate]]) -> list[Estimate]:
    """First-order propagation over all places in one vectorised call.

    `inputs` maps each argument of `formula` to one estimate a place. The axes of the call are
    [perturbation, place]: row 0 is the estimate, rows 2k+1 and 2k+2 are source k up and down by
    one standard uncertainty (a central difference, exact for a quadratic). Where the two sides differ
    as at a kink, of a largest value that two places share, the larger side counts: a range is never
    surer than what it is made of.
    """
    places = len(next(iter(inputs.values())))
    names = sorted({name for column in inputs.values() for estimate in column for name in estimate.sources})
    arguments: dict[str, Array] = {}
    freedom: dict[str, float] = {}
    for argument, column in inputs.items():
        steps = np.zeros((len(names), places))
        for place, estimate in enumerate(column):
            for name, source in estimate.sources.items():
                steps[names.index(name), place] = source.standard
                freedom[name] = source.freedom
        centre = np.array([estimate.value for estimate in column])
        rows = np.empty((2 * len(names) + 1, places))
        rows[0] = centre
        rows[1::2] = centre + steps
        rows[2::2] = centre - steps
        arguments[argument] = rows
    results = np.asarray(formula(**arguments), dtype=np.float64)
    up, down = results[1::2] - results[0], results[0] - results[2::2]
    larger = np.where(np.abs(up) >= np.abs(down), up, down)
    kink = np.minimum(up * np.sign(larger), down * np.sign(larger)) < np.abs(larger) / 2
    effects = np.where(kink, larger, (up + down) / 2)
    return [
        Estimate(
            float(results[0, place]),
            {
                name: ErrorSource(float(effects[k, place]), freedom[name])
                for k, name in enumerate(names)
                if effects[k, place] != 0
            },
        )
        for place in range(places)
    ]


def draw(inputs: Mapping[str, Sequence[Estimate]], *, generator: np.random.Generator, draws: int) -> dict[str, Array]:
    """Draws with axes [draw, place]; each source is drawn once per draw and shared by all that name it."""
    places = len(next(iter(inputs.values())))
    sources: dict[str, ErrorSource] = {}
    for column in inputs.values():
        for estimate in column:
            sources.update(estimate.sources)
    root3 = math.sqrt(3)
    unit_draws = {
        name: generator.uniform(-root3, root3, draws)
        if sources[name].shape == "rectangular"
        else generator.standard_normal(draws)
        for name in sorted(sources)
    }
    drawn: dict[str, Array] = {}
    for argument, column in inputs.items():
        values = np.empty((draws, places))
        for place, estimate in enumerate(column):
            values[:, place] = estimate.value
            for name, source in estimate.sources.items():
                values[:, place] += unit_draws[name] * source.standard
        drawn[argument] = values
    return drawn


def coverage_factor(probability: float, freedom: float) -> float:
    """Two-sided k: normal, or Student's t with finite degrees of freedom (JCGM 100 G.3)."""
    upper = (1 + probability) / 2
    return float(stdtrit(freedom if math.isfinite(freedom) else 1e12, upper))


def probability_within(estimate: Estimate, *, low: float | None, high: float | None) -> float:
    """Probability that the true value lies within the limits (JCGM 106:2012, 7.2)."""
    u = estimate.standard_uncertainty
    if u == 0:
        below = high is None or estimate.value <= high
        return float(below and (low is None or estimate.value >= low))

    def cumulative(bound: float) -> float:
        z = (bound - estimate.value) / u
        return float(stdtr(estimate.freedom, z)) if math.isfinite(estimate.freedom) else float(ndtr(z))

    return (1.0 if high is None else cumulative(high)) - (0.0 if low is None else cumulative(low))
