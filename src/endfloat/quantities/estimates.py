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

from endfloat.errors import OutOfRange

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class ErrorSource:
    """A standard uncertainty with sign (its effect on the value), degrees of freedom, and the shape for draws.

    Shapes: `normal`, `rectangular`, `arcsine`, `trapezoid`, `student`. With `student` the standard is the scale of a
    t with `freedom` degrees, as an experimental standard deviation gives it, and draws spread wider than it
    (JCGM 101:2008, 6.4.9.2). With `trapezoid` the bounds themselves are known to plus or minus `inexact` times the
    half-width (6.4.3).
    """

    standard: float
    freedom: float = math.inf
    shape: str = "normal"
    inexact: float = 0.0


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
    def freedom_before_truncation(self) -> float:
        """Effective degrees of freedom by Welch-Satterthwaite (JCGM 100 G.4.1, formula G.2b)."""
        below = sum(source.standard**4 / source.freedom for source in self.sources.values())
        return self.standard_uncertainty**4 / below if below else math.inf

    @property
    def freedom(self) -> float:
        """Effective degrees of freedom, truncated to the next lower whole number (JCGM 100 G.4.1)."""
        freedom = self.freedom_before_truncation
        return float(max(1, math.floor(freedom + 1e-9))) if math.isfinite(freedom) else math.inf

    def shares(self) -> dict[str, float]:
        """Share of the variance by source, largest first; they add to 1."""
        total = self.standard_uncertainty**2
        if total == 0:
            return {}
        shares = {name: source.standard**2 / total for name, source in self.sources.items()}
        return dict(sorted(shares.items(), key=lambda item: -item[1]))


def correlation(first: Estimate, second: Estimate) -> float:
    """Correlation of two estimates through the sources that both name (JCGM 100, F.1.2.3); 0 where one is exact."""
    shared = first.sources.keys() & second.sources.keys()
    covariance = math.fsum(first.sources[name].standard * second.sources[name].standard for name in shared)
    spreads = first.standard_uncertainty * second.standard_uncertainty
    return covariance / spreads if spreads else 0.0


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
    unit_draws = {name: _unit_draws(sources[name], generator, draws) for name in sorted(sources)}
    drawn: dict[str, Array] = {}
    for argument, column in inputs.items():
        values = np.empty((draws, places))
        for place, estimate in enumerate(column):
            values[:, place] = estimate.value
            for name, source in estimate.sources.items():
                values[:, place] += unit_draws[name] * source.standard
        drawn[argument] = values
    return drawn


def _unit_draws(source: ErrorSource, generator: np.random.Generator, draws: int) -> Array:
    """Draws to be multiplied by the standard of the source (JCGM 101:2008, table 1)."""
    if source.shape == "normal":
        return generator.standard_normal(draws)
    if source.shape == "rectangular":
        return generator.uniform(-math.sqrt(3), math.sqrt(3), draws)
    if source.shape == "arcsine":
        return math.sqrt(2) * np.sin(generator.uniform(0, 2 * math.pi, draws))
    if source.shape == "trapezoid":
        half_widths = 1 + source.inexact * generator.uniform(-1, 1, draws)
        return half_widths * generator.uniform(-1, 1, draws) / math.sqrt(1 / 3 + source.inexact**2 / 9)
    if source.shape == "student":
        # A t with 2 degrees of freedom or fewer has no finite spread: its draws would say nothing.
        if not 2 < source.freedom < math.inf:
            raise OutOfRange(
                name="freedom", value=source.freedom, expected="more than 2 and finite for a student shape"
            )
        return generator.standard_t(source.freedom, draws)
    known = "normal, rectangular, arcsine, trapezoid or student"
    raise OutOfRange(name="shape", value=source.shape, expected=known)


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
