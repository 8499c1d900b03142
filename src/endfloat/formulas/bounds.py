"""Refuse what a formula does not hold for; arrays are told element by element."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.errors import OutOfRange

Number = float | NDArray[np.float64]


def require(
    name: str,
    value: Number,
    unit: str,
    *,
    above: Number | None = None,
    at_least: Number | None = None,
    below: Number | None = None,
    at_most: Number | None = None,
    source: str = "definition",
) -> None:
    """Raise OutOfRange unless every element lies within the bounds; a NaN lies in none. `source` is a key.

    A bound may be an array, such as the stroke for a drop of the piston: it is told where the first bad element is.
    """
    good = np.isfinite(value)
    for bound, holds in ((above, np.greater), (at_least, np.greater_equal), (below, np.less), (at_most, np.less_equal)):
        if bound is not None:
            good = good & holds(value, bound)
    if np.all(good):
        return
    bad = ~np.asarray(good)
    words = [
        f"{word} {_first(bound, bad):g}"
        for word, bound in (("above", above), ("at least", at_least), ("below", below), ("at most", at_most))
        if bound is not None
    ]
    refuse(name, value, bad, unit, " and ".join(words) or "a finite number", source=source)


def refuse(name: str, value: Number, bad: NDArray[np.bool_], unit: str, expected: str, *, source: str) -> None:
    """Raise OutOfRange with the first bad element and the mask of all; `expected` is in SI, `unit` its unit."""
    raise OutOfRange(name=name, value=_first(value, bad), expected=expected, unit=unit, source=source, bad=bad)


def _first(value: Number, bad: NDArray[np.bool_]) -> float:
    """The value where the first bad element is."""
    shown = np.broadcast_to(np.asarray(value), bad.shape)[bad] if bad.ndim else np.asarray(value)
    return float(np.ravel(shown)[0])
