"""How each published value is computed: sums on top of the program's own machinery, one function a worked example."""

import math
from collections.abc import Callable
from typing import Any

import numpy as np

from endfloat.formulas import compression, flatness
from endfloat.quantities.estimates import (
    Array,
    ErrorSource,
    Estimate,
    correlation,
    coverage_factor,
    draw,
    propagate,
)
from endfloat.quantities.shown_text import in_unit
from endfloat.quantities.typed_text import Typed, read_typed
from endfloat.quantities.units import UNITS
from published.balance_computations import at_radius, overhung, second_order
from published.bearing_computations import FILMS
from published.chain_computations import sagging_chain
from published.crank_computations import CRANK
from published.fastening_computations import FASTENING
from published.valve_train_computations import VALVE_TRAIN

Inputs = dict[str, Any]
Computed = tuple[float, float]
"""The value, and the standard error that chance leaves in it (nought where nothing is drawn)."""

ROOT3 = math.sqrt(3)


def si(text: str) -> float:
    typed = read_typed(text, kind=None, place="")
    assert isinstance(typed, Typed), typed
    return typed.si


def end_gauge_model(
    standard: Any,
    difference: Any,
    expansion: Any,
    temperature: Any,
    expansion_difference: Any,
    temperature_difference: Any,
) -> Any:
    """Length of a gauge compared with a standard (JCGM 100, formula H.3)."""
    return standard + difference - standard * (expansion_difference * temperature + expansion * temperature_difference)


def end_gauge_inputs(given: Inputs) -> dict[str, Estimate]:
    return {name: _input(name, dict(row)) for name, row in given.items()}


def _input(name: str, row: Inputs) -> Estimate:
    value, sources = row.pop("value"), {}
    if "half_width" in row:
        freedom = row.pop("freedom", math.inf)
        sources[name] = ErrorSource(row.pop("half_width") / ROOT3, freedom, "rectangular")
    if "amplitude" in row:
        sources["cycle"] = ErrorSource(row.pop("amplitude") / math.sqrt(2), shape="arcsine")
    return Estimate(value, sources | {key: ErrorSource(*pair) for key, pair in row.items()})


def end_gauge(given: Inputs, wanted: str, *more: str) -> float:
    inputs = end_gauge_inputs(given)
    [length] = propagate(end_gauge_model, {name: [estimate] for name, estimate in inputs.items()})
    factor = coverage_factor(0.99, length.freedom)
    if wanted == "share":
        return abs(length.sources[more[0]].standard)
    if wanted == "of":
        return inputs[more[0]].standard_uncertainty
    return {
        "length": length.value,
        "uncertainty": length.standard_uncertainty,
        "freedom": length.freedom,
        "coverage_factor": factor,
        "expanded": factor * length.standard_uncertainty,
        "difference_freedom": inputs["difference"].freedom_before_truncation,
    }[wanted]


def means_of_sets(columns: dict[str, list[float]]) -> dict[str, Estimate]:
    """Means of readings taken together: each set is one source that all means share (JCGM 100, 5.2.3).

    The products of its effects add up to the experimental covariance of the means, so no covariance is typed.
    """
    means = {}
    for name, column in columns.items():
        mean, count = math.fsum(column) / len(column), len(column)
        scale = math.sqrt(count * (count - 1))
        means[name] = Estimate(mean, {f"set {k}": ErrorSource((x - mean) / scale) for k, x in enumerate(column)})
    return means


def impedance_of(given: Inputs) -> dict[str, Estimate]:
    """Resistance, reactance and impedance from voltage, current and phase (JCGM 100, formula H.7)."""
    means = means_of_sets(given)
    columns = {"volt": [means["volt"]], "ampere": [means["milliampere"]], "radian": [means["radian"]]}
    models: dict[str, Callable[..., Any]] = {
        "resistance": lambda volt, ampere, radian: 1000 * volt / ampere * np.cos(radian),
        "reactance": lambda volt, ampere, radian: 1000 * volt / ampere * np.sin(radian),
        "impedance": lambda volt, ampere, radian: 1000 * volt / ampere,
    }
    return {name: propagate(model, columns)[0] for name, model in models.items()}


