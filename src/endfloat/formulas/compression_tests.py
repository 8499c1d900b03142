"""Compression readings compared, and what they point to; what to expect of them stands in `cranking`."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import require

Number = float | NDArray[np.float64]


def exponent_of_reading(*, reading: Number, barometer: Number, ratio: Number) -> Number:
    """Exponent that a compression reading amounts to; far below 1.2 the cylinder leaks or does not fill.

    .. math:: n = \\frac{\\ln(1 + p_g / p_a)}{\\ln r}

    Parameters
    ----------
    reading : Number
        gauge reading, :math:`p_g` [Pa]
    barometer : Number
        absolute pressure of the air, :math:`p_a` [Pa]
    ratio : Number
        volume at intake closing over volume at the top, :math:`r` [1]

    Returns
    -------
    result : Number
        exponent, :math:`n` [1]

    Raises
    ------
    OutOfRange
        If ``reading <= 0``, ``barometer <= 0`` or ``ratio <= 1``.

    Notes
    -----
    Assumes: full filling and no hose volume.
    No published value: the inverse of `cranking.cranking_pressure`.

    References
    ----------
    .. [1] derived, polytropic compression.

    Examples
    --------
    >>> round(float(exponent_of_reading(reading=12.9e5, barometer=101353.0, ratio=7.5)), 3)
    1.3
    """
    require("reading", reading, "Pa", above=0, source="derived")
    require("barometer", barometer, "Pa", above=0, source="derived")
    require("ratio", ratio, "1", above=1, source="derived")
    exponent: Number = np.log1p(reading / barometer) / np.log(ratio)
    return exponent


def shares_of_best(*, readings: Number) -> Number:
    """Readings of one engine as shares of the best cylinder; books ask for 0.70 or 0.75 of it at least.

    The spread between cylinders says more than any absolute reading.

    .. math:: s_i = \\frac{p_i}{\\max_j p_j}

    Parameters
    ----------
    readings : Number
        gauge readings, cylinders along the last axis, :math:`p_i` [Pa]

    Returns
    -------
    result : Number
        share of the best reading, cylinder by cylinder, :math:`s_i` [1]

    Raises
    ------
    OutOfRange
        If ``readings <= 0``.

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] definition.
    .. [2] practice, the least share differs from book to book.

    Examples
    --------
    >>> shares_of_best(readings=np.array([12.0e5, 11.4e5, 9.0e5, 12.0e5])).tolist()
    [1.0, 0.95, 0.75, 1.0]
    """
    require("readings", readings, "Pa", above=0)
    shares: Number = readings / np.max(readings, axis=-1, keepdims=True)
    return shares


def oil_gain(*, dry: Number, wet: Number) -> Number:
    """Gain of a compression reading by a spoon of oil: a large one points to rings and bore, a small one to valves.

    Oil takes up volume too: at a ratio of 9 a chamber of 50 cm3 with 5 cm3 of oil reads some 14 % more for that alone.

    .. math:: g = \\frac{p_w - p_d}{p_d}

    Parameters
    ----------
    dry : Number
        gauge reading of the dry cylinder, :math:`p_d` [Pa]
    wet : Number
        gauge reading after a spoon of oil, :math:`p_w` [Pa]

    Returns
    -------
    result : Number
        gain, :math:`g` [1]

    Raises
    ------
    OutOfRange
        If ``dry <= 0`` or ``wet <= 0``.

    Notes
    -----
    No published value: an identity.

    References
    ----------
    .. [1] definition.
    .. [2] practice, what it points to.

    Examples
    --------
    >>> round(oil_gain(dry=9.0e5, wet=11.7e5), 2)
    0.3
    """
    require("dry", dry, "Pa", above=0)
    require("wet", wet, "Pa", above=0)
    return (wet - dry) / dry
