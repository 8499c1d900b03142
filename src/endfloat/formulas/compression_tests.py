"""Compression readings: brought to one air pressure, compared, and what to expect."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import refuse, require

Number = float | NDArray[np.float64]

_SEA_LEVEL = 101325.0
_SEA_LEVEL_TEMPERATURE = 288.15
_LAPSE = 0.0065
# Standard gravity over the gas constant of air and the lapse rate.
_POWER = 9.80665 / (287.05287 * _LAPSE)


def standard_pressure(*, altitude: Number) -> Number:
    """Air pressure of the standard atmosphere at a height, for want of a barometer.

    Weather moves the true pressure by some 3 % either way; a barometer that shows sea-level pressure misleads.

    .. math:: p = p_0 \\left(1 - \\frac{L h}{T_0}\\right)^{g / (R L)}

    Parameters
    ----------
    altitude : Number
        height above sea level, :math:`h` [m]

    Returns
    -------
    result : Number
        absolute air pressure, :math:`p` [Pa]

    Raises
    ------
    OutOfRange
        If ``altitude < -500`` or ``altitude > 11000``.

    Notes
    -----
    Valid for: the lowest 11 km.

    References
    ----------
    .. [1] us-standard-atmosphere-1976, its lowest layer.

    Examples
    --------
    >>> round(float(standard_pressure(altitude=1500.0)), -1)
    84560.0
    """
    require("altitude", altitude, "m", at_least=-500, at_most=11000, source="us-standard-atmosphere-1976")
    pressure: Number = _SEA_LEVEL * (1 - _LAPSE * altitude / _SEA_LEVEL_TEMPERATURE) ** _POWER
    return pressure


def compression_at_other_pressure(*, reading: Number, barometer: Number, reference: Number) -> Number:
    """Compression reading brought to another air pressure, as from a hill to the sea level of a book.

    Show both; never move a limit. Air temperature drops out of an ideal compression, and no published factor for it was
    found: none is offered.

    .. math:: p_g' = p_g \\frac{p_r}{p_a}

    Parameters
    ----------
    reading : Number
        gauge reading of the compression tester, :math:`p_g` [Pa]
    barometer : Number
        absolute pressure of the air at the test, :math:`p_a` [Pa]
    reference : Number
        absolute pressure of the air to which it is brought, :math:`p_r` [Pa]

    Returns
    -------
    result : Number
        gauge reading there, :math:`p_g'` [Pa]

    Raises
    ------
    OutOfRange
        If ``reading < 0``, ``barometer <= 0`` or ``reference <= 0``.

    Notes
    -----
    Assumes: the same pressure ratio, so the same engine, cranking speed, warmth and open throttle.

    References
    ----------
    .. [1] snowtech-altitude, absolute pressures in proportion.

    Examples
    --------
    >>> round(compression_at_other_pressure(reading=120.0, barometer=14.696, reference=12.228))
    100
    """
    require("reading", reading, "Pa", at_least=0, source="snowtech-altitude")
    require("barometer", barometer, "Pa", above=0, source="snowtech-altitude")
    require("reference", reference, "Pa", above=0, source="snowtech-altitude")
    return reading * reference / barometer


def cranking_pressure(
    *,
    closing_volume: Number,
    clearance_volume: Number,
    hose_volume: Number,
    filling: Number,
    exponent: Number,
    barometer: Number,
) -> Number:
    """Pressure that a compression tester should show while the starter turns the engine.

    For the shift that a skim, a hose or a cam makes, and to compare cylinders; the figure itself is good to 10 or 20 %.

    .. math:: p_g = p_a \\left(\\eta \\left(\\frac{V_c + V_h}{V_0 + V_h}\\right)^n - 1\\right)

    Parameters
    ----------
    closing_volume : Number
        cylinder volume at which the intake valve closes on its seat, :math:`V_c` [m3]
    clearance_volume : Number
        volume at top dead centre, :math:`V_0` [m3]
    hose_volume : Number
        volume of tester and hose up to its check valve, :math:`V_h` [m3]
    filling : Number
        share of the air pressure that is in the cylinder then, 0.9 to 1, :math:`\\eta` [1]
    exponent : Number
        exponent of the compression, 1.2 to 1.35, :math:`n` [1]
    barometer : Number
        absolute pressure of the air, :math:`p_a` [Pa]

    Returns
    -------
    result : Number
        gauge pressure, :math:`p_g` [Pa]

    Raises
    ------
    OutOfRange
        If ``closing_volume <= 0``, ``clearance_volume <= 0``, ``hose_volume < 0``, ``filling <= 0``, ``filling > 1.2``,
        ``exponent < 1``, ``exponent > 1.67`` or ``barometer <= 0``, or if the closing volume is not above the clearance
        volume.

    Notes
    -----
    Assumes: the hose is full of air at the pressure of the cylinder on every stroke.
    Accuracy: 0.05 in the exponent is 12 % of the pressure; leakage and cranking speed come on top.

    References
    ----------
    .. [1] compression-ratio-article, exponent 1.3 and the worked figure.
    .. [2] memory, range of the exponent and of the filling.

    Examples
    --------
    >>> volumes = dict(closing_volume=450e-6, clearance_volume=60e-6, hose_volume=0.0, filling=1.0)
    >>> round(float(cranking_pressure(exponent=1.3, barometer=101353.0, **volumes)) / 1e5, 2)
    12.9
    """
    require("closing_volume", closing_volume, "m3", above=0, source="compression-ratio-article")
    require("clearance_volume", clearance_volume, "m3", above=0, source="compression-ratio-article")
    require("hose_volume", hose_volume, "m3", at_least=0, source="compression-ratio-article")
    require("filling", filling, "1", above=0, at_most=1.2, source="compression-ratio-article")
    require("exponent", exponent, "1", at_least=1, at_most=1.67, source="compression-ratio-article")
    require("barometer", barometer, "Pa", above=0, source="compression-ratio-article")
    _require_larger("closing_volume", closing_volume, clearance_volume)
    ratio = (closing_volume + hose_volume) / (clearance_volume + hose_volume)
    pressure: Number = barometer * (filling * ratio**exponent - 1)
    return pressure


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
    No published value: the inverse of `cranking_pressure`.

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


def ratio_of_two_pressures(
    *, early_pressure: Number, late_pressure: Number, early_share: Number, late_share: Number, exponent: Number
) -> Number:
    """Compression ratio from two pressures on one compression stroke, without measuring a volume.

    .. math:: q = \\left(\\frac{p_2}{p_1}\\right)^{1/n},\\quad r = 1 + \\frac{q - 1}{(1 - a_1) - q (1 - a_2)}

    Parameters
    ----------
    early_pressure : Number
        absolute pressure early in the compression stroke, :math:`p_1` [Pa]
    late_pressure : Number
        absolute pressure later in the same stroke, :math:`p_2` [Pa]
    early_share : Number
        share of the stroke travelled at the first, :math:`a_1` [1]
    late_share : Number
        share of the stroke travelled at the second, :math:`a_2` [1]
    exponent : Number
        exponent of the compression, :math:`n` [1]

    Returns
    -------
    result : Number
        compression ratio, :math:`r` [1]

    Raises
    ------
    OutOfRange
        If ``early_pressure <= 0``, ``late_pressure <= 0``, ``early_share < 0``, ``early_share >= 1``,
        ``late_share <= 0``, ``late_share > 1``, ``exponent < 1`` or ``exponent > 1.67``, or if the later pressure or
        share is not the larger, or the pressures rise more than any volume lets them.

    Notes
    -----
    Assumes: no leakage between the two; shares are of the swept volume.

    References
    ----------
    .. [1] rajput-engines, the polytropic relation of its example.

    Examples
    --------
    >>> shares = dict(early_share=0.25, late_share=0.75)
    >>> round(float(ratio_of_two_pressures(early_pressure=1.4e5, late_pressure=3.6e5, exponent=1.3, **shares)), 2)
    5.58
    """
    require("early_pressure", early_pressure, "Pa", above=0, source="rajput-engines")
    require("late_pressure", late_pressure, "Pa", above=0, source="rajput-engines")
    require("early_share", early_share, "1", at_least=0, below=1, source="rajput-engines")
    require("late_share", late_share, "1", above=0, at_most=1, source="rajput-engines")
    require("exponent", exponent, "1", at_least=1, at_most=1.67, source="rajput-engines")
    _require_larger("late_pressure", late_pressure, early_pressure, "Pa", "rajput-engines")
    _require_larger("late_share", late_share, early_share, "1", "rajput-engines")
    volumes = (late_pressure / early_pressure) ** (1 / exponent)
    left = (1 - early_share) - volumes * (1 - late_share)
    impossible = np.asarray(np.less_equal(left, 0))
    if np.any(impossible):
        most = float(np.min(early_pressure * ((1 - early_share) / np.maximum(1 - late_share, 1e-12)) ** exponent))
        refuse("late_pressure", late_pressure, impossible, "Pa", f"below {most:g}", source="rajput-engines")
    ratio: Number = 1 + (volumes - 1) / left
    return ratio


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


def _require_larger(
    name: str, value: Number, least: Number, unit: str = "m3", source: str = "compression-ratio-article"
) -> None:
    small = np.asarray(np.less_equal(value, least))
    if np.any(small):
        bound = float(np.ravel(np.broadcast_to(least, small.shape)[small])[0])
        refuse(name, value, small, unit, f"above {bound:g}", source=source)
