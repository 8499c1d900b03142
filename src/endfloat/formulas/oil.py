"""Viscosity of engine oil, what temperature does to it, and its viscosity index."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from endfloat.formulas.bounds import refuse, require

Number = float | NDArray[np.float64]
_SQUARE_MILLIMETRE = 1e-6
"""The charts and the index are made for mm²/s."""
_THINNEST = 2e-6
"""Below this the short form of the chart equation and the index do not hold."""

# From where on, then the three coefficients of L and of H (quadratic, linear, constant), all in mm²/s.
_INDEX = """
2.0  1.14673   1.7576   -0.109  0.84155  1.5521   -0.077
3.8  3.38095 -15.4952   33.196  0.78571  1.7929   -0.183
4.4  2.5000   -7.2143   13.812  0.82143  1.5679    0.119
5.0  0.10100  16.6350  -45.469  0.04985  9.1613  -18.557
6.4  3.35714 -23.5643   78.466  0.22619  7.7369  -16.656
7.0  0.01191  21.4750  -72.870  0.79762 -0.7321   14.610
7.7  0.41858  16.1558  -56.040  0.05794 10.5156  -28.240
9.0  0.88779   7.5527  -16.600  0.26665  6.7015  -10.810
12   0.76720  10.7972  -38.180  0.20073  8.4658  -22.490
15   0.97305   5.3135   -2.200  0.28889  5.9741   -4.930
18   0.97256   5.2500   -0.980  0.24504  7.4160  -16.730
22   0.91413   7.4759  -21.820  0.20323  9.1267  -34.230
28   0.87031   9.7157  -50.770  0.18411 10.1015  -46.750
40   0.84703  12.6752 -133.310  0.17029 11.4866  -80.620
55   0.85921  11.1009  -83.190  0.17130 11.3680  -76.940
70   0.83531  14.6731 -216.246  0.16841 11.8493  -96.947
"""


class ChartLine(NamedTuple):
    """The straight line of an oil on the viscosity chart."""

    height: Number
    slope: Number


class Basis(NamedTuple):
    """Two oils of the same viscosity at 100 °C, of index 0 and 100, at 40 °C."""

    poor: Number
    good: Number


def chart_line(
    *, first_temperature: Number, first_viscosity: Number, second_temperature: Number, second_viscosity: Number
) -> ChartLine:
    """Line of an oil on the viscosity chart, from its viscosity at two temperatures.

    .. math:: \\log \\log (\\nu + 0.7) = A - B \\log T

    with the viscosity in mm²/s and common logarithms.

    Parameters
    ----------
    first_temperature : Number
        one temperature, usually 40 °C, :math:`T_1` [K]
    first_viscosity : Number
        kinematic viscosity there, :math:`\\nu_1` [m2/s]
    second_temperature : Number
        another temperature, usually 100 °C, :math:`T_2` [K]
    second_viscosity : Number
        kinematic viscosity there, :math:`\\nu_2` [m2/s]

    Returns
    -------
    height : Number
        height of the line, :math:`A` [1]
    slope : Number
        slope of the line, :math:`B` [1]

    Raises
    ------
    OutOfRange
        If ``first_temperature <= 0``, ``second_temperature <= 0``, ``first_viscosity < 2e-6`` or
        ``second_viscosity < 2e-6``; if both temperatures are the same.

    Notes
    -----
    Valid for: viscosities from 2 mm²/s, above the point where wax forms, oils that shear does not thin.

    References
    ----------
    .. [1] astm-d341, the chart equation for 2 mm²/s and above.

    Examples
    --------
    >>> oil = dict(first_temperature=313.0, first_viscosity=32e-6, second_temperature=373.0, second_viscosity=5.4e-6)
    >>> [round(value, 4) for value in chart_line(**oil)]
    [9.5259, 3.7449]
    """
    require("first_temperature", first_temperature, "K", above=0, source="astm-d341")
    require("second_temperature", second_temperature, "K", above=0, source="astm-d341")
    require("first_viscosity", first_viscosity, "m2/s", at_least=_THINNEST, source="astm-d341")
    require("second_viscosity", second_viscosity, "m2/s", at_least=_THINNEST, source="astm-d341")
    apart = np.log10(second_temperature) - np.log10(first_temperature)
    if np.any(apart == 0):
        refuse(
            "second_temperature",
            second_temperature,
            np.asarray(apart == 0),
            "K",
            "another than the first",
            source="astm-d341",
        )
    slope = (_double_log(first_viscosity) - _double_log(second_viscosity)) / apart
    return ChartLine(_double_log(first_viscosity) + slope * np.log10(first_temperature), slope)


def kinematic_viscosity(
    *,
    temperature: Number,
    first_temperature: Number,
    first_viscosity: Number,
    second_temperature: Number,
    second_viscosity: Number,
) -> Number:
    """Kinematic viscosity of an oil at any temperature from two of its data sheet.

    Use it for the film temperature of a bearing, or to compare two oils cold.

    .. math:: \\nu = 10^{10^{A - B \\log T}} - 0.7

    Parameters
    ----------
    temperature : Number
        temperature asked for, :math:`T` [K]
    first_temperature : Number
        one temperature, usually 40 °C, :math:`T_1` [K]
    first_viscosity : Number
        kinematic viscosity there, :math:`\\nu_1` [m2/s]
    second_temperature : Number
        another temperature, usually 100 °C, :math:`T_2` [K]
    second_viscosity : Number
        kinematic viscosity there, :math:`\\nu_2` [m2/s]

    Returns
    -------
    result : Number
        kinematic viscosity, :math:`\\nu` [m2/s]

    Raises
    ------
    OutOfRange
        If ``temperature <= 0``, ``first_temperature <= 0``, ``second_temperature <= 0``,
        ``first_viscosity < 2e-6`` or ``second_viscosity < 2e-6``; where the oil would be thinner than 2 mm²/s.

    Notes
    -----
    Valid for: 2 mm²/s and thicker, above the point where wax forms.
    Assumes: no shear; a multigrade oil in a bearing is thinner (`sheared_viscosity`).

    References
    ----------
    .. [1] astm-d341, the chart equation for 2 mm²/s and above.

    Examples
    --------
    >>> oil = dict(first_temperature=313.0, first_viscosity=32e-6, second_temperature=373.0, second_viscosity=5.4e-6)
    >>> round(kinematic_viscosity(temperature=353.0, **oil) * 1e6, 2)
    8.53
    """
    require("temperature", temperature, "K", above=0, source="astm-d341")
    line = chart_line(
        first_temperature=first_temperature,
        first_viscosity=first_viscosity,
        second_temperature=second_temperature,
        second_viscosity=second_viscosity,
    )
    found = (10**10 ** (line.height - line.slope * np.log10(temperature)) - 0.7) * _SQUARE_MILLIMETRE
    # A part in 1e9 lets the two given points back through.
    thin = np.asarray(~(found >= _THINNEST * (1 - 1e-9)))
    if np.any(thin):
        refuse("temperature", temperature, thin, "K", "where the oil has 2 mm²/s or more", source="astm-d341")
    return found


def temperature_of_viscosity(
    *,
    viscosity: Number,
    first_temperature: Number,
    first_viscosity: Number,
    second_temperature: Number,
    second_viscosity: Number,
) -> Number:
    """Temperature at which an oil has a given kinematic viscosity.

    Use it to see how warm a thicker oil must be to flow like the one the book asks for.

    .. math:: T = 10^{(A - \\log \\log (\\nu + 0.7)) / B}

    Parameters
    ----------
    viscosity : Number
        kinematic viscosity asked for, :math:`\\nu` [m2/s]
    first_temperature : Number
        one temperature, usually 40 °C, :math:`T_1` [K]
    first_viscosity : Number
        kinematic viscosity there, :math:`\\nu_1` [m2/s]
    second_temperature : Number
        another temperature, usually 100 °C, :math:`T_2` [K]
    second_viscosity : Number
        kinematic viscosity there, another one, :math:`\\nu_2` [m2/s]

    Returns
    -------
    result : Number
        temperature, :math:`T` [K]

    Raises
    ------
    OutOfRange
        If ``viscosity < 2e-6``, ``first_temperature <= 0``, ``second_temperature <= 0``,
        ``first_viscosity < 2e-6`` or ``second_viscosity < 2e-6``; if both viscosities are the same.

    Notes
    -----
    Valid for: 2 mm²/s and thicker, above the point where wax forms.
    No published value: the inverse of `kinematic_viscosity`; the two are tested against each other.

    References
    ----------
    .. [1] astm-d341, the chart equation for 2 mm²/s and above.

    Examples
    --------
    >>> oil = dict(first_temperature=313.15, first_viscosity=63e-6, second_temperature=373.15, second_viscosity=10.8e-6)
    >>> round(temperature_of_viscosity(viscosity=20e-6, **oil) - 273.15, 1)
    74.4
    """
    require("viscosity", viscosity, "m2/s", at_least=_THINNEST, source="astm-d341")
    line = chart_line(
        first_temperature=first_temperature,
        first_viscosity=first_viscosity,
        second_temperature=second_temperature,
        second_viscosity=second_viscosity,
    )
    level = np.asarray(line.slope == 0)
    if np.any(level):
        refuse("second_viscosity", second_viscosity, level, "m2/s", "another than the first", source="astm-d341")
    return 10 ** ((line.height - _double_log(viscosity)) / line.slope)


def index_basis(*, viscosity_100: Number) -> Basis:
    """What oils of index 0 and 100 have at 40 °C, for a viscosity at 100 °C.

    Parameters
    ----------
    viscosity_100 : Number
        kinematic viscosity at 100 °C, :math:`Y` [m2/s]

    Returns
    -------
    poor : Number
        at 40 °C, of the oil with index 0, :math:`L` [m2/s]
    good : Number
        at 40 °C, of the oil with index 100, :math:`H` [m2/s]

    Raises
    ------
    OutOfRange
        If ``viscosity_100 < 2e-6``.

    Notes
    -----
    Differs from source: below 70 mm²/s the standard reads a table; these are its own equations for computers, within
        0.1 % of the table.
    Accuracy: coefficients from memory, compared with a copy of the table in the middle of every row.

    References
    ----------
    .. [1] astm-d2270, appendix X2, table X2.1.

    Examples
    --------
    >>> [round(value * 1e6, 2) for value in index_basis(viscosity_100=8.86e-6)]
    [119.96, 69.48]
    """
    require("viscosity_100", viscosity_100, "m2/s", at_least=_THINNEST, source="astm-d2270")
    table = _index_table()
    thick = np.asarray(viscosity_100) / _SQUARE_MILLIMETRE
    row = table[np.maximum(np.searchsorted(table[:, 0], thick * (1 + 1e-12), side="right") - 1, 0)]
    poor = (row[..., 1] * thick + row[..., 2]) * thick + row[..., 3]
    good = (row[..., 4] * thick + row[..., 5]) * thick + row[..., 6]
    return Basis(poor * _SQUARE_MILLIMETRE, good * _SQUARE_MILLIMETRE)


def viscosity_index(*, viscosity_40: Number, viscosity_100: Number) -> Number:
    """Viscosity index: how little an oil thins as it warms; the more the less.

    Use it to tell oils of one grade apart.

    .. math:: VI = 100 \\frac{L - U}{L - H} \\;(U \\ge H), \\qquad
              VI = 100 + \\frac{10^N - 1}{0.00715}, \\; N = \\frac{\\log H - \\log U}{\\log Y}

    Parameters
    ----------
    viscosity_40 : Number
        kinematic viscosity at 40 °C, :math:`U` [m2/s]
    viscosity_100 : Number
        kinematic viscosity at 100 °C, :math:`Y` [m2/s]

    Returns
    -------
    result : Number
        index, not rounded [1]

    Raises
    ------
    OutOfRange
        If ``viscosity_100 < 2e-6`` or ``viscosity_40 < 2e-6``; if it is thicker warm than cold.

    Notes
    -----
    Valid for: 2 mm²/s and thicker at 100 °C. The standard reports whole numbers.

    References
    ----------
    .. [1] astm-d2270, 5.2, and appendix X2.

    Examples
    --------
    >>> round(viscosity_index(viscosity_40=73.30e-6, viscosity_100=8.86e-6))
    92
    """
    require("viscosity_40", viscosity_40, "m2/s", at_least=_THINNEST, source="astm-d2270")
    basis = index_basis(viscosity_100=viscosity_100)
    inverted = np.asarray(np.asarray(viscosity_40) < np.asarray(viscosity_100))
    if np.any(inverted):
        refuse("viscosity_40", viscosity_40, inverted, "m2/s", "no less than viscosity_100", source="astm-d2270")
    power = np.log(basis.good / viscosity_40) / np.log(np.asarray(viscosity_100) / _SQUARE_MILLIMETRE)
    high = (10**power - 1) / 0.00715 + 100
    low = 100 * (basis.poor - viscosity_40) / (basis.poor - basis.good)
    return np.where(np.asarray(viscosity_40) >= basis.good, low, high) + 0.0


def _double_log(viscosity: Number) -> Number:
    doubled: Number = np.log10(np.log10(np.asarray(viscosity) / _SQUARE_MILLIMETRE + 0.7))
    return doubled


@cache
def _index_table() -> NDArray[np.float64]:
    return np.array([[float(word) for word in line.split()] for line in _INDEX.strip().splitlines()])