def impedance(given: Inputs, wanted: str, *names: str) -> float:
    if wanted == "of_each_set":
        volt, ampere, radian = (np.array(given[name]) for name in ("volt", "milliampere", "radian"))
        each = 1000 * volt / ampere * np.sin(radian)
        return means_of_sets({names[0]: list(each)})[names[0]].standard_uncertainty
    found = impedance_of(given)
    if wanted == "correlation":
        return correlation(found[names[0]], found[names[1]])
    return found[names[0]].value if wanted == "value" else found[names[0]].standard_uncertainty


def thermometer(given: Inputs, wanted: str) -> float:
    """A straight line by least squares (JCGM 100, H.3): every observation is one source that both results share."""
    away = np.array(given["read"]) - given["reference"]
    observed = np.array(given["correction"])
    design = np.column_stack([np.ones_like(away), away])
    weights = np.linalg.pinv(design)
    left = observed - design @ (weights @ observed)
    residual = math.sqrt(float(left @ left) / (len(observed) - 2))
    columns = {f"b{k}": [Estimate(b, {f"b{k}": ErrorSource(residual)})] for k, b in enumerate(observed)}
    [intercept], [slope] = (
        propagate(lambda row=row, **b: sum(w * column for w, column in zip(row, b.values(), strict=True)), columns)
        for row in weights
    )
    return {
        "intercept": intercept.value,
        "intercept_uncertainty": intercept.standard_uncertainty,
        "slope": slope.value,
        "slope_uncertainty": slope.standard_uncertainty,
        "correlation": correlation(intercept, slope),
        "residual": residual,
    }[wanted]


def student(given: Inputs) -> float:
    return coverage_factor(given["probability"], given["freedom"])


def trapezoid(half_width: float, inexact: float) -> ErrorSource:
    standard = math.sqrt(half_width**2 / 3 + inexact**2 / 9)
    return ErrorSource(standard, shape="trapezoid", inexact=inexact / half_width)


def end_gauge_lengths(given: Inputs) -> Array:
    """Drawn lengths less 50 mm, sorted."""
    low, high = given["expansion"]
    differences = {
        f"difference {k}": ErrorSource(scale, freedom, "student")
        for k, (scale, freedom) in enumerate(given["difference_sources"])
    }
    value, scale, freedom = given["standard"]
    warmth = {
        "bed": ErrorSource(given["temperature"][1]),
        "cycle": ErrorSource(given["cycle_amplitude"] / math.sqrt(2), shape="arcsine"),
    }
    inputs = {
        "standard": Estimate(value, {"calibration": ErrorSource(scale, freedom, "student")}),
        "difference": Estimate(given["difference"], differences),
        "expansion": Estimate(
            (low + high) / 2, {"expansion": ErrorSource((high - low) / 2 / ROOT3, shape="rectangular")}
        ),
        "temperature": Estimate(given["temperature"][0], warmth),
        "expansion_difference": Estimate(0.0, {"expansion difference": trapezoid(*given["expansion_difference"])}),
        "temperature_difference": Estimate(
            0.0, {"temperature difference": trapezoid(*given["temperature_difference"])}
        ),
    }
    drawn = draw(
        {name: [estimate] for name, estimate in inputs.items()},
        generator=np.random.default_rng(given["seed"]),
        draws=given["draws"],
    )
    return np.sort(end_gauge_model(**drawn)[:, 0] - 50_000_000)


def error_of_quantile(ordered: Array, probability: float) -> float:
    """Standard error of a quantile of draws: root of p(1-p)/n over the density, the density by counting nearby."""
    count = len(ordered)
    near = 10 * round(math.sqrt(count) / 10)
    middle = min(max(round(probability * count), near), count - near - 1)
    density = 2 * near / count / (ordered[middle + near] - ordered[middle - near])
    return math.sqrt(probability * (1 - probability) / count) / float(density)


def end_gauge_draws(given: Inputs, wanted: str) -> Computed:
    lengths = end_gauge_lengths(given)
    count = len(lengths)
    if wanted == "mean":
        return float(lengths.mean()), 0.0
    if wanted == "uncertainty":
        return float(lengths.std(ddof=1)), 0.0
    held = math.floor(0.99 * count)
    begin = int(np.argmin(lengths[held:] - lengths[:-held]))
    at = begin if wanted == "low" else begin + held
    return float(lengths[at]), error_of_quantile(lengths, at / count)


def four_rectangular(given: Inputs, wanted: str) -> Computed:
    sources = {f"source {k}": ErrorSource(1.0, shape="rectangular") for k in range(4)}
    drawn = draw(
        {"sum": [Estimate(0.0, sources)]}, generator=np.random.default_rng(given["seed"]), draws=given["draws"]
    )
    sizes = np.sort(np.abs(drawn["sum"][:, 0]))
    probability = given["probability"]
    return float(sizes[round(probability * len(sizes))]), error_of_quantile(sizes, probability)


def expansion(given: Inputs, wanted: str) -> float:
    columns = {name: [Estimate(value, {name: ErrorSource(u)})] for name, (value, u) in given.items()}
    [found] = propagate(lambda short, cold, long, warm: (long - short) / (short * (warm - cold)), columns)
    return found.value * 1e5 if wanted == "coefficient" else found.standard_uncertainty * 1e6


def typed_in(given: Inputs, unit: str) -> float:
    typed = read_typed(given["text"], kind=None, place="")
    assert isinstance(typed, Typed)
    return in_unit(typed.si, UNITS[unit])


def plain_ratio(bore: float, stroke: float, clearance: float) -> float:
    nothing = {"chamber_area": 0.0, "skim": 0.0, "gasket_bore": bore, "gasket": 0.0, "deck": 0.0, "pockets": 0.0}
    return float(compression.ratio(bore=bore, stroke=stroke, chamber=clearance, **nothing))


def diesel_efficiency(given: Inputs) -> float:
    ratio = plain_ratio(si(given["bore"]), si(given["stroke"]), si(given["clearance"]))
    cut_off = 1 + given["cut_off"] * (ratio - 1)
    return 100 * (1 - (cut_off**1.4 - 1) / (1.4 * (cut_off - 1) * ratio**0.4))


def ratio_of_volumes(given: Inputs) -> float:
    return plain_ratio(si(given["bore"]), si(given["stroke"]), si(given["clearance"]) / given["cylinders"])


ALONG, ACROSS = (grid.ravel() for grid in np.meshgrid(np.linspace(0, 400, 5), np.linspace(0, 150, 3)))
_X, _Y = ALONG / 200 - 1, ACROSS / 75 - 1
SHAPES: dict[str, Array] = {
    "tilt": 0.001 * ALONG - 0.002 * ACROSS + 7,
    "hollow": _X**2,
    "crown": -(_X**2),
    "twist": _X * _Y,
    "saddle": _X**2 - _Y**2,
    "corner": -1.0 * ((ALONG == 0) & (ACROSS == 0)),
    "centre": -1.0 * ((ALONG == 200) & (ACROSS == 75)),
    "quarter": -1.0 * ((ALONG == 100) & (ACROSS == 75)),
}


def zone(given: Inputs, shape: str) -> float:
    return float(flatness.minimum_zone(heights=given["amount"] * SHAPES[shape], along=ALONG, across=ACROSS))


COMPUTE: dict[str, Callable[..., float | Computed]] = {
    "end_gauge": end_gauge,
    "impedance": impedance,
    "thermometer": thermometer,
    "student": student,
    "end_gauge_draws": end_gauge_draws,
    "four_rectangular": four_rectangular,
    "expansion": expansion,
    "typed": typed_in,
    "diesel_efficiency": diesel_efficiency,
    "ratio_of_volumes": ratio_of_volumes,
    "zone": zone,
    **CRANK,
    "sagging_chain": sagging_chain,
    **FASTENING,
    "overhung": overhung,
    "at_radius": at_radius,
    "second_order": second_order,
    **VALVE_TRAIN,
    **FILMS,
}
